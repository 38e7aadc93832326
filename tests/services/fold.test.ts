import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fold } from '../../src/services/fold.ts';

test.each([
  ['case', 'FERRAND', 'ferrand'],
  ['accents, composed', 'Zoë Müller', 'zoe muller'],
  ['accents, as combining marks', 'Zoe\u0308', 'zoe'],
  ['long s', 'Miſſion', 'mission'],
  ['ligatures of two letters', 'Æneas Œuvre Weiß', 'aeneas oeuvre weiss'],
  ['ligatures of the type case', 'ﬁﬄe', 'fiffle'],
  ['letters with a stroke', 'Søren Łukasz', 'soren lukasz'],
  ['superscript letters', 'Capᵗ Lieuᵗ 1ˢᵗ Qʳ Mʳ', 'capt lieut 1st qr mr'],
  ['a letter above another', 'yͤ', 'ye'],
  ['superscript figures', '2²', '22'],
  ['everything else stays', 'Lieut.-Col. [J.] O’Ferr..d', 'lieut.-col. [j.] o’ferr..d'],
  ['nothing', '', ''],
])('fold: %s', (_rule, text, expected) => expect(fold(text)).toBe(expected));

test('fold: a folded text folds to itself', () =>
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (text) => {
      expect(fold(fold(text))).toBe(fold(text));
    }),
    { seed: 20_240, numRuns: 2000 },
  ));
