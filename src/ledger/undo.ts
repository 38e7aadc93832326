import { HeldbyError } from '../errors.ts';
import type { Act, Cell } from './journal.ts';
import type { Kind } from './kind.ts';
import { KINDS } from './kinds.ts';
import type { Db } from './open.ts';

export type ActRow = {
  readonly id: number;
  readonly at: string;
  readonly who: string;
  readonly command: string;
  readonly why: string | null;
  readonly program: string;
  readonly undoes: number | null;
  readonly rows: number;
  readonly hash: Buffer;
  readonly void: 0 | 1;
};

const ACTS = `SELECT a.id, a.at, a.who, a.command, a.why, a.program, a.undoes, s.row_count AS rows, s.hash,
  EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = a.id) AS void FROM act AS a JOIN seal AS s ON s.act_id = a.id`;

/** Acts, newest first. */
export const actsNewestFirst = (db: Db, limit: number, through = Number.MAX_SAFE_INTEGER): ActRow[] =>
  db.prepare(`${ACTS} WHERE a.id <= ? ORDER BY a.id DESC LIMIT ?`).all(through, limit) as ActRow[];

export const lastActId = (db: Db): number =>
  (db.prepare('SELECT max(id) FROM act').pluck().get() as number | null) ?? 0;

/** Every act that touched a record: that recorded it, corrected it, or withdrew it; newest first. */
export function actsOfRecord(db: Db, table: string, id: number): ActRow[] {
  const own = table === 'entry' ? 'coalesce(id, row)' : 'id';
  return db
    .prepare(
      `${ACTS} WHERE a.id IN (SELECT act_id FROM "${table}" WHERE ${own} = ?
         UNION SELECT r.act_id FROM replaced AS r JOIN "${table}" AS x ON x.row = r.target WHERE r.kind = ? AND ${own.replace('id', 'x.id').replace('row', 'x.row')} = ?) ORDER BY a.id DESC`,
    )
    .all(id, table, id) as ActRow[];
}

/** The act that `undo` takes back by default: the last one that still counts. @throws HeldbyError REFERENCE if none does. */
export function lastStandingAct(db: Db): number {
  const last = db
    .prepare(
      'SELECT id FROM act WHERE id NOT IN (SELECT act_id FROM void_act) AND undoes IS NULL ORDER BY id DESC LIMIT 1',
    )
    .pluck()
    .get() as number | undefined;
  if (last !== undefined) return last;
  throw new HeldbyError('REFERENCE', 'There is nothing to undo.', 'See the acts: heldby history');
}

/**
 * Makes an act void. Undoing an undo brings back what that one took away. Nothing is deleted.
 * @throws HeldbyError REFERENCE, CONFLICT when it is void already or later records rest on it.
 */
export function undoAct(db: Db, act: Act, target: number): void {
  const row = db.prepare('SELECT id, undoes FROM act WHERE id = ?').get(target) as
    | { id: number; undoes: number | null }
    | undefined;
  if (!row || target === act.id) throw noAct(target);
  if (db.prepare('SELECT 1 FROM void_act WHERE act_id = ?').get(target))
    throw new HeldbyError('CONFLICT', `Act ${target} is undone already.`, 'See the acts: heldby history');
  const resting = actsRestingOn(db, target);
  if (resting.length > 0) {
    throw new HeldbyError(
      'CONFLICT',
      `Later acts rest on act ${target}: ${resting.join(', ')}.`,
      `Undo those first, the last one first: heldby undo ${resting[resting.length - 1]}`,
    );
  }
  let next = ((db.prepare('SELECT max(row) FROM standing').pluck().get() as number | null) ?? 0) + 1;
  act.insert('standing', { row: next++, target, void: 1 });
  if (row.undoes === null) return;
  act.insert('standing', { row: next, target: row.undoes, void: 0 });
  refuseDoubled(db, row.undoes);
}

const noAct = (target: number): HeldbyError =>
  new HeldbyError('REFERENCE', `There is no act ${target}.`, 'See the acts: heldby history');

/** What makes two current records of one kind one too many. */
const ONLY_ONCE: readonly (readonly [table: string, columns: string])[] = [
  ...KINDS.map(({ table }) => [table, 'key'] as const),
  ['series', 'name'],
  ['edition', 'series_id, label'],
  ['object', 'ref'],
  ['service', 'name'],
  ['rank', 'service, title'],
];

/** What came back with an act may have been recorded anew, or rest on what is gone. */
function refuseDoubled(db: Db, restored: number): void {
  const refuse = (what: string): never => {
    throw new HeldbyError(
      'CONFLICT',
      `Act ${restored} cannot be brought back: ${what}.`,
      'See what was recorded since: heldby history',
    );
  };
  const anew = db
    .prepare(
      `SELECT 1 FROM replaced AS r JOIN gone AS g ON g.kind = r.kind AND g.target = r.target AND g.act_id <> r.act_id
        WHERE r.act_id = ? LIMIT 1`,
    )
    .get(restored);
  if (anew !== undefined) refuse('a record that it corrected has been corrected or withdrawn since');
  for (const [table, columns] of ONLY_ONCE) {
    const given = columns
      .split(', ')
      .map((column) => `"${column}" IS NOT NULL`)
      .join(' AND ');
    const id = table === 'entry' ? 'coalesce(id, row)' : 'id';
    const twice = db
      .prepare(
        `SELECT ${columns} FROM "current_${table}" WHERE ${given} GROUP BY ${columns} HAVING count(DISTINCT ${id}) > 1 LIMIT 1`,
      )
      .raw()
      .get() as Cell[] | undefined;
    if (twice !== undefined)
      refuse(`what it recorded has been recorded again since (${table.replaceAll('_', ' ')} ${twice.at(-1)})`);
  }
  for (const kind of KINDS) {
    for (const field of kind.fields) {
      if (field.type !== 'ref' || field.to === 'entry') continue;
      const other = KINDS.find((each) => each.kind === field.to)?.table;
      const stray = db
        .prepare(
          `SELECT 1 FROM "current_${kind.table}" AS x WHERE x.act_id = ? AND x."${field.column}" IS NOT NULL
             AND NOT EXISTS (SELECT 1 FROM "current_${other}" AS o WHERE o.id = x."${field.column}") LIMIT 1`,
        )
        .get(restored);
      if (stray !== undefined) refuse(`a record that it rests on has been taken back (${field.to})`);
    }
  }
}

/** Later acts that still count and whose rows name a record, or replace a row, of this act. */
function actsRestingOn(db: Db, target: number): number[] {
  const counts = 'x.act_id > ? AND x.act_id NOT IN (SELECT act_id FROM void_act)';
  const found = new Set<number>();
  for (const kind of KINDS) {
    const made = db.prepare(`SELECT 1 FROM "${kind.table}" WHERE act_id = ? LIMIT 1`);
    if (kind.kind !== 'entry' && made.get(target) === undefined) continue;
    for (const id of db
      .prepare(
        `SELECT DISTINCT r.act_id FROM replaced AS r JOIN "${kind.table}" AS t ON t.row = r.target WHERE r.kind = ? AND t.act_id = ? AND r.act_id > ? AND r.act_id NOT IN (SELECT act_id FROM void_act)`,
      )
      .pluck()
      .all(kind.table, target, target) as number[])
      found.add(id);
    for (const id of namedInWords(db, kind, target)) found.add(id);
    if (kind.kind === 'entry') {
      const links = `SELECT DISTINCT x.act_id FROM link AS x JOIN entry_run AS e ON x.entry_id >= e.first_row AND x.entry_id < e.first_row + e.row_count WHERE e.act_id = ? AND ${counts}`;
      for (const id of db.prepare(links).pluck().all(target, target) as number[]) found.add(id);
      continue;
    }
    for (const other of KINDS) {
      for (const field of other.fields) {
        if (field.type !== 'ref' || field.to !== kind.kind) continue;
        const sql = `SELECT DISTINCT x.act_id FROM "${other.table}" AS x JOIN "${kind.table}" AS t ON t.row = x."${field.column}" WHERE t.act_id = ? AND ${counts}`;
        for (const id of db.prepare(sql).pluck().all(target, target) as number[]) found.add(id);
      }
    }
  }
  return [...found].sort((a, b) => a - b);
}

/** Later acts that still count and that name a record of this act by its id: to set it aside, to add a photograph. */
function namedInWords(db: Db, kind: Kind, target: number): number[] {
  const rows =
    kind.kind === 'entry'
      ? `SELECT 1 FROM entry_run AS e WHERE e.act_id = ? AND CAST(substr(x.record, ?) AS INTEGER) BETWEEN e.first_row AND e.first_row + e.row_count - 1`
      : `SELECT 1 FROM "${kind.table}" AS t WHERE t.act_id = ? AND t.row = CAST(substr(x.record, ?) AS INTEGER)`;
  return KINDS.flatMap((other) =>
    other.fields.flatMap((field) => {
      if (field.type !== 'any-ref' || (field.to !== 'all' && !field.to.includes(kind.kind))) return [];
      const sql = `SELECT DISTINCT x.act_id FROM (SELECT act_id, "${field.column}" AS record FROM "${other.table}") AS x
        WHERE x.record GLOB ? AND x.act_id > ? AND x.act_id NOT IN (SELECT act_id FROM void_act) AND EXISTS (${rows})`;
      return db
        .prepare(sql)
        .pluck()
        .all(`${kind.prefix}[0-9]*`, target, target, kind.prefix.length + 1) as number[];
    }),
  );
}
