import { HeldbyError } from '../errors.ts';
import { GIVEN_DATE_OPTIONS } from '../time/given-options.ts';
import { checkRecord } from './checks.ts';
import { addEntries, type EntryRow, entryById, type NewEntry, pageCell } from './entries.ts';
import type { Cell } from './journal.ts';
import type { Kind } from './kind.ts';
import { KINDS, parseId } from './kinds.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';
import { watchRanks } from './rank-checks.ts';
import { cellsOf, faultOf } from './record-cells.ts';
import type { Draft, Recording } from './recording.ts';

/**
 * Records one thing.
 * @returns its id, as `p12`.
 * @throws HeldbyError for a field that is missing, unknown, or says what cannot be; REFERENCE and AMBIGUOUS for others
 * that it names.
 */
export function addRecord(into: Recording, kind: Kind, draft: Draft, key: string | null = null): string {
  checkKey(into.db, kind, key);
  const cells = cellsOf(into, kind, draft);
  checkRecord(into.db, kind, cells, undefined);
  if (kind.kind === 'entry') {
    const [row] = addEntries(into.db, into.act, [entryOf(into, cells, key, null)]);
    return `e${row}`;
  }
  const row = freeRow(into, kind, key);
  into.act.insert(kind.table, { row, id: row, key, ...cells });
  return `${kind.prefix}${row}`;
}

function checkKey(db: Db, kind: Kind, key: string | null): void {
  if (key === null) return;
  if (key.trim() === '' || faultOf(key) !== undefined)
    throw new HeldbyError('VALUE', 'A key cannot be empty.', 'Give a key, or leave it out.', 'key');
  const id = kind.kind === 'entry' ? 'coalesce(id, row)' : 'id';
  const other = db.prepare(`SELECT ${id} FROM "current_${kind.table}" WHERE key = ? LIMIT 1`).pluck().get(key);
  if (other !== undefined)
    throw new HeldbyError(
      'CONFLICT',
      `The key "${key}" stands for ${kind.prefix}${other} already.`,
      'Use that record, or give this one another key.',
      'key',
    );
}

/**
 * Whether the ledger has this record already, now or in a version since corrected: by its key, else by all it says.
 * @throws HeldbyError CONFLICT when the key is known and stands for something else.
 */
export function isKnown(into: Recording, kind: Kind, draft: Draft, key: string | null): boolean {
  const { db } = into;
  const idColumn = kind.kind === 'entry' ? 'coalesce(id, row)' : 'id';
  const living = `FROM "${kind.table}" AS x WHERE NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = x.act_id)`;
  const id =
    key === null
      ? undefined
      : (db.prepare(`SELECT ${idColumn} ${living} AND x.key = ? LIMIT 1`).pluck().get(key) as number | undefined);
  if (key !== null && id === undefined) return false;
  const cells = draftCells(into, kind, draft);
  const columns = Object.keys(cells);
  const alike = columns.map((column) => `x."${column}" IS ?`).join(' AND ');
  const values = columns.map((column) => cells[column] ?? null);
  const scope = id === undefined ? '' : ` AND ${idColumn} = ${id}`;
  const narrowed =
    kind.kind === 'entry' ? ' AND x.surname_id = (SELECT surname_id FROM printed_name WHERE id = ?)' : '';
  const found =
    db
      .prepare(`SELECT 1 ${living}${scope}${narrowed} AND ${alike} LIMIT 1`)
      .get(...(narrowed ? [cells['name_id'] ?? null] : []), ...values) !== undefined;
  if (id !== undefined && !found) {
    const here = `${kind.prefix}${id}`;
    if (currentRow(db, kind, id) === undefined)
      throw new HeldbyError(
        'CONFLICT',
        `The key "${key}" stood for ${here}, which said something else and was withdrawn.`,
        `Give this record another key, or bring that one back by undoing the act that withdrew it: heldby history ${here}`,
        'key',
      );
    throw new HeldbyError(
      'CONFLICT',
      `The key "${key}" stands for ${here}, which says something else.`,
      `Correct that record (heldby amend ${here} FIELD VALUE --why …), or give this one another key.`,
      'key',
    );
  }
  return found;
}

/** The cells that a draft would be stored as. @throws HeldbyError for what cannot be said. */
export function draftCells(into: Recording, kind: Kind, draft: Draft): Record<string, Cell> {
  const cells = cellsOf(into, kind, draft);
  if (kind.kind === 'entry') {
    if (cells['appointment'] === 'substantive') cells['appointment'] = null;
    if (typeof cells['page'] === 'string') cells['page'] = pageCell(cells['page']);
  }
  return cells;
}

/** Whether a record says this of its fields, or has said it in a version that was corrected since. */
export function hasSaid(into: Recording, kind: Kind, id: number, change: Draft): boolean {
  const current = currentRow(into.db, kind, id);
  if (!current) return false;
  const cells = cellsOf(into, kind, change, { partial: true, context: current });
  if (kind.kind === 'entry' && typeof cells['page'] === 'string') cells['page'] = pageCell(cells['page']);
  const columns = Object.keys(cells);
  const own = kind.kind === 'entry' ? '(x.id = ? OR (x.id IS NULL AND x.row = ?))' : '(x.id = ? AND ? IS NOT NULL)';
  const alike = columns.map((column) => `x."${column}" IS ?`).join(' AND ');
  return (
    into.db
      .prepare(
        `SELECT 1 FROM "${kind.table}" AS x WHERE ${own} AND ${alike} AND x.act_id NOT IN (SELECT act_id FROM void_act) LIMIT 1`,
      )
      .get(id, id, ...columns.map((column) => cells[column] ?? null)) !== undefined
  );
}

/** Whether a record of this key was withdrawn, by an act that counts. */
export const isWithdrawn = (db: Db, key: string): boolean =>
  KINDS.some(
    ({ table }) =>
      db
        .prepare(
          `SELECT 1 FROM "${table}" AS x JOIN replaced AS r ON r.kind = ? AND r.target = x.row AND r.successor IS NULL
          WHERE x.key = ? AND r.act_id NOT IN (SELECT act_id FROM void_act)
            AND NOT EXISTS (SELECT 1 FROM "current_${table}" AS c WHERE c.key = x.key) LIMIT 1`,
        )
        .get(table, key) !== undefined,
  );

/**
 * A corrected version: the record keeps its id, the old row is kept and marked as replaced.
 * @returns false when it says just this already.
 */
export function amendRecord(into: Recording, kind: Kind, id: number, change: Draft, why: string | null): boolean {
  const current = currentRow(into.db, kind, id);
  if (!current) throw gone(kind, id);
  const old = Object.fromEntries(kind.fields.map((field) => [field.column, current[field.column] ?? null]));
  const cells = { ...old, ...cellsOf(into, kind, change, { partial: true, context: current }) };
  if (kind.kind === 'entry' && typeof cells['page'] === 'string') cells['page'] = pageCell(cells['page']);
  if (
    Object.entries(cells).every(
      ([column, cell]) =>
        (cell === 'substantive' ? null : cell) === (old[column] === 'substantive' ? null : old[column]),
    )
  )
    return false;
  checkRecord(into.db, kind, cells, id);
  const lookAgain = watchRanks(into.db, kind, current);
  const key = (current['key'] ?? null) as string | null;
  let row: number;
  if (kind.kind === 'entry') [row] = addEntries(into.db, into.act, [entryOf(into, cells, key, id)]) as [number];
  else {
    row = freeRow(into, kind);
    into.act.insert(kind.table, { row, id, key, ...cells });
  }
  for (const field of Object.keys(change)) {
    if (GIVEN_DATE_OPTIONS.some((each) => each === field) && !kind.fields.some(({ name }) => name === field)) continue;
    into.act.insert('replaced', {
      row: freeNumber(into, 'replaced'),
      kind: kind.table,
      target: Number(current['row']),
      successor: row,
      field,
      why,
    });
  }
  into.act.flush();
  lookAgain();
  return true;
}

/** Takes a record out of what is current. @throws HeldbyError CONFLICT when others rest on it. */
export function withdrawRecord(into: Recording, kind: Kind, id: number, why: string | null): void {
  const current = currentRow(into.db, kind, id);
  if (!current) throw gone(kind, id);
  const resting = restingOn(into.db, kind, id);
  if (resting.length > 0) {
    throw new HeldbyError(
      'CONFLICT',
      `${resting.length === 1 ? 'A record rests' : `${resting.length} records rest`} on ${kind.prefix}${id}: ${resting.slice(0, 8).join(', ')}${resting.length > 8 ? ' …' : ''}.`,
      'Withdraw or amend those first.',
    );
  }
  const lookAgain = watchRanks(into.db, kind, current);
  into.act.insert('replaced', {
    row: freeNumber(into, 'replaced'),
    kind: kind.table,
    target: Number(current['row']),
    successor: null,
    field: null,
    why,
  });
  into.act.flush();
  lookAgain();
}

/** Ids of the current records that name this one. */
export function restingOn(db: Db, kind: Kind, id: number): string[] {
  return KINDS.flatMap((other) =>
    other.fields.flatMap((field) => {
      if (field.type === 'ref' && field.to === kind.kind) {
        const idColumn = other.kind === 'entry' ? 'coalesce(id, row)' : 'id';
        const ids = db
          .prepare(`SELECT ${idColumn} FROM "current_${other.table}" WHERE "${field.column}" = ? LIMIT 1000`)
          .pluck()
          .all(id) as number[];
        return ids.map((each) => `${other.prefix}${each}`);
      }
      if (field.type === 'any-ref' && other.kind !== 'setAside') {
        const ids = db
          .prepare(`SELECT id FROM "current_${other.table}" WHERE "${field.column}" = ?`)
          .pluck()
          .all(`${kind.prefix}${id}`) as number[];
        return ids.map((each) => `${other.prefix}${each}`);
      }
      return [];
    }),
  );
}

/** The current version of a record as its row stands in the table. */
export function currentRow(db: Db, kind: Kind, id: number): Record<string, Cell> | undefined {
  if (kind.kind === 'entry') return entryById(db, id) as unknown as Record<string, Cell> | undefined;
  return prepared(db, `SELECT * FROM "current_${kind.table}" WHERE id = ? ORDER BY row DESC LIMIT 1`).get(id) as
    | Record<string, Cell>
    | undefined;
}

const gone = (kind: Kind, id: number) =>
  new HeldbyError(
    'REFERENCE',
    `There is no ${kind.prefix}${id}.`,
    `See what there is: heldby list ${kind.plural.replaceAll(' ', '-')}`,
  );

/**
 * A row for a new record or a new version: the one that is kept for its key, else the next that is kept for none. Rows
 * are sealed in their order, so a number that was passed over is never taken.
 */
export function freeRow(into: Recording, kind: Kind, key: string | null = null): number {
  const kept = into.keptRows.get(kind.table);
  const named = key === null ? undefined : numberOf(key, kind);
  if (named === undefined || !kept?.has(named) || named < nextNumber(into, kind.table))
    return freeNumber(into, kind.table);
  into.nextRow.set(kind.table, named + 1);
  return named;
}

function freeNumber(into: Recording, table: string): number {
  const kept = into.keptRows.get(table);
  let next = nextNumber(into, table);
  while (kept?.has(next)) next += 1;
  into.nextRow.set(table, next + 1);
  return next;
}

const nextNumber = ({ db, nextRow }: Recording, table: string): number =>
  nextRow.get(table) ?? ((db.prepare(`SELECT max(row) FROM "${table}"`).pluck().get() as number | null) ?? 0) + 1;

/** So far beyond what is recorded a number is not kept: the ids of all that comes later would be as long. */
const FURTHEST_KEPT = 100_000;

/**
 * Keys that look like ids of their kind (`p7`) keep these ids for their own records, as far as they are free: so none
 * of them is the id of somebody else. Entries are numbered as they are stored, whatever their keys.
 * @returns the numbers kept, by key, in their order: in this order such records are to be recorded, before all others.
 */
export function keepNumbers(into: Recording, kind: Kind, keys: Iterable<string>): ReadonlyMap<string, number> {
  if (kind.kind === 'entry') return new Map();
  const first = nextNumber(into, kind.table);
  const kept = [...keys].flatMap((key): [string, number][] => {
    const number = numberOf(key, kind);
    return number !== undefined && number >= first && number < first + FURTHEST_KEPT ? [[key, number]] : [];
  });
  kept.sort(([, a], [, b]) => a - b);
  into.keptRows.set(kind.table, new Set(kept.map(([, number]) => number)));
  return new Map(kept);
}

function numberOf(key: string, kind: Kind): number | undefined {
  if (!key.startsWith(kind.prefix)) return undefined;
  const id = parseId(key);
  return id?.kind === kind ? id.row : undefined;
}

function entryOf(into: Recording, cells: Record<string, Cell>, key: string | null, id: number | null): NewEntry {
  const surname = into.db
    .prepare('SELECT surname_id FROM printed_name WHERE id = ?')
    .pluck()
    .get(cells['name_id']) as number;
  const row = {
    ...cells,
    surname_id: surname,
    id,
    key,
    appointment: cells['appointment'] === 'substantive' ? null : cells['appointment'],
  };
  const page = cells['page'];
  return { ...row, page: typeof page === 'string' ? pageCell(page) : (page ?? null) } as unknown as EntryRow;
}
