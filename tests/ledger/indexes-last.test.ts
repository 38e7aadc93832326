import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { withIndexesLast } from '../../src/ledger/indexes-last.ts';

const withTables = () => {
  const db = new Database(':memory:');
  db.exec('CREATE TABLE list (text TEXT); CREATE INDEX list_text ON list (text) WHERE text IS NOT NULL');
  db.exec('CREATE TABLE other (text TEXT); CREATE INDEX other_text ON other (text)');
  return db;
};
const indexes = (db: Database.Database) =>
  db.prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'index' ORDER BY name").all();

test('the indexes are as they were, and hold what was added', () => {
  const db = withTables();
  const before = indexes(db);
  const during = db.transaction(() =>
    withIndexesLast(db, ['list', 'other'], () => {
      db.exec("INSERT INTO list VALUES ('b'), ('a')");
      return indexes(db);
    }),
  )();
  expect(during).toEqual([]);
  expect(indexes(db)).toEqual(before);
  expect(db.prepare("SELECT rowid FROM list INDEXED BY list_text WHERE text = 'a'").pluck().get()).toBe(2);
});

test('a table with rows keeps its indexes meanwhile', () => {
  const db = withTables();
  db.exec("INSERT INTO other VALUES ('c')");
  const during = withIndexesLast(db, ['list', 'other'], () => indexes(db));
  expect(during).toEqual([expect.objectContaining({ name: 'other_text' })]);
});

test('work that fails in a transaction leaves everything as it was', () => {
  const db = withTables();
  const before = indexes(db);
  const failing = db.transaction(() =>
    withIndexesLast(db, ['list'], () => {
      db.exec("INSERT INTO list VALUES ('b')");
      throw new Error('no room');
    }),
  );
  expect(failing).toThrow('no room');
  expect(indexes(db)).toEqual(before);
  expect(db.prepare('SELECT count(*) FROM list').pluck().get()).toBe(0);
});
