import { expect, test } from 'vitest';
import { yearOfNumber } from '../../src/dating/number-series.ts';

// An independent page dates 821265 to 1937 and 10057 to 1884 (noted beside the table when it was put together).
test.each<[words: string, earliest: number | undefined, next: number | undefined]>([
  ['Rd No 10057', 1884, 1885],
  ['Regd. No. 821265', 1937, 1938],
  ['Rd No 19754', 1885, 1886],
  ['Rd No 19753', 1884, 1885],
  ['Rd No 540000', 1909, 1915],
  ['Rd No 999999', 1960, undefined],
  ['Rd No 0', undefined, undefined],
  ['Rd No', undefined, undefined],
])('%s', (words, earliest, next) => {
  expect(yearOfNumber('rd-no', words)?.earliest).toBe(earliest);
  expect(yearOfNumber('rd-no', words)?.next).toBe(next);
});

test('the first numbers of decades: U.S. Pat. No. 1,326,899 is the first of 1920', () => {
  expect(yearOfNumber('us-pat-no', 'U.S. Pat. No. 1,326,899')?.earliest).toBe(1920);
  expect(yearOfNumber('us-pat-no', 'U.S. Pat. No. 1,326,898')?.earliest).toBe(1910);
});

test('a fact without a series has no year', () => expect(yearOfNumber('vr', 'V.R. 12')).toBeUndefined());
