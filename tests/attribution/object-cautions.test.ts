import { expect, test } from 'vitest';
import data from '../../src/attribution/object-cautions.json' with { type: 'json' };
import { objectCautions } from '../../src/attribution/object-cautions.ts';

test('the opinion is always said, the others where they hold, in the order of the file', () => {
  expect(objectCautions({}).map(({ id }) => id)).toEqual(['opinion']);
  const all = Object.fromEntries(data.cautions.map(({ id }) => [id, true]));
  expect(objectCautions(all)).toEqual(data.cautions.map(({ id, text }) => ({ id, text })));
  expect(objectCautions({ gaps: true, custody: true }).map(({ id }) => id)).toEqual(['opinion', 'custody', 'gaps']);
});

test('every caution is a sentence of its own', () => {
  expect(new Set(data.cautions.map(({ id }) => id)).size).toBe(data.cautions.length);
  for (const { text } of data.cautions) expect(text).toMatch(/^[A-Z].*\.$/);
});
