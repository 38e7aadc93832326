import { describe, expect, test } from 'vitest';
import { searchesOf } from '../../src/inquiry/searches.ts';
import { addTo, type Line, ledgerOf, listed, listOf, removeLedgersAfterEach } from './made-up-ledger.ts';

removeLedgersAfterEach();

const nil = (year: number, person: string): Line => ({
  type: 'search',
  edition: `al-${year}`,
  person,
  outcome: 'not found',
});
const sweep = (year: number, surname: string): Line => ({
  type: 'search',
  edition: `al-${year}`,
  surname,
  outcome: 'all taken',
});

const LINES: readonly Line[] = [
  ...listOf(1840, 1832, 1834, 1836, 1838, 1842),
  ...listed('ferrand', 'Julian Ferrand', 'Captain', 1834, 1838),
  ...listed('brome', 'Nathaniel Brome', 'Lieut.', 1834, 1836),
  nil(1832, 'ferrand'),
  nil(1836, 'ferrand'),
  nil(1840, 'ferrand'),
  sweep(1842, 'Brome'),
];
const ALL = { people: [], limit: 10 };

/** Cells of a person as "label state reading". */
const told = (lines: readonly Line[], person: string): string[] => {
  const { editions, people } = searchesOf(ledgerOf(...lines), undefined, { people: [person], limit: 10 });
  return (people[0]?.cells ?? []).map(({ state, reading }, at) =>
    [editions[at]?.label, state, ...(reading === null ? [] : [reading])].join(' '),
  );
};

describe('editions and people of a series', () => {
  test('editions by their days, whatever the order of recording', () => {
    const { editions, series } = searchesOf(ledgerOf(...LINES), 'Coast Survey', ALL);
    expect(editions.map(({ label }) => label)).toEqual(['1832', '1834', '1836', '1838', '1840', '1842']);
    expect(series).toMatchObject({ id: 's1', key: 'al', service: 'army' });
  });

  test('listed, not found before and after, left out by the printer, not looked at', () =>
    expect(told(LINES, 'ferrand')).toEqual([
      '1832 not found before',
      '1834 listed',
      '1836 not found printer',
      '1838 listed',
      '1840 not found after',
      '1842 not looked',
    ]));

  test('a sweep of the surname shows who is not there', () =>
    expect(told(LINES, 'brome')).toEqual([
      '1832 not looked',
      '1834 listed',
      '1836 listed',
      '1838 not looked',
      '1840 not looked',
      '1842 swept',
    ]));

  test('a gap in the service between two posts', () => {
    const lines = [
      ...listOf(1832, 1834, 1836),
      ...listed('holt', 'Anne Holt', 'Lieut.', 1832),
      {
        type: 'entry',
        edition: 'al-1836',
        person: 'holt',
        name: 'Anne Holt',
        rank: 'Captain',
        corps: '5th Rangers',
      } as const,
      nil(1834, 'holt'),
    ];
    expect(told(lines, 'holt')).toEqual(['1832 listed', '1834 not found between', '1836 listed']);
    const [person] = searchesOf(ledgerOf(...lines), undefined, ALL).people;
    expect(person?.cells[1]).toMatchObject({
      ids: ['q1'],
      between: ['p1.1', 'p1.2'],
      says: 'a gap in the service, between Lieutenant, 2nd Fencibles and Captain, 5th Rangers',
    });
  });

  test('listed where a search did not find the name', () =>
    expect(told([...LINES, nil(1834, 'ferrand')], 'ferrand')[1]).toBe('1834 listed printer'));

  test('what the researcher set aside', () => {
    const db = ledgerOf(...LINES);
    addTo(db, [{ type: 'setAside', record: 'q2', why: 'the wrong volume' }]);
    const [person] = searchesOf(db, undefined, { people: ['ferrand'], limit: 1 }).people;
    expect(person?.cells[2]).toMatchObject({
      reading: 'set aside',
      says: 'set aside by the researcher: the wrong volume',
    });
  });

  test('records found to be one person are one row', () => {
    const db = ledgerOf(...LINES, ...listed('other', 'J. Ferrand', 'Captain', 1842), {
      type: 'same',
      person: 'ferrand',
      other: 'other',
      why: 'same corps',
    });
    const { people } = searchesOf(db, undefined, ALL);
    expect(people.map(({ person }) => person.id)).toEqual(['p1', 'p2']);
    expect(people[0]?.cells[5]?.state).toBe('listed');
  });

  test('those looked for first, the rest counted', () => {
    const db = ledgerOf(...LINES, ...listed('holt', 'Anne Holt', 'Lieut.', 1832), nil(1834, 'holt'));
    const { people, peopleBeyond } = searchesOf(db, undefined, { people: [], limit: 2 });
    expect(people.map(({ person }) => person.id)).toEqual(['p1', 'p3']);
    expect(peopleBeyond).toBe(1);
    expect(people[0]).toMatchObject({ listed: 2, notFound: 3, notLooked: 1 });
  });
});

test('which series is meant', () => {
  const two = [...LINES, { type: 'series', name: 'Harbour List', service: 'navy' } as const];
  expect(() => searchesOf(ledgerOf(...two), undefined, ALL)).toThrow('Of which series?');
  expect(searchesOf(ledgerOf(...two), 'Harbour', ALL)).toMatchObject({ editions: [], people: [] });
  expect(() => searchesOf(ledgerOf(), undefined, ALL)).toThrow('no series');
});
