import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  hasLetter,
  hasSmall,
  isCapital,
  isSmall,
  keyOf,
  startsWithCapital,
  startsWithLetter,
  startsWithWord,
} from '../../src/names/characters.ts';

test('characters: letters, figures and the rest, as Unicode has them', () =>
  fc.assert(
    fc.property(fc.string({ maxLength: 3, unit: 'binary' }), (text) => {
      expect(startsWithLetter(text)).toBe(/^\p{L}/u.test(text));
      expect(startsWithWord(text)).toBe(/^[\p{L}\p{N}]/u.test(text));
      expect(hasLetter(text)).toBe(/\p{L}/u.test(text));
    }),
    { numRuns: 3000, seed: 51 },
  ));

test('characters: capitals and small letters', () => {
  expect([...'AzÉéЖж1ß.ſ'].map((char) => (isCapital(char) ? 'C' : isSmall(char) ? 's' : '-')).join('')).toBe(
    'CsCsCs-s-s',
  );
  expect(['Holt', 'holt', ''].map(startsWithCapital)).toEqual([true, false, false]);
  expect(['HOLT', 'Holt', '12.'].map(hasSmall)).toEqual([false, true, false]);
});

test.each([
  ['Lieut.', 'lieut'],
  ['O’Brien', 'obrien'],
  ['2nd', '2nd'],
  ['Wᵐ', 'wm'],
  ['&', ''],
])('keyOf: %s', (word, key) => expect(keyOf(word)).toBe(key));
