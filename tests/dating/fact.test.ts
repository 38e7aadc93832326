import { expect, test } from 'vitest';
import { sourceOf, weightBy } from '../../src/dating/fact.ts';

test.each<[source: string, fromMemory: boolean, expected: string]>([
  ['Order in Council 1804', false, 'Order in Council 1804'],
  ['Order in Council 1804', true, 'Order in Council 1804 (from memory)'],
  ['common practice, from memory', true, 'common practice, from memory'],
])('the source of %s, from memory: %s', (source, fromMemory, expected) =>
  expect(sourceOf({ source, fromMemory })).toBe(expected),
);

test('a custom of low confidence weighs little', () => {
  expect(weightBy('low')).toBe('weak');
  expect(weightBy('medium')).toBe('moderate');
  expect(weightBy('high')).toBe('moderate');
});
