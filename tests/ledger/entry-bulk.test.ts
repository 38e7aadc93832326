import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addEntries, entriesOfPeople, entryById, type NewEntry, pageCell } from '../../src/ledger/entries.ts';
import { addEntriesInBulk, type EntryColumns, knownEntries } from '../../src/ledger/entry-bulk.ts';
import { APPOINTMENT_KINDS, kindNamed } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import type { Recording } from '../../src/ledger/recording.ts';
import { addRecord } from '../../src/ledger/records.ts';
import { verifyLedger } from '../../src/ledger/verify.ts';
import { inOneAct, newLedger } from './new-ledger.ts';

const NAMES = ['Julian Ferrand', 'J. Ferrand', 'Ralph Holt', 'R. Holt', 'Anne Ferrand-Holt', 'Q. Zeal'];
const RANKS = ['Lieut.', 'Captain', 'Ensign'];
const CORPS = ['2nd Fencibles', 'Beacon Corps'];
const DATES = ['16 May 1833', '8 Feb. 1839'];
const PAGES = [null, ...['213', '1', 'xii', '0', '213*', '1234567890'].map(pageCell)];
const APPOINTMENTS = [null, ...APPOINTMENT_KINDS.slice(1)];

/** A row as places in those lists; 0 in the last ones is nothing. */
type Row = {
  edition: number;
  name: number;
  rank: number;
  corps: number;
  dated: number;
  page: number;
  person: number;
  kind: number;
};

const row: fc.Arbitrary<Row> = fc.record({
  edition: fc.nat(3),
  name: fc.nat(NAMES.length - 1),
  rank: fc.nat(RANKS.length - 1),
  corps: fc.nat(CORPS.length),
  dated: fc.nat(DATES.length),
  page: fc.nat(PAGES.length - 1),
  person: fc.nat(2),
  kind: fc.oneof({ arbitrary: fc.constant(0), weight: 5 }, { arbitrary: fc.nat(APPOINTMENTS.length - 1), weight: 1 }),
});

/** Act 1: a series with four editions, and two people. */
function listedLedger(): Db {
  const db = newLedger();
  inOneAct(db, (into) => {
    addRecord(into, kindNamed('series'), { name: 'Annual List', service: 'army' });
    for (const label of ['1834', '1835', '1836', '1837'])
      addRecord(into, kindNamed('edition'), { series: 's1', label, asAt: label });
    for (const name of ['Julian Ferrand', 'Ralph Holt']) addRecord(into, kindNamed('person'), { name });
  });
  return db;
}

/** The words of the lists as ids of this ledger's dictionaries, always added in the same order. */
function idsOf({ words, act }: Recording) {
  const ids = {
    names: NAMES.map((name) => words.name(name)),
    ranks: RANKS.map((rank) => words.rank('army', rank).id),
    corps: [0, ...CORPS.map((corps) => words.corps(corps))],
    dates: [0, ...DATES.map((date) => words.date(date).id)],
  };
  act.flush();
  return ids;
}

function columnsOf(into: Recording, rows: readonly Row[]): EntryColumns {
  const ids = idsOf(into);
  const column = (cell: (row: Row) => number) => Int32Array.from(rows, cell);
  return {
    count: rows.length,
    surname: column(({ name }) => ids.names[name]?.surnameId ?? 0),
    edition: column(({ edition }) => edition + 1),
    name: column(({ name }) => ids.names[name]?.id ?? 0),
    rank: column(({ rank }) => ids.ranks[rank] ?? 0),
    corps: column(({ corps }) => ids.corps[corps] ?? 0),
    dated: column(({ dated }) => ids.dates[dated] ?? 0),
    page: column(({ page }) => page),
    pages: PAGES,
    person: column(({ person }) => person),
    appointment: column(({ kind }) => kind),
    appointments: APPOINTMENTS,
  };
}

const inBulk = (into: Recording, rows: readonly Row[]) => addEntriesInBulk(into.db, into.act, columnsOf(into, rows));

function oneByOne(into: Recording, rows: readonly Row[]): number {
  const c = columnsOf(into, rows);
  const some = (column: Int32Array, index: number) => column[index] || null;
  const entries = rows.map(
    (_, i): NewEntry => ({
      surname_id: c.surname[i] ?? 0,
      edition_id: c.edition[i] ?? 0,
      name_id: c.name[i] ?? 0,
      rank_id: c.rank[i] ?? 0,
      corps_id: some(c.corps, i),
      dated_id: some(c.dated, i),
      page: PAGES[c.page[i] ?? 0] ?? null,
      person_id: some(c.person, i),
      appointment: APPOINTMENTS[c.appointment[i] ?? 0] ?? null,
      id: null,
      key: null,
      note: null,
    }),
  );
  return addEntries(into.db, into.act, entries).length;
}

const TABLES = [
  'entry',
  'entry_run',
  'bearer_surname',
  'printed_name',
  'surname',
  'rank_style',
  'corps_style',
  'date_expression',
];
const stored = (db: Db) =>
  TABLES.map((table) =>
    db
      .prepare(`SELECT * FROM "${table}"`)
      .raw()
      .all()
      .map((cells) => JSON.stringify(cells))
      .sort(),
  );

describe('entries in bulk are those that are recorded one by one', () => {
  test('the same rows, runs and bearers, sealed with the same hash', () =>
    fc.assert(
      fc.property(
        fc.array(row, { minLength: 1, maxLength: 60 }),
        fc.array(row, { minLength: 1, maxLength: 20 }),
        (first, second) => {
          const [bulk, single] = [listedLedger(), listedLedger()];
          for (const rows of [first, second]) {
            const many = inOneAct(bulk, (into) => inBulk(into, rows));
            const one = inOneAct(single, (into) => oneByOne(into, rows));
            expect(many.result).toBe(rows.length);
            expect(many.act).toEqual(one.act);
          }
          expect(stored(bulk)).toEqual(stored(single));
          expect(verifyLedger(bulk)).toEqual([]);
          bulk.close();
          single.close();
        },
      ),
      { seed: 20_261_125, numRuns: 60 },
    ));

  test('more of them than one statement or one batch of the hash takes', () => {
    const rows = Array.from(
      { length: 9_473 },
      (_, i): Row => ({
        edition: i % 4,
        name: (i * 7) % 6,
        rank: i % 3,
        corps: i % 3,
        dated: i % 2,
        page: i % 5 === 0 ? 3 : 1,
        person: i % 3,
        kind: i % 97 === 0 ? 1 : 0,
      }),
    );
    const [bulk, single] = [listedLedger(), listedLedger()];
    expect(inOneAct(bulk, (into) => inBulk(into, rows)).act).toEqual(
      inOneAct(single, (into) => oneByOne(into, rows)).act,
    );
    expect(stored(bulk)).toEqual(stored(single));
    expect(verifyLedger(bulk)).toEqual([]);
  });

  test('numbers run in reading order within an edition, and each entry is found by its own', () => {
    const db = listedLedger();
    const rows = Array.from(
      { length: 40 },
      (_, i): Row => ({ edition: i % 4, name: i % 6, rank: 0, corps: 0, dated: 0, page: 0, person: i % 3, kind: 0 }),
    );
    const names = inOneAct(db, (into) => {
      const { name } = columnsOf(into, rows);
      inBulk(into, rows);
      return name;
    }).result;
    const inOrder = [0, 1, 2, 3].flatMap((edition) =>
      [...rows.keys()].filter((index) => rows[index]?.edition === edition),
    );
    for (const [position, index] of inOrder.entries())
      expect(entryById(db, position + 1)).toMatchObject({
        row: position + 1,
        edition_id: (index % 4) + 1,
        name_id: names[index],
      });
    expect(entryById(db, 41)).toBeUndefined();
    expect(
      entriesOfPeople(db, [1, 2])
        .map((entry) => [entry.bearer, entry.row])
        .sort(),
    ).toEqual(
      (db.prepare('SELECT person_id, row FROM entry WHERE person_id > 0').raw().all() as [number, number][]).sort(),
    );
  });
});

describe('rows that the ledger has already', () => {
  /** As many of a row as the ledger has are known, any more are new. */
  const expected = (there: readonly Row[], rows: readonly Row[]): number[] => {
    const left = new Map<string, number>();
    for (const each of there) left.set(JSON.stringify(each), (left.get(JSON.stringify(each)) ?? 0) + 1);
    return rows.map((each) => {
      const signature = JSON.stringify(each);
      const count = left.get(signature) ?? 0;
      left.set(signature, count - 1);
      return count > 0 ? 1 : 0;
    });
  };
  const plain = fc.record({
    edition: fc.nat(1),
    name: fc.nat(2),
    rank: fc.nat(1),
    corps: fc.nat(1),
    dated: fc.nat(1),
    page: fc.nat(3),
    person: fc.nat(1),
    kind: fc.nat(1),
  });

  test('are counted, alike ones too', () =>
    fc.assert(
      fc.property(fc.array(plain, { maxLength: 40 }), fc.array(plain, { maxLength: 40 }), (there, again) => {
        const db = listedLedger();
        inOneAct(db, (into) => inBulk(into, there));
        const rows = [...again, ...there.slice(0, 7)];
        const known = inOneAct(db, (into) => [
          ...knownEntries(db, columnsOf(into, rows), new Set([1, 2, 3, 4])),
        ]).result;
        expect(known).toEqual(expected(there, rows));
        db.close();
      }),
      { seed: 20_261_125, numRuns: 60 },
    ));

  test('are looked for in editions that have entries only', () => {
    const db = listedLedger();
    const rows: Row[] = [{ edition: 0, name: 0, rank: 0, corps: 0, dated: 0, page: 0, person: 0, kind: 0 }];
    inOneAct(db, (into) => inBulk(into, rows));
    expect([...inOneAct(db, (into) => knownEntries(db, columnsOf(into, rows), new Set())).result]).toEqual([0]);
  });
});
