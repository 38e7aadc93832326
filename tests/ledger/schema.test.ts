import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { migrate } from '../../src/ledger/migrate.ts';
import { refuseForeignSchema } from '../../src/ledger/schema.ts';

function made() {
  const db = new Database(':memory:');
  migrate(db);
  return db;
}

test('what the migrations make is known', () => expect(() => refuseForeignSchema(made(), 'l')).not.toThrow());

test.each([
  ['a trigger', 'CREATE TRIGGER t AFTER INSERT ON act BEGIN SELECT 1; END'],
  [
    'a view in place of another',
    "DROP VIEW current_object; CREATE VIEW current_object AS SELECT load_extension('x') AS row",
  ],
  ['a trigger less', 'DROP TRIGGER mark_fixed'],
  ['a column of another type', 'DROP TABLE seal; CREATE TABLE seal (act_id, row_count, hash)'],
  ['a table more', 'CREATE TABLE t (x)'],
])('%s is refused', (_what, sql) => {
  const db = made();
  db.exec(sql);
  expect(() => refuseForeignSchema(db, 'l')).toThrow('other than heldby made');
});
