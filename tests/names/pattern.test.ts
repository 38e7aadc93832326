import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import {
  foldName,
  isDamaged,
  limitBits,
  patternFrom,
  printPattern,
  seenLetters,
  visibleLetters,
} from '../../src/names/pattern.ts';

test.each<[reading: string, visible: number, seen: number, limit: number, damaged: boolean]>([
  ['Ferrand', 7, 7, 20, false],
  ['Ferr[..]d', 5, 5, 15, true],
  ['Fe_r_rand', 6, 7, 20, true],
  ['Ferr[and]', 4, 4, 12, true],
  ['[---]', 0, 0, 0, true],
  ['_F[---]', 0.5, 1, 3, true],
  ["de l'Holt", 7, 7, 20, false],
])('pattern of %s: %d visible, %d seen, limit %d bits', (reading, visible, seen, limit, damaged) => {
  const pattern = patternFrom(reading);
  expect(visibleLetters(pattern)).toBe(visible);
  expect(seenLetters(pattern)).toBe(seen);
  expect(limitBits(pattern, DEFAULTS)).toBe(limit);
  expect(isDamaged(pattern)).toBe(damaged);
});

test.each<[name: string, folded: string]>([
  ['Ferrand-Holt', 'ferrand-holt'],
  ['FERRAND', 'ferrand'],
  ['De La Tour', 'de la tour'],
  ['St.John', 'st john'],
  ['O’ Brien', "o'brien"],
  ['M‘Donald', "m'donald"],
  ['Ferrand – Holt', 'ferrand-holt'],
  [' Æsc-Roſſ. ', 'aesc-ross'],
  ["'Holt'", 'holt'],
  ['', ''],
])('foldName: %s', (name, folded) => expect(foldName(name)).toBe(folded));

test('foldName: an undamaged name folds to what its pattern prints', () =>
  fc.assert(
    fc.property(fc.string({ minLength: 1, maxLength: 12, unit: fc.constantFrom(...'abcÉßſ -’.,Ω') }), (rest) => {
      expect(printPattern(patternFrom(`a${rest}`))).toBe(foldName(`a${rest}`));
    }),
    { numRuns: 1000, seed: 22 },
  ));
