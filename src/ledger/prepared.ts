import type { Statement } from 'better-sqlite3';
import type { Db } from './open.ts';

const statements = new WeakMap<Db, Map<string, Statement>>();

/**
 * A statement that is asked for again and again, prepared once for a connection. Its way of giving rows (`raw`, `pluck`)
 * belongs to the statement: leave it as it is.
 */
export function prepared(db: Db, sql: string): Statement {
  const known = statements.get(db) ?? new Map<string, Statement>();
  statements.set(db, known);
  const statement = known.get(sql) ?? db.prepare(sql);
  known.set(sql, statement);
  return statement;
}
