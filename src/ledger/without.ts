import type { Kind, KindName } from './kind.ts';
import { KINDS, kindNamed, parseId } from './kinds.ts';
import type { Db } from './open.ts';

/** Records of a kind that are left out: by their numbers, and entries by their editions and people besides. */
type LeftOut = Map<KindName, Set<number>>;

/**
 * From here on this connection sees the ledger as if these records, and what cannot be without them, had never been
 * made: its views are made again without them. What names one of them only by the way names nobody instead. Nothing in
 * the file changes.
 * @returns the ids of everything left out but entries, which can be many, each once.
 */
export function standWithout(db: Db, ids: readonly string[]): string[] {
  const left: LeftOut = new Map();
  for (const id of ids) {
    const parsed = parseId(id);
    if (parsed) put(left, parsed.kind.kind, parsed.row);
  }
  spread(db, left);
  const views = definitions(db);
  const made = views.map(({ name, select }) => {
    const kind = KINDS.find(({ table }) => name === `current_${table}`);
    const body = kind === undefined ? select : narrowed(db, kind, select, left);
    return `DROP VIEW IF EXISTS temp."${name}"; CREATE TEMP VIEW "${name}" AS ${body};`;
  });
  const queryOnly = db.pragma('query_only', { simple: true });
  db.pragma('query_only = OFF'); // views of this connection only, in its own temporary place
  db.exec(made.join('\n'));
  db.pragma(`query_only = ${queryOnly}`);
  return [...left].flatMap(([kind, rows]) => [...rows].map((row) => `${kindNamed(kind).prefix}${row}`));
}

function put(left: LeftOut, kind: KindName, row: number): boolean {
  const rows = left.get(kind) ?? new Set<number>();
  left.set(kind, rows);
  if (rows.has(row)) return false;
  rows.add(row);
  return true;
}

const listOf = (rows: Iterable<number>): string => [...rows].join(', ');

/** What needs one of the records left out is left out too, and so on; entries are told by a condition instead. */
function spread(db: Db, left: LeftOut): void {
  for (let grown = true; grown; ) {
    grown = false;
    for (const kind of KINDS) {
      if (kind.kind === 'entry') continue;
      for (const field of kind.fields) {
        for (const row of rowsNaming(db, kind, field, left)) grown = put(left, kind.kind, row) || grown;
      }
    }
  }
}

function rowsNaming(db: Db, kind: Kind, field: Kind['fields'][number], left: LeftOut): number[] {
  const select = (condition: string): number[] =>
    db.prepare(`SELECT id FROM "current_${kind.table}" WHERE ${condition}`).pluck().all() as number[];
  if (field.type === 'any-ref') {
    const names = [...left].flatMap(([to, rows]) => [...rows].map((row) => `'${kindNamed(to).prefix}${row}'`));
    return names.length === 0 ? [] : select(`"${field.column}" IN (${names.join(', ')})`);
  }
  if (field.type !== 'ref' || !field.required) {
    // A search for somebody is nothing without them, though a sweep names nobody.
    const isSought = kind.kind === 'search' && field.name === 'person';
    if (!isSought) return [];
  }
  if (field.type !== 'ref') return [];
  const named = left.get(field.to);
  if (field.to === 'entry') {
    const condition = entryCondition(left);
    const gone = `SELECT coalesce(id, row) FROM current_entry WHERE ${condition}`;
    return condition === '' ? [] : select(`"${field.column}" IN (${gone})`);
  }
  return named === undefined || named.size === 0 ? [] : select(`"${field.column}" IN (${listOf(named)})`);
}

function entryCondition(left: LeftOut): string {
  const [entries, editions] = [left.get('entry'), left.get('edition')];
  return [
    ...(entries === undefined ? [] : [`coalesce(id, row) IN (${listOf(entries)})`]),
    ...(editions === undefined ? [] : [`edition_id IN (${listOf(editions)})`]),
  ].join(' OR ');
}

/** The rows of a kind without those left out; columns that name one of them by the way are empty. */
function narrowed(db: Db, kind: Kind, select: string, left: LeftOut): string {
  const condition = kind.kind === 'entry' ? entryCondition(left) : idCondition(left.get(kind.kind));
  const emptied = new Map<string, string>();
  for (const field of kind.fields) {
    const rows = field.type === 'ref' && !field.required ? left.get(field.to) : undefined;
    if (rows !== undefined && rows.size > 0) emptied.set(field.column, listOf(rows));
  }
  if (condition === '' && emptied.size === 0) return select;
  const columns = (db.pragma(`table_info("${kind.table}")`) as { name: string }[]).map(({ name }) => {
    const gone = emptied.get(name);
    return gone === undefined
      ? `"${name}"`
      : `CASE WHEN "${name}" IN (${gone}) THEN NULL ELSE "${name}" END AS "${name}"`;
  });
  return `SELECT ${columns.join(', ')} FROM (${select})${condition === '' ? '' : ` WHERE NOT (${condition})`}`;
}

const idCondition = (rows: ReadonlySet<number> | undefined): string =>
  rows === undefined || rows.size === 0 ? '' : `id IN (${listOf(rows)})`;

/** The views as this connection sees them now, in the order in which they were first made. */
function definitions(db: Db): { readonly name: string; readonly select: string }[] {
  const read = (schema: 'main' | 'temp') =>
    db.prepare(`SELECT name, sql FROM ${schema}.sqlite_schema WHERE type = 'view' ORDER BY rowid`).all() as {
      name: string;
      sql: string;
    }[];
  const own = new Map(read('temp').map(({ name, sql }) => [name, sql]));
  return read('main').map(({ name, sql }) => ({
    name,
    select: (own.get(name) ?? sql).replace(/^CREATE (?:TEMP )?VIEW\s+"?\w+"?\s+AS\s+/, ''),
  }));
}
