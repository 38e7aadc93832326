import { expect, test } from 'vitest';
import { featureFacts } from '../../src/dating/feature-shelf.ts';

const facts = featureFacts();

test('traits are customs of the trade, from memory, with a window each', () => {
  expect(facts.length).toBeGreaterThan(70);
  for (const { force, fromMemory, window, weight } of facts) {
    expect(force).toBe('usual');
    expect(fromMemory).toBe(true);
    expect(window).toMatch(/^(?:\.\.|\d{4}~?)\/(?:\.\.|\d{4}~?)$/);
    expect(['strong', 'moderate', 'weak']).toContain(weight);
  }
});

test('a trait as the shelf has it', () =>
  expect(facts.find(({ name }) => name === 'screw-hand')).toMatchObject({
    window: '1675~/1830~',
    weight: 'moderate',
    confidence: 'medium',
    note: 'Often faked.',
  }));
