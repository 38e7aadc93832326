import type { Db } from './open.ts';

/**
 * Does work that fills tables, and makes the indexes of those that were empty when it is done: one sort of all rows takes
 * about half as long as finding the place of each. To be called within a transaction, which brings the indexes back where
 * the work fails; until then nothing is found by them.
 */
export function withIndexesLast<T>(db: Db, tables: readonly string[], work: () => T): T {
  const indexesOf = db.prepare(
    "SELECT name, sql FROM sqlite_schema WHERE type = 'index' AND sql IS NOT NULL AND tbl_name = ?",
  );
  const empty = tables.filter((table) => db.prepare(`SELECT 1 FROM "${table}" LIMIT 1`).get() === undefined);
  const indexes = empty.flatMap((table) => indexesOf.all(table) as { name: string; sql: string }[]);
  for (const { name } of indexes) db.exec(`DROP INDEX "${name}"`);
  const result = work();
  for (const { sql } of indexes) db.exec(sql);
  return result;
}
