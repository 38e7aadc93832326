import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { rebuildDerived } from '../../src/ledger/derived.ts';
import { CHECKED, checksOf, previousHash, RowDigest, sealOf } from '../../src/ledger/journal.ts';
import type { KindName } from '../../src/ledger/kind.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import type { Draft } from '../../src/ledger/recording.ts';
import { addRecord, amendRecord, withdrawRecord } from '../../src/ledger/records.ts';
import { undoAct } from '../../src/ledger/undo.ts';
import { verifyLedger } from '../../src/ledger/verify.ts';
import { inOneAct, newLedger } from './new-ledger.ts';

const RECORDS: readonly (readonly [KindName, Draft])[] = [
  ['service', { name: 'lighthouses' }],
  ['rank', { service: 'lighthouses', title: 'Principal Keeper', order: 20, abbreviations: ['Princ. Kpr.'] }],
  ['corps', { name: '2nd Fencibles', from: '1801' }],
  ['series', { name: 'Annual List of the Coast Survey', service: 'army', lagDays: 60 }],
  ['edition', { series: 's1', label: '1834', asAt: '1 Jan. 1834' }],
  ['person', { name: 'Julian Peter Ferrand', born: '1812', places: ['Oakhaven'] }],
  ['person', { name: 'Anne Ferrand' }],
  ['name', { person: 'p1', name: 'Julian Ferrand-Holt', from: '1851' }],
  ['same', { person: 'p1', other: 'p2', why: 'tried' }],
  ['differ', { person: 'p1', other: 'p2', why: 'tried' }],
  ['kin', { person: 'p1', relation: 'parent', relative: 'p2' }],
  [
    'entry',
    {
      edition: 'ed1',
      person: 'p1',
      name: 'J. P. Ferrand',
      rank: 'Lieut.',
      corps: '2nd Fencibles',
      dated: '16 May 1833',
      page: 'xii',
      note: 'on leave',
    },
  ],
  ['entry', { edition: 'ed1', name: 'Ralph Holt', rank: 'Ensign', page: '213' }],
  ['link', { entry: 'e2', person: 'p1', why: 'tried' }],
  ['search', { edition: 'ed1', surname: 'Holt', outcome: 'all taken', found: '1' }],
  ['notice', { person: 'p1', event: 'promoted', date: '8 Feb. 1839', rank: 'Captain', source: 'Gazette' }],
  ['condition', { rank: 'Captain', service: 'army', atLeastDays: '730' }],
  ['object', { ref: '214', title: 'Brass-bound writing slope' }],
  ['feature', { object: 'o1', text: 'hand-filed screws', window: '../1850' }],
  ['mark', { object: 'o1', text: 'Lieut. J. Ferr[..]d', role: 'owner' }],
  ['reading', { mark: 'm1', text: 'Lieut. J. Ferrond' }],
  ['photo', { of: 'm1', file: 'flap.jpg' }],
  ['attribution', { mark: 'm1', person: 'p1', grade: 'probably', why: 'the only one' }],
  ['assumption', { name: 'circa', value: '5', why: 'house rule' }],
  ['setAside', { record: 'e2', why: 'slid a line' }],
  ['clue', { mark: 'm1', text: 'Lieut.', window: '1790/1850', why: 'tried' }],
  ['fact', { name: 'screws', text: 'hand-filed screws', window: '../1850' }],
];

/** Act 1 holds one record of every kind; then come a correction, a withdrawal, and an undo of it. */
function recordAll(): Db {
  const db = newLedger();
  inOneAct(db, (into) => {
    for (const [kind, draft] of RECORDS) addRecord(into, kindNamed(kind), draft);
    into.act.insert('source_file', { row: 1, name: 'list.csv', sha256: 'ab', options: '{}' });
  });
  inOneAct(db, (into) => amendRecord(into, kindNamed('entry'), 1, { page: '214' }, 'misread'));
  inOneAct(db, (into) => withdrawRecord(into, kindNamed('reading'), 1, 'of another mark'));
  inOneAct(db, ({ act }) => undoAct(db, act, 3), 3);
  return db;
}

const FULL = recordAll().serialize();
const fullLedger = (): Db => new Database(FULL);

/** Somebody who is not stopped by triggers. */
function tamper(db: Db, sql: string): void {
  db.pragma('foreign_keys = OFF');
  for (const name of db.prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger'").pluck().all() as string[])
    db.exec(`DROP TRIGGER "${name}"`);
  expect(db.prepare(sql).run().changes, sql).toBeGreaterThan(0);
}

const accused = (db: Db): string =>
  verifyLedger(db)
    .map(({ where, what }) => `${where}: ${what}`)
    .join('; ');

test('a ledger that nobody touched is sound', () => expect(verifyLedger(fullLedger())).toEqual([]));

describe('a change that somebody made to the rows of an act is found at that act', () => {
  const db = fullLedger();
  const tables = db
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")
    .pluck()
    .all() as string[];
  const journal = ['act', 'seal'];
  const rebuilt = ['surname_index', 'bearer_surname']; // made again from the rows at any time
  const rows = tables.filter((table) => ![...journal, ...rebuilt].includes(table));

  test('every table that an act writes has a row here', () => {
    for (const table of rows)
      expect(db.prepare(`SELECT count(*) FROM "${table}"`).pluck().get(), table).toBeGreaterThan(0);
  });

  test.each(rows.map((table) => [table]))('%s: a cell, a row less, a row more', (table) => {
    const columns = db.prepare(`SELECT name, type, pk FROM pragma_table_info('${table}')`).all() as {
      name: string;
      type: string;
      pk: number;
    }[];
    const key = table === 'entry' || columns.some(({ name }) => name === 'row') ? 'row' : (columns[0]?.name ?? 'id');
    for (const { name, type } of columns.filter(({ name, pk }) => pk === 0 && name !== 'act_id' && name !== key)) {
      const changed = fullLedger();
      const value =
        name === 'void'
          ? '1 - void'
          : type === 'INTEGER'
            ? `ifnull("${name}", 0) + 977`
            : type === 'BLOB'
              ? `CAST("${name}" || 'x' AS BLOB)`
              : `ifnull("${name}", '') || 'x'`;
      tamper(
        changed,
        `UPDATE "${table}" SET "${name}" = ${value} WHERE "${key}" = (SELECT max("${key}") FROM "${table}" WHERE act_id = (SELECT min(act_id) FROM "${table}"))`,
      );
      const act = changed.prepare(`SELECT min(act_id) FROM "${table}"`).pluck().get();
      expect(accused(changed), `${table}.${name}`).toContain(`act ${act}: `);
    }
    const less = fullLedger();
    const act = less.prepare(`SELECT act_id FROM "${table}" ORDER BY "${key}" DESC LIMIT 1`).pluck().get();
    tamper(less, `DELETE FROM "${table}" WHERE "${key}" = (SELECT max("${key}") FROM "${table}")`);
    expect(accused(less), `${table} less`).toContain(`act ${act}: `);
    const more = fullLedger();
    const list = columns.map(({ name }) => `"${name}"`);
    const cells = columns.map(({ name, type }) =>
      name === key
        ? `"${name}" + 500`
        : name === 'act_id'
          ? '2'
          : name === 'text' && type === 'TEXT'
            ? "text || 'x'"
            : `"${name}"`,
    );
    tamper(
      more,
      `INSERT INTO "${table}" (${list.join()}) SELECT ${cells.join()} FROM "${table}" ORDER BY "${key}" DESC LIMIT 1`,
    );
    expect(accused(more), `${table} more`).not.toBe('');
  });
});

describe('the row is named', () => {
  test.each<[what: string, sql: string, named: string]>([
    ['an entry', 'UPDATE entry SET rank_id = 1 WHERE row = 2', 'e2: is not as it was recorded, act 1'],
    [
      'an entry that was corrected',
      "UPDATE entry SET page = 'x' WHERE row = 3",
      'e1: is not as it was recorded, act 2',
    ],
    ['an entry that is gone', 'DELETE FROM entry WHERE row = 2', 'e2: is missing, act 1'],
    ['a person', 'UPDATE person SET born_id = NULL WHERE row = 1', 'p1: is not as it was recorded, act 1'],
    ['a person that is gone', 'DELETE FROM person WHERE row = 2', 'person row 2: is missing, act 1'],
    ['the first of its kind', 'DELETE FROM mark', 'the first row of mark: is missing, act 1'],
    ['what a word was', "UPDATE surname SET text = 'Holts' WHERE text = 'Holt'", 'is not as it was recorded, act 1'],
    [
      'by which rows are known',
      "UPDATE row_check SET checks = x'00000000' WHERE act_id = 2",
      'act 2: by which its rows are known again is not as it was recorded',
    ],
    [
      'the act itself',
      "UPDATE act SET who = 'another' WHERE id = 2",
      'act 2: its rows are those recorded, but who, when, how or why',
    ],
    [
      'rows of a table that is none of ours',
      `UPDATE row_check SET "table" = 'act" --' WHERE act_id = 2 AND part = 0`,
      'act 2: by which its rows are known again',
    ],
  ])('%s', (_what, sql, named) => {
    const db = fullLedger();
    tamper(db, sql);
    expect(accused(db)).toContain(named);
    if (named.includes(', act 1')) expect(accused(db).split('recorded, act').length).toBeLessThanOrEqual(2);
  });

  test('a row put in between', () => {
    const db = fullLedger();
    tamper(
      db,
      'INSERT INTO person (row, id, act_id, name_id, born_id) SELECT 900, 900, 1, name_id, NULL FROM person WHERE row = 1',
    );
    expect(accused(db)).toContain('p900: was added by another hand, act 1');
  });

  test('of an act sealed before rows had checks, the act alone', () => {
    const db = fullLedger();
    tamper(db, 'DELETE FROM row_check WHERE act_id = 1');
    tamper(db, 'UPDATE entry SET rank_id = 1 WHERE row = 2');
    expect(accused(db)).toContain('act 1: the rows of the act are not those that were sealed');
    expect(accused(db)).not.toContain('e2');
  });
});

describe('the journal itself', () => {
  test.each<[what: string, sql: string, where: string]>([
    ['who did it', "UPDATE act SET who = 'somebody else' WHERE id = 2", 'act 2: '],
    ['when', "UPDATE act SET at = '2026-01-01T00:00:00.000Z' WHERE id = 2", 'act 2: '],
    ['with what command', "UPDATE act SET command = 'heldby init' WHERE id = 2", 'act 2: '],
    ['why', "UPDATE act SET why = 'no reason' WHERE id = 2", 'act 2: '],
    ['what it undoes', 'UPDATE act SET undoes = 1 WHERE id = 4', 'act 4: '],
    ['an act that is taken out', 'DELETE FROM act WHERE id = 2', 'act 2: act 2 is missing'],
    ['a seal that is taken out', 'DELETE FROM seal WHERE act_id = 2', 'act 2: the act has no seal'],
    ['a seal that is another', 'UPDATE seal SET hash = randomblob(32) WHERE act_id = 2', 'act 2: '],
    ['how many rows it has', 'UPDATE seal SET row_count = row_count + 1 WHERE act_id = 2', 'act 2: '],
  ])('%s', (_what, sql, where) => {
    const db = fullLedger();
    tamper(db, sql);
    expect(accused(db)).toContain(where);
  });

  test('who changes an act and seals it anew breaks the chain at the next', () => {
    const db = fullLedger();
    tamper(db, "UPDATE act SET who = 'somebody else' WHERE id = 3");
    const fields = db
      .prepare('SELECT id, at, who, command, why, program, undoes FROM act WHERE id = 3')
      .raw()
      .get() as (string | number | null)[];
    const replaced = new RowDigest();
    const columns = ['row', 'act_id', 'kind', 'target', 'successor', 'field', 'why'];
    const row = db.prepare(`SELECT ${columns.join()} FROM replaced WHERE act_id = 3`).raw().get() as (
      | string
      | number
      | null
    )[];
    const own = columns.map((_, place) => place).filter((place) => columns[place] !== 'act_id');
    replaced.counter(own)(own.map((place) => row[place] ?? null));
    const digests = new Map([['replaced', replaced]]);
    const checks = new RowDigest();
    const count = checks.counter([1, 2, 3]);
    for (const { part, table, checks: kept } of checksOf(digests)) count([part, table, kept]);
    const forged = sealOf(previousHash(db, 3), fields, new Map([...digests, [CHECKED, checks]]));
    db.prepare('UPDATE seal SET hash = ? WHERE act_id = 3').run(forged);
    expect(accused(db)).not.toContain('act 3: ');
    expect(accused(db)).toContain('act 4: ');
  });

  test('a column that a later format adds changes no seal', () => {
    const db = fullLedger();
    db.exec('ALTER TABLE person ADD COLUMN trade TEXT');
    expect(
      verifyLedger(db).map(({ where }) => where),
      'no act is other than it was sealed',
    ).toEqual(['the file']);
  });
});

test('an entry that refers to nothing is found', () => {
  const db = fullLedger();
  tamper(db, 'UPDATE entry SET person_id = 99 WHERE row = 1');
  expect(accused(db)).toContain('1 entries refer to a person that is not there');
});

describe('what is worked out from the records', () => {
  const withEntries = () => {
    const db = newLedger();
    inOneAct(db, (into) => RECORDS.map(([kind, draft]) => addRecord(into, kindNamed(kind), draft)));
    return db;
  };

  test('is missed, and made anew as it was', () => {
    const db = withEntries();
    rebuildDerived(db);
    expect(verifyLedger(db)).toEqual([]);
    const before = db.prepare('SELECT * FROM bearer_surname').all();
    db.exec("DELETE FROM bearer_surname; UPDATE surname_index SET forward = x'00'");
    expect(verifyLedger(db).map(({ where }) => where)).toEqual(['bearer_surname', 'surname_index']);
    rebuildDerived(db);
    expect(verifyLedger(db)).toEqual([]);
    expect(db.prepare('SELECT * FROM bearer_surname').all()).toEqual(before);
  });
});
