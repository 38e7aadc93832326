import { describe, expect, test } from 'vitest';
import { entriesOfPeople } from '../../src/ledger/entries.ts';
import { addTo, type Line, ledgerOf, listed, listOf, removeLedgersAfterEach } from '../inquiry/made-up-ledger.ts';

removeLedgersAfterEach();

const loose = (year: number, name: string): Line => ({ type: 'entry', edition: `al-${year}`, name, rank: 'Captain' });
const link = (entry: string, person: string | undefined): Line => ({
  type: 'link',
  entry,
  ...(person === undefined ? {} : { person }),
  why: 'decided',
});
const LINES: readonly Line[] = [
  ...listOf(1834, 1836, 1838),
  ...listed('ferrand', 'Julian Ferrand', 'Captain', 1834, 1836),
  ...listed('holt', 'Anne Holt', 'Captain', 1834),
  loose(1838, 'J. Ferrand'),
  loose(1838, 'J. Farrand'),
];

const borne = (lines: readonly Line[], ...people: number[]): string[] => {
  const db = ledgerOf(...LINES);
  for (const line of lines) addTo(db, [line]);
  return entriesOfPeople(db, people).map(({ id, row, bearer }) => `e${id ?? row} p${bearer}`);
};

describe('entries that later decisions gave to people', () => {
  test.each<[rule: string, links: readonly Line[], people: number[], expected: readonly string[]]>([
    ['none', [], [1, 2], ['e1 p1', 'e2 p1', 'e3 p2']],
    ['one of their own surname', [link('e4', 'p1')], [1], ['e1 p1', 'e2 p1', 'e4 p1']],
    ['one of another surname, under which they had none', [link('e5', 'p1')], [1], ['e1 p1', 'e2 p1', 'e5 p1']],
    ['one that was somebody else’s', [link('e3', 'p1')], [1, 2], ['e1 p1', 'e2 p1', 'e3 p1']],
    ['one that was taken away', [link('e2', undefined)], [1], ['e1 p1']],
    ['the latest decision counts', [link('e4', 'p1'), link('e4', 'p2')], [1, 2], ['e1 p1', 'e2 p1', 'e3 p2', 'e4 p2']],
    ['given and taken away again', [link('e4', 'p1'), link('e4', undefined)], [1], ['e1 p1', 'e2 p1']],
  ])('%s', (_rule, links, people, expected) => expect(borne(links, ...people)).toEqual(expected));

  test('a corrected entry is still the one that was given', () => {
    const db = ledgerOf(...LINES, link('e4', 'p1'));
    expect(entriesOfPeople(db, [1]).map(({ row }) => row)).toEqual([1, 2, 4]);
  });
});
