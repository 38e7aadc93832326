import fc from 'fast-check';
import { expect, test } from 'vitest';
import { findRankInText } from '../../src/services/find-rank.ts';
import { type Ladder, shippedLadder, shippedServices } from '../../src/services/ladder.ts';

const ladders = (services: readonly string[]): Ladder[] => services.flatMap((each) => shippedLadder(each) ?? []);
const army = ladders(['army']);
const all = ladders(shippedServices());

test.each([
  ['an abbreviation', 'Lieut. J. Ferr[..]d', 'lieutenant', 'Lieut.'],
  ['no point', 'Capt J Smith 2nd Fencibles', 'captain', 'Capt'],
  ['capitals', 'CAPT. FERRAND', 'captain', 'CAPT.'],
  ['the longest wording', 'Lieut.-Col. Ferrand', 'lieutenant-colonel', 'Lieut.-Col.'],
  ['the longest wording, set wide', 'Lieut. Col: Ferrand', 'lieutenant-colonel', 'Lieut. Col:'],
  ['a double rank', 'Capt. & Lieut.-Col. Holt', 'captain-and-lieutenant-colonel', 'Capt. & Lieut.-Col.'],
  ['an ordinal', '2d Lieut. Holt', 'second-lieutenant', '2d Lieut.'],
  ['superscript', 'Capᵗ Holt', 'captain', 'Capᵗ'],
  ['superscript by a caret', 'Cap^t Holt', 'captain', 'Cap^t'],
  ['a restored letter', 'Cap[t]. Holt', 'captain', 'Cap[t].'],
  ['an expanded abbreviation', 'Lieut(enant) Holt', 'lieutenant', 'Lieut(enant)'],
  ['words before it belong to it', 'late Bt. Major Holt', 'major', 'late Bt. Major'],
  ['a lost name still follows', 'Major [---]', 'major', 'Major'],
  ['(1) an initial behind it', 'Lieut. T. Holt', 'lieutenant', 'Lieut.'],
  ['(1) an initial without a point', 'Lieut T Holt', 'lieutenant', 'Lieut'],
  ['(1) a raised letter is none', 'Lieut.t Holt', 'lieutenant', 'Lieut.t'],
  ['space before it', '  Ensign Holt', 'ensign', 'Ensign'],
])('at the head: %s', (_rule, text, id, style) => {
  const found = findRankInText(text, army);
  expect(found?.rank.id).toBe(id);
  expect(text.slice(found?.start, found?.end)).toBe(style);
});

test.each([
  ['no rank', 'J. Ferrand'],
  ['not at the head', 'Julian Ferrand, Captain'],
  ['(1) a single letter', 'C. Holt'],
  ['(1) initials', 'F.M. Holt'],
  ['(1) initials, after a rank’s sign', 'M.G. Holt'],
  ['(2) nothing follows', 'Major'],
  ['(2) only points follow', 'Major. —'],
  ['(3) joined to the next', 'Major-Holt of Oakhaven'],
  ['(4) a firm', 'Major & Co., Oakhaven'],
  ['(4) brothers', 'Major Brothers, Oakhaven'],
  ['(5) cut off by a lost letter', 'Cap[.] Holt'],
  ['part of a longer word', 'Captains Row'],
  ['nothing', ''],
])('none: %s', (_rule, text) => expect(findRankInText(text, army)).toBeUndefined());

test('every ladder’s rank of that style is given', () =>
  expect(findRankInText('Capt. Holt', all)?.ranks.map(({ service }) => service)).toEqual([
    'army',
    'navy',
    'marines',
    'company',
    'company-marine',
    'militia',
    'us-army',
    'us-navy',
  ]));

test('no ladder, no rank', () => expect(findRankInText('Capt. Holt', [])).toBeUndefined());

test('what is found lies in the text, and more text follows', () =>
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom('Capt.', 'Lieut', '-', ' ', 'Col.', '[', ']', '&', 'Holt', 'J.', '2d', '(', 'ſ'), {
        maxLength: 9,
      }),
      (parts) => {
        const text = parts.join('');
        const found = findRankInText(text, army);
        if (found !== undefined) {
          expect(found.start).toBeLessThan(found.end);
          expect(found.end).toBeLessThan(text.length);
          expect(text.slice(0, found.start)).not.toMatch(/\p{L}/u);
        }
      },
    ),
    { seed: 5, numRuns: 1000 },
  ));
