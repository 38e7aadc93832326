import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { plainTables } from '../../src/inquiry/export-plain.ts';
import { KINDS } from '../../src/ledger/kinds.ts';
import { PLAIN_VIEWS, writePlainDatabase } from '../../src/ledger/plain-database.ts';
import { HOSTILE_LINES } from '../report/hostile.ts';
import { ledgerOf, SMALL, temporaryFolder } from '../report/ledgers.ts';

const folder = temporaryFolder();
const file = join(folder, 'plain.sqlite');
writePlainDatabase(file, plainTables(ledgerOf(SMALL)), PLAIN_VIEWS);
const plain = new Database(file, { readonly: true });
const all = (sql: string): unknown[] => plain.prepare(sql).all();

test('a table for every kind, and views that can be asked', () => {
  const tables = plain.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all();
  expect(tables.sort()).toEqual(KINDS.map(({ kind }) => kind).sort());
  for (const { name } of PLAIN_VIEWS) expect(() => all(`SELECT * FROM ${name}`)).not.toThrow();
});

test('fields as recorded, references by key, dates with their first and last day', () =>
  expect(all("SELECT * FROM entry WHERE key = 'e2'")).toMatchObject([
    {
      edition: 'al-1834',
      person: 'ferrand',
      surname: 'Ferrand',
      dated: '16 May 1833',
      dated_from: '1833-05-16',
      dated_to: '1833-05-16',
      page: '213',
    },
  ]));

test('views join what belongs together', () => {
  expect(all("SELECT series, person_name FROM entries_in_full WHERE key = 'e2'")).toEqual([
    { series: 'Annual List of the Coast Survey', person_name: 'Julian Peter Ferrand' },
  ]);
  expect(
    all("SELECT first_listed, last_listed, entries FROM careers WHERE person = 'ferrand' AND rank = 'Lieut.'"),
  ).toEqual([{ first_listed: '1834-01-01', last_listed: '1838-01-01', entries: 3 }]);
});

test('hostile texts stay texts', () => {
  const other = join(folder, 'hostile.sqlite');
  writePlainDatabase(other, plainTables(ledgerOf(HOSTILE_LINES)), PLAIN_VIEWS);
  const db = new Database(other, { readonly: true });
  expect(db.prepare('SELECT title FROM object').pluck().get()).toContain('<script>');
  db.close();
});

test('when writing fails nothing is left', () => {
  const broken = [{ name: 'a', columns: ['key'], rows: [['1'], ['1']] }];
  expect(() => writePlainDatabase(join(folder, 'broken.sqlite'), broken, [])).toThrow();
  expect(existsSync(join(folder, 'broken.sqlite'))).toBe(false);
  expect(readdirSync(folder).filter((name) => name.includes('part'))).toEqual([]);
});
