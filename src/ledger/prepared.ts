import type { Statement } from 'better-sqlite3';
import type { Db } from './open.ts';

const statements = new WeakMap<Db, Map<string, Statement>>();

/**
 * A statement that is asked for again and again, prepared once for a connection. Not for one whose rows are gone through
 * while others are asked for (`iterate`): it is busy until then.
 * @param way how it gives rows: as objects, as lists of cells (`raw`), or as their first cell (`pluck`).
 */
export function prepared(db: Db, sql: string, way: 'objects' | 'raw' | 'pluck' = 'objects'): Statement {
  const known = statements.get(db) ?? new Map<string, Statement>();
  statements.set(db, known);
  const key = `${way} ${sql}`;
  const statement = known.get(key) ?? givingRows(db.prepare(sql), way);
  known.set(key, statement);
  return statement;
}

const givingRows = (statement: Statement, way: 'objects' | 'raw' | 'pluck'): Statement =>
  way === 'objects' ? statement : statement[way]();
