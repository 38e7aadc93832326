import { HeldbyError } from '../errors.ts';
import type { Act } from './journal.ts';
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
export const actsNewestFirst = (db: Db, limit: number): ActRow[] =>
  db.prepare(`${ACTS} ORDER BY a.id DESC LIMIT ?`).all(limit) as ActRow[];

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

/** The act that `undo` takes back by default: the last one that still counts. */
export function lastStandingAct(db: Db): number | undefined {
  return db
    .prepare(
      'SELECT id FROM act WHERE id NOT IN (SELECT act_id FROM void_act) AND undoes IS NULL ORDER BY id DESC LIMIT 1',
    )
    .pluck()
    .get() as number | undefined;
}

/**
 * Makes an act void. Undoing an undo brings back what that one took away. Nothing is deleted.
 * @throws HeldbyError REFERENCE, CONFLICT when it is void already or later records rest on it.
 */
export function undoAct(db: Db, act: Act, target: number): void {
  const row = db.prepare('SELECT id, undoes FROM act WHERE id = ?').get(target) as
    | { id: number; undoes: number | null }
    | undefined;
  if (!row || target === act.id)
    throw new HeldbyError('REFERENCE', `There is no act ${target}.`, 'See the acts: heldby history');
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
  if (row.undoes !== null) act.insert('standing', { row: next, target: row.undoes, void: 0 });
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
    if (kind.kind === 'entry') continue;
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
