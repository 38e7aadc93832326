import { expect, test } from 'vitest';
import { takeForeignRank, takeGiver, takeListedRank } from '../../src/names/mark-bystanders.ts';
import { type MarkWord, markText } from '../../src/names/mark-text.ts';
import { shippedLadder } from '../../src/services/ladder.ts';

const army = ['army'].flatMap((service) => shippedLadder(service) ?? []);
const restOf = (text: string, take: (words: readonly MarkWord[]) => void): string => {
  const { words } = markText(text);
  take(words);
  return words.flatMap((word) => (word.part === 'rest' ? [word.text] : [])).join(' ');
};

test.each([
  ['who gave it', 'From Col. Tate to Lieut. Hume', 'From Col. Tate to'],
  ['nobody to whom', 'From Col. Tate', ''],
  ['a name', 'Frome to Bath', ''],
])('a giver: %s', (_what, text, rest) => expect(restOf(text, takeGiver)).toBe(rest));

test.each([
  ['below the ladders', 'Colour Serjt. Tate', 'Colour Serjt.'],
  ['two words, of which one is a rank', 'Sergt. Majr. Tate', 'Sergt. Majr.'],
  ['of another tongue', 'M. le Capitaine Dubois', 'Capitaine'],
  ['one that the ladder has', 'Lieut. Tate', ''],
])('a rank of no ladder at hand: %s', (_what, text, rest) =>
  expect(restOf(text, (words) => takeListedRank(words, army))).toBe(rest),
);

test.each([
  ['before the name', 'Canon Tate', 'Canon'],
  ['behind titles', 'The Revd. Canon Tate', 'Canon'],
  ['alone behind the name', 'Sir J. Tate, Governor', 'Governor'],
  ['a forename', 'Julian Tate', ''],
  ['a surname alone', 'Judge', ''],
])('a rank of a service that is not recorded: %s', (_what, text, rest) =>
  expect(restOf(text, takeForeignRank)).toBe(rest),
);
