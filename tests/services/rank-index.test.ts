import { expect, test } from 'vitest';
import { customLadder } from '../../src/services/ladder.ts';
import { matchesOf, nearestTitles } from '../../src/services/rank-index.ts';
import { keyOf } from '../../src/services/rank-words.ts';

const wardens = customLadder('wardens', [
  { title: 'Captain Warden', order: 2, abbreviations: ['C.W.', 'Head Warden'] },
  { title: 'Warden', order: 1, abbreviations: ['W.'] },
]);
const matches = (text: string) =>
  matchesOf(keyOf(text), wardens).map(({ definition, exact, columnOnly, initials }) => ({
    id: definition.rank.id,
    exact,
    columnOnly,
    initials,
  }));

test.each([
  [
    'the title in full is exact',
    'Captain Warden',
    [{ id: 'captain-warden', exact: true, columnOnly: false, initials: false }],
  ],
  [
    'an abbreviated title is not',
    'Capt. Warden',
    [{ id: 'captain-warden', exact: false, columnOnly: false, initials: false }],
  ],
  [
    'another wording is not',
    'Head Warden',
    [{ id: 'captain-warden', exact: false, columnOnly: false, initials: false }],
  ],
  ['initials', 'C.W.', [{ id: 'captain-warden', exact: false, columnOnly: false, initials: true }]],
  ['one letter is for columns', 'W.', [{ id: 'warden', exact: false, columnOnly: true, initials: true }]],
  ['nothing', 'Reeve', []],
])('matchesOf: %s', (_rule, text, expected) => expect(matches(text)).toEqual(expected));

test.each([
  ['nearest first', 'Captain Wardn', ['Captain Warden']],
  ['a rank among other words', 'Warden of the Fens', ['Warden']],
  ['nothing near', 'Bailiff', []],
  ['initials are never near', 'C', []],
])('nearestTitles: %s', (_rule, text, expected) => expect(nearestTitles(text, [wardens])).toEqual(expected));
