import type { Statement } from 'better-sqlite3';
import type { Db } from './open.ts';

/** How a statement gives rows: as objects, as lists of cells (`raw`), or as their first cell (`pluck`). */
type Way = 'objects' | 'raw' | 'pluck';

const statements = new WeakMap<Db, Record<Way, Map<string, Statement>>>();

/**
 * A statement that is asked for again and again, prepared once for a connection. Not for one whose rows are gone through
 * while others are asked for (`iterate`): it is busy until then.
 */
export function prepared(db: Db, sql: string, way: Way = 'objects'): Statement {
  const all = statements.get(db) ?? { objects: new Map(), raw: new Map(), pluck: new Map() };
  statements.set(db, all);
  const known = all[way].get(sql);
  if (known !== undefined) return known;
  const statement = way === 'objects' ? db.prepare(sql) : db.prepare(sql)[way]();
  all[way].set(sql, statement);
  return statement;
}
