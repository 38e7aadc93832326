import { expect, test } from 'vitest';
import { nearness, nearSurnames } from '../../../src/careers/linkage/near-surnames.ts';

const names = [
  'ferrand',
  'ferand',
  'ferrond',
  'ferraud',
  'fernand',
  'holt',
  'hol',
  'bolt',
  'frerand',
  'ferrand-holt',
  'mchenry',
  'm henry',
  "m'henry",
  'machenry',
  'de lacy',
  'lacy',
  'zouch',
  '',
];
const near = nearSurnames(names);
const between = (a: string, b: string): number => nearness(near, names.indexOf(a), names.indexOf(b));

test.each<[a: string, b: string, level: number]>([
  ['ferrand', 'ferand', 1], // a letter doubled
  ['ferrand', 'ferrond', 1], // look-alikes
  ['ferrand', 'ferraud', 1],
  ['holt', 'bolt', 1],
  ['ferrand', 'fernand', 1],
  ['holt', 'hol', 2], // a letter missing
  ['ferrand', 'frerand', 2], // letters that changed places
  ["m'henry", 'machenry', 1], // one prefix, written differently
  ["m'henry", 'mchenry', 1],
  ['de lacy', 'lacy', 1], // a particle left out
  ['ferrand', 'ferrand-holt', 0], // another name
  ['ferrand', 'zouch', 0],
])('%s and %s: %i', (a, b, level) => {
  expect(between(a, b)).toBe(level);
  expect(between(b, a)).toBe(level);
});

test('each row is in the table of the other', () => {
  for (const a of names.keys())
    for (let row = near.first[a] ?? 0; row < (near.first[a + 1] ?? 0); row++)
      expect(nearness(near, near.other[row] ?? -1, a)).toBe(near.level[row]);
});
