import { CHECKED, type RowDigest } from './journal.ts';
import { KINDS } from './kinds.ts';
import type { Db } from './open.ts';
import { type Parting, partings } from './row-check.ts';

/** What is wrong with a ledger, and where: an act, a row, a picture, the file. */
export type Finding = { readonly what: string; readonly where: string };

/** Rows of an act that are named; of more, how many. */
const MOST_NAMED = 20;

const SAYS = {
  changed: 'is not as it was recorded',
  missing: 'is missing',
  added: 'was added by another hand',
} as const;

/**
 * What is wrong with an act whose hash is not that of its rows and of the act before: the rows, by name. Of an act that
 * was sealed before rows had checks of their own, only that it is so.
 * @param digests of the rows that are there, by table.
 * @param tables that an act can write: what the ledger says of others is not looked at.
 */
export function changedSinceSealed(
  db: Db,
  act: number,
  digests: ReadonlyMap<string, RowDigest>,
  tables: readonly string[],
): Finding[] {
  const kept = db.prepare(`SELECT "table", checks FROM ${CHECKED} WHERE act_id = ?`).all(act) as {
    table: string;
    checks: Buffer;
  }[];
  const some = { what: 'the rows of the act are not those that were sealed', where: `act ${act}` };
  if (kept.length === 0) return [some];
  const sealed = new Map(kept.map(({ table, checks }) => [table, integersOf(checks)]));
  const rows = tables.flatMap((table) => {
    const there = digests.get(table)?.checks.values() ?? NONE;
    const apart = partings(sealed.get(table) ?? NONE, there);
    if (apart.length === 0) return [];
    const named = namesIn(db, act, table);
    return apart.map((each) => named(each)).map(({ where, is }) => ({ where, what: `${SAYS[is]}, act ${act}` }));
  });
  if (rows.length === 0) {
    const what =
      'its rows are those recorded, but who, when, how or why, or the act before it, is not as it was sealed';
    return [{ what, where: `act ${act}` }];
  }
  const more = rows.length - MOST_NAMED;
  return [
    some,
    ...rows.slice(0, MOST_NAMED),
    ...(more > 0 ? [{ what: `and ${more} more rows`, where: `act ${act}` }] : []),
  ];
}

const NONE = new Int32Array(0);

const integersOf = (bytes: Buffer): Int32Array =>
  Int32Array.from({ length: Math.floor(bytes.length / 4) }, (_, at) => bytes.readInt32LE(at * 4));

/** A row by its name, and what became of it. */
type Named = { readonly where: string; readonly is: Parting['is'] };

/** What the rows of an act in a table are called, in the order in which they are hashed. */
function namesIn(db: Db, act: number, table: string): (parting: Parting) => Named {
  const prefix = KINDS.find((kind) => kind.table === table)?.prefix;
  const called = (number: number): string => (prefix === undefined ? `${table} ${number}` : `${prefix}${number}`);
  const keys = table === 'entry' ? entriesIn(db, act) : keysIn(db, act, table);
  return ({ is, at }) => {
    const key = keys[at];
    if (is !== 'missing' && key !== undefined)
      return { where: called(key.id ?? key.row), is: key.id === null ? 'missing' : is };
    const before = keys[at - 1]?.row;
    // Rows are numbered one after another; versions of a record have a number of their own beside its.
    return { where: before === undefined ? `the first row of ${table}` : `${table} row ${before + 1}`, is };
  };
}

/** The number of a row, and that of its record, which is that of its first version; null: the row is not there. */
type Key = { readonly row: number; readonly id: number | null };

/** Entries are hashed by the runs of numbers in which they lie, whether all are there or not. */
function entriesIn(db: Db, act: number): Key[] {
  const there = db.prepare('SELECT row, coalesce(id, row) FROM entry WHERE act_id = ?').raw().all(act);
  const ids = new Map(there as [number, number][]);
  const runs = db
    .prepare('SELECT first_row AS first, row_count AS count FROM entry_run WHERE act_id = ? ORDER BY first_row')
    .all(act) as { first: number; count: number }[];
  return runs.flatMap(({ first, count }) =>
    Array.from({ length: count }, (_, at) => ({ row: first + at, id: ids.get(first + at) ?? null })),
  );
}

function keysIn(db: Db, act: number, table: string): Key[] {
  const columns = (db.pragma(`table_info("${table}")`) as { name: string }[]).map(({ name }) => name);
  const key = columns.find((name) => ['row', 'first_row'].includes(name)) ?? 'id';
  const id = columns.includes('id') ? 'id' : key;
  return db
    .prepare(`SELECT "${key}" AS row, "${id}" AS id FROM "${table}" WHERE act_id = ? ORDER BY "${key}"`)
    .all(act) as Key[];
}
