import { describe, expect, test } from 'vitest';
import { readMark } from '../../src/names/mark-parts.ts';
import { plainMark } from '../../src/names/mark-plain.ts';
import { shippedLadder } from '../../src/services/ladder.ts';

const army = shippedLadder('army');
const read = (text: string) => {
  const { surname, forenames, rest, reading } = readMark(text, { ladders: army === undefined ? [] : [army] });
  return { surname, forenames, rest, text: reading.text };
};

describe('what stands beside a name and names nobody', () => {
  test.each<[text: string, forenames: string | undefined, surname: string | undefined, rest: string[]]>([
    ['[crest: a lion rampant] J. Holt', 'J.', 'Holt', ['[crest: a lion rampant]']],
    ['J. Holt (arms of the borough)', 'J.', 'Holt', ['(arms of the borough)']],
    ['[engraved monogram]', undefined, undefined, ['[engraved monogram]']],
    ['Mr. & Mrs. J. Holt', 'J.', 'Holt', ['& Mrs.']],
    ['Capt. J. and Lady Holt', 'J.', 'Holt', ['and Lady']],
    ['E. & W.T.', 'E.', 'T[---]', ['& W.']],
    ['J. & M. H.', 'J.', 'H[---]', ['& M.']],
    ['J. & M. & R. Holt', 'J.', 'Holt', ['& M. & R.']],
  ])('%s', (text, forenames, surname, rest) => expect(read(text)).toEqual({ forenames, surname, rest, text }));
});

describe('letters set apart are one word', () => {
  test.each<[text: string, forenames: string | undefined, surname: string]>([
    ['F E R R A N D', undefined, 'FERRAND'],
    ['J. H o l t', 'J.', 'Holt'],
    ['Lieut. F E R R A N D', undefined, 'FERRAND'],
    // Fewer capitals can be the initials of one person.
    ['J H F', 'J. H.', 'F[---]'],
    ['J. P. F.', 'J. P.', 'F[---]'],
  ])('%s', (text, forenames, surname) => expect(read(text)).toMatchObject({ forenames, surname }));
});

test.each(['O’D.', "J. O'D.", 'J. McT.', 'J. Fitz G'])('a prefix and the first letter of the surname: %s', (text) =>
  expect(read(text).surname).toMatch(/^(?:O[’']D|McT|Fitz G)\[---\]$/),
);

test.each(['Lieut. J. Ferr[..]d', 'Holt & Son', 'J. Holt and A. Rask', '[abc] Holt', 'A. & B. Ferrand (1834)'])(
  'nothing is taken out of %s',
  (text) => expect(plainMark(text)).toEqual({ text, beside: [] }),
);

test('what is left keeps its place', () => {
  const { text } = plainMark('[crest: a lion] J. H o l t');
  expect(text.indexOf('J.')).toBe(16);
  expect(text).toHaveLength('[crest: a lion] J. H o l t'.length);
});
