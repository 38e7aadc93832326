import { beforeAll, describe, expect, test } from 'vitest';
import { findWords } from '../../src/inquiry/find.ts';
import { besideEntry } from '../../src/inquiry/find-beside.ts';
import { recordShown } from '../../src/inquiry/records.ts';
import type { Db } from '../../src/ledger/open.ts';
import { undoAct } from '../../src/ledger/undo.ts';
import { inOneAct, newLedger } from '../ledger/new-ledger.ts';
import { addTo, type Line, listed, listOf, slope } from './made-up-ledger.ts';

const RECORDS: readonly Line[] = [
  ...listOf(1832, 1834, 1836, 1838),
  ...listed('f', 'Julian Peter Ferrand', 'Lieut.', 1832, 1834, 1838),
  ...listed('h', 'Ralph Holt', 'Captain', 1834),
  { type: 'entry', edition: 'al-1834', name: 'J. Ferrard', rank: 'Ensign', corps: 'Harbour Artillery', page: '213' },
  { type: 'name', person: 'h', name: 'Ralph Holt-Ferrand', from: '1840' },
  slope(),
  {
    type: 'mark',
    key: 'm',
    object: 'slope',
    text: 'Lieut. J. Ferr[..]d',
    role: 'owner',
    where: 'underside of the flap',
  },
  { type: 'notice', person: 'f', event: 'promoted', date: '1839', rank: 'Captain', source: 'Oakhaven Gazette' },
];

describe('find', () => {
  let db: Db;
  beforeAll(() => {
    db = newLedger();
    addTo(db, RECORDS);
  });
  const found = (words: string): string[] => findWords(db, words, 50).results.map(({ id }) => id);

  test.each<[rule: string, words: string, ...ids: string[]]>([
    ['a name as it is written', 'Ferrand', 'p1', 'nm1', 'n1', 'e1', 'e2', 'e3'],
    ['letters doubled, missing or changed about', 'ferand', 'p1'],
    ['a letter that looks alike', 'Ferrond', 'p1'],
    ['a damaged reading', 'Ferr[..]d', 'p1', 'e5'],
    ['several words in any order', 'peter ferrand julian', 'p1'],
    ['a forename that stands as an initial', 'julian ferrard', 'e5'],
    ['an object', 'writing slope', 'o1'],
    ['its reference', '214', 'o1'],
    ['where a mark is', 'underside', 'm1'],
    ['the beginning of a word', 'oakh', 'n1'],
    ['a word of a notice with a name', 'gazette ferrand', 'n1'],
    ['lines of an edition', 'holt 1834', 'e4'],
    ['a page', 'ferrard 213', 'e5'],
    ['an id', 'e4', 'e4'],
    ['a forename alone', 'ralph', 'p2'],
  ])('%s: %s', (_rule, words, ...ids) =>
    expect(found(words).slice(0, Math.max(ids.length, 6))).toEqual(expect.arrayContaining(ids)),
  );

  test('the nearest come first', () => {
    expect(found('Ferrand')[0]).toBe('p1');
    expect(found('Ferrard')[0]).toBe('e5');
    const bits = findWords(db, 'ferand', 50).results.map((each) => each.bits);
    expect(bits).toEqual([...bits].sort((a, b) => a - b));
    expect(bits[0]).toBeGreaterThan(0);
  });
  test('a forename in full that is misspelt comes before an initial', () => {
    const other = newLedger();
    addTo(other, [
      ...listOf(1834),
      { type: 'entry', edition: 'al-1834', name: 'J. P. Ferrand', rank: 'Ensign' },
      { type: 'person', name: 'Julian Peter Ferrand' },
    ]);
    expect(findWords(other, 'julien ferand', 50).results.map(({ id }) => id)).toEqual(['p1', 'e1']);
    other.close();
  });
  test.each(['zzzz', 'quill', '999', ''])('nothing: %j', (words) => expect(found(words)).toEqual([]));
  test('every word has to be there', () => expect(found('ferrand 1755')).toEqual([]));
  test('a short word has to be as it is written', () => expect(found('hot')).toEqual([]));
  test('no more than asked for are told, and how many there are', () => {
    const { total, results } = findWords(db, 'Ferrand', 2);
    expect([results.length, total > 2]).toEqual([2, true]);
  });
});

describe('what stands beside an entry', () => {
  test('the lines before and after it, and those of the same person in the nearest editions', () => {
    const db = newLedger();
    addTo(db, RECORDS);
    expect(besideEntry(db, 2)).toEqual([
      { how: 'after', row: 4 },
      { how: 'one edition earlier', row: 1 },
      { how: 'one edition later', row: 3 },
    ]);
    expect(besideEntry(db, 4)).toEqual([
      { how: 'before', row: 2 },
      { how: 'after', row: 5 },
    ]);
    expect(
      recordShown(db, 'e2').neighbours.map(({ title, items }) => [title, ...items.map((item) => item.split(',')[0])]),
    ).toEqual([
      ['In the edition', 'after: e4  Ralph Holt'],
      [
        'The same person',
        'one edition earlier: e1  Julian Peter Ferrand',
        'one edition later: e3  Julian Peter Ferrand',
      ],
    ]);
  });
  test('a line that was taken back is passed over, one that was corrected is not', () => {
    const db = newLedger();
    addTo(db, RECORDS);
    addTo(db, [{ type: 'entry', edition: 'al-1834', name: 'A. Quill', rank: 'Ensign' }]);
    addTo(db, [{ type: 'entry', edition: 'al-1834', name: 'B. Quill', rank: 'Ensign' }]);
    inOneAct(db, ({ act: opened }) => undoAct(db, opened, 2), 2);
    expect(besideEntry(db, 5)).toEqual([
      { how: 'before', row: 4 },
      { how: 'after', row: 7 },
    ]);
  });
  test('whose a later decision made it', () => {
    const db = newLedger();
    addTo(db, [...RECORDS, { type: 'entry', edition: 'al-1836', name: 'J. Ferrand', rank: 'Lieut.' }]);
    addTo(db, [{ type: 'link', entry: 'e6', person: 'f' }]);
    expect(besideEntry(db, 6).map(({ how, row }) => `${how} ${row}`)).toEqual([
      'one edition earlier 2',
      'one edition later 3',
    ]);
  });
});
