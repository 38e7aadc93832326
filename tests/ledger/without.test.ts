import { describe, expect, test } from 'vitest';
import { standAsOf } from '../../src/ledger/as-of.ts';
import type { Db } from '../../src/ledger/open.ts';
import { standWithout } from '../../src/ledger/without.ts';
import {
  addTo,
  type Line,
  ledgerOf,
  listed,
  listOf,
  removeLedgersAfterEach,
  slope,
} from '../inquiry/made-up-ledger.ts';

removeLedgersAfterEach();

const LINES: readonly Line[] = [
  ...listOf(1834, 1836),
  ...listed('ferrand', 'Julian Ferrand', 'Captain', 1834, 1836),
  ...listed('holt', 'Anne Holt', 'Lieut.', 1834),
  {
    type: 'notice',
    person: 'ferrand',
    event: 'promoted',
    date: '1833',
    rank: 'Captain',
    vice: 'holt',
    source: 'Gazette',
  },
  { type: 'search', edition: 'al-1836', person: 'holt', outcome: 'not found' },
  { type: 'search', edition: 'al-1836', surname: 'Holt', outcome: 'all taken' },
  { type: 'kin', person: 'ferrand', relation: 'spouse', relative: 'holt' },
  slope(),
  { type: 'mark', key: 'm-a', object: 'slope', text: 'FERRAND', role: 'owner' },
  { type: 'mark', key: 'm-b', object: 'slope', text: 'HOLT', role: 'owner', over: 'm-a' },
  { type: 'setAside', record: 'e3', why: 'slid a line' },
];

const ids = (db: Db, table: string): number[] =>
  db
    .prepare(`SELECT ${table === 'entry' ? 'coalesce(id, row)' : 'id'} FROM current_${table} ORDER BY 1`)
    .pluck()
    .all() as number[];

describe('the ledger without some records', () => {
  test.each<[rule: string, without: string[], expected: Record<string, number[]>]>([
    ['an entry, and its setting aside', ['e3'], { entry: [1, 2], set_aside: [] }],
    ['an edition with its entries and searches', ['ed2'], { edition: [1], entry: [1, 3], search: [] }],
    [
      'a person with what is said of them alone',
      ['p2'],
      { person: [1], notice: [1], kin: [], search: [2], entry: [1, 2, 3] },
    ],
    ['a mark with nothing else', ['m1'], { mark: [2] }],
    ['a series with all that stands in it', ['s1'], { series: [], edition: [], entry: [], search: [], notice: [1] }],
    ['an object with its marks', ['o1'], { object: [], mark: [] }],
    ['two at once', ['e1', 'n1'], { entry: [2, 3], notice: [] }],
  ])('%s', (_rule, without, expected) => {
    const db = ledgerOf(...LINES);
    standWithout(db, without);
    for (const [table, left] of Object.entries(expected)) expect([table, ids(db, table)]).toEqual([table, left]);
  });

  test('what names one by the way names nobody', () => {
    const db = ledgerOf(...LINES);
    standWithout(db, ['p2', 'm1']);
    expect(db.prepare('SELECT vice_id FROM current_notice').pluck().get()).toBeNull();
    expect(db.prepare('SELECT over_id FROM current_mark').pluck().get()).toBeNull();
    expect(db.prepare('SELECT count(*) FROM bearer WHERE person_id IS NULL').pluck().get()).toBe(1);
  });

  test('what goes with it is named', () => {
    expect(standWithout(ledgerOf(...LINES), ['p2']).sort()).toEqual(['k1', 'p2', 'q1']);
  });

  test('in the past too', () => {
    const db = ledgerOf(...LINES);
    addTo(db, listed('brome', 'N. Brome', 'Captain', 1834));
    standAsOf(db, 1);
    standWithout(db, ['e1']);
    expect(ids(db, 'entry')).toEqual([2, 3]);
    expect(ids(db, 'person')).toEqual([1, 2]);
  });

  test('the file is as it was, for another connection and when it is asked again', () => {
    const db = ledgerOf(...LINES);
    const before = db.prepare('SELECT count(*) FROM main.current_entry').pluck().get();
    standWithout(db, ['e1', 'e2', 'e3']);
    expect(ids(db, 'entry')).toEqual([]);
    expect(db.prepare('SELECT count(*) FROM main.current_entry').pluck().get()).toBe(before);
  });
});
