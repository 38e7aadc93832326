import { expect, test } from 'vitest';
import { romanValue } from '../../src/time/roman.ts';

test.each<[numeral: string, value: number]>([
  ['i', 1],
  ['iv', 4],
  ['iiii', 4],
  ['viij', 8],
  ['ix', 9],
  ['xl', 40],
  ['xcix', 99],
  ['mdcccxxxiv', 1834],
  ['mdcccc', 1900],
  ['mcm', 1900],
])('%s is %i', (numeral, value) => expect(romanValue(numeral)).toBe(value));

test.each(['', 'may', 'iix', 'vx', 'c1', 'mid'])('“%s” is no numeral', (word) =>
  expect(romanValue(word)).toBeUndefined(),
);
