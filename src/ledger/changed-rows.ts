import type { Kind } from './kind.ts';
import { KINDS } from './kinds.ts';
import type { Db } from './open.ts';

export type ChangedRecord = { readonly kind: Kind; readonly id: number };

/**
 * Every record that an act after `low`, up to and including `high`, recorded, corrected, withdrew, undid or restored; by
 * kind, then number. Whether it now says something else is for the two states to tell.
 */
export function changedRecords(db: Db, low: number, high: number): ChangedRecord[] {
  return KINDS.flatMap((kind) => {
    const id = kind.kind === 'entry' ? 'coalesce(x.id, x.row)' : 'x.id';
    const ids = db
      .prepare(
        `SELECT ${id} AS id FROM "${kind.table}" AS x
           WHERE (x.act_id > @low AND x.act_id <= @high)
              OR x.act_id IN (SELECT target FROM standing WHERE act_id > @low AND act_id <= @high)
         UNION
         SELECT ${id} FROM replaced AS r JOIN "${kind.table}" AS x ON x.row = r.target
           WHERE r.kind = @table AND (r.act_id > @low AND r.act_id <= @high
              OR r.act_id IN (SELECT target FROM standing WHERE act_id > @low AND act_id <= @high))
         ORDER BY 1`,
      )
      .pluck()
      .all({ low, high, table: kind.table }) as number[];
    return ids.map((each) => ({ kind, id: each }));
  });
}
