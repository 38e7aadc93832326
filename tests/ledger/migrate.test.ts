import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { LATEST_MIGRATION, migrate, migrations } from '../../src/ledger/migrate.ts';
import { newLedger } from './new-ledger.ts';

const schema = (db: Database.Database) =>
  db.prepare('SELECT type, name, sql FROM sqlite_schema ORDER BY type, name').all();

test('the migrations are numbered from 1 without a gap, and the last is the one that the program knows', () => {
  const files = readdirSync(resolve(import.meta.dirname, '../../migrations')).filter((name) => name.endsWith('.sql'));
  expect(migrations().map(({ number }) => number)).toEqual(files.map((_, index) => index + 1));
  expect(migrations().at(-1)?.number).toBe(LATEST_MIGRATION);
});

test('a new file is brought to the present format, and a second time nothing is done', () => {
  const db = newLedger();
  expect(db.pragma('user_version', { simple: true })).toBe(LATEST_MIGRATION);
  const before = schema(db);
  migrate(db);
  expect(schema(db)).toEqual(before);
});

test('a migration that fails leaves nothing behind', () => {
  const db = new Database(':memory:');
  db.exec('CREATE TABLE person (x)');
  const before = schema(db);
  expect(() => migrate(db)).toThrow();
  expect(schema(db)).toEqual(before);
  expect(db.pragma('user_version', { simple: true })).toBe(0);
});

test('every view of what is current has its limit of acts, by which the past is asked', () => {
  const views = newLedger().prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'view'").all() as {
    name: string;
    sql: string;
  }[];
  expect(views.length).toBeGreaterThan(20);
  for (const { name, sql } of views) expect(/9223372036854775807|FROM current_/.test(sql), name).toBe(true);
});

test('a ledger in a file is copied before the migrations that it wants, and only then', () => {
  const folder = mkdtempSync(join(tmpdir(), 'heldby-test-'));
  const file = join(folder, 'l');
  writeFileSync(file, newLedger().serialize());
  writeFileSync(join(folder, `${String(LATEST_MIGRATION + 1).padStart(4, '0')}-a.sql`), 'CREATE TABLE a (x);');
  writeFileSync(join(folder, `${String(LATEST_MIGRATION + 2).padStart(4, '0')}-b.sql`), 'CREATE TABLE b (x);');
  const db = new Database(file);
  const before = schema(db);
  const copy = migrate(db, folder);
  expect(copy).toBe(`${file}.before-format-${LATEST_MIGRATION + 2}`);
  expect(schema(db)).toHaveLength(before.length + 2);
  expect(db.pragma('user_version', { simple: true })).toBe(LATEST_MIGRATION + 2);
  const old = new Database(copy, { readonly: true });
  expect(schema(old)).toEqual(before);
  expect(old.pragma('user_version', { simple: true })).toBe(LATEST_MIGRATION);
  expect(old.pragma('application_id', { simple: true })).toBe(db.pragma('application_id', { simple: true }));
  expect(migrate(db, folder)).toBeUndefined();
  for (const each of [db, old]) each.close();
  rmSync(folder, { recursive: true });
});
