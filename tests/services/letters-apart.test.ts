import { expect, test } from 'vitest';
import { lettersApart } from '../../src/services/letters-apart.ts';

test.each<[what: string, a: string, b: string, letters: number]>([
  ['the same', 'captain', 'captain', 0],
  ['one left out', 'fencbles', 'fencibles', 1],
  ['two changed about', 'leiut', 'lieut', 1],
  ['one changed', 'brigadeer', 'brigadier', 1],
  ['nothing in common', 'abc', '', 3],
])('%s', (_what, a, b, letters) => {
  expect(lettersApart(a, b)).toBe(letters);
  expect(lettersApart(b, a)).toBe(letters);
});
