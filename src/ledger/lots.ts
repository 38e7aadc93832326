import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

export type LotRow = { readonly id: number; readonly ref: string };

/** Every object of the ledger. */
export const everyLot = (db: Db): LotRow[] => prepared(db, 'SELECT id, ref FROM current_object').all() as LotRow[];

/** When an act was recorded, as ISO 8601 in UTC; null where there is no such act. */
export const actTime = (db: Db, act: number): string | null =>
  (prepared(db, 'SELECT at FROM act WHERE id = ?', 'pluck').get(act) as string | undefined) ?? null;

/** Pictures of a mark or an object, by its id as it is written (`m3`). */
export const photosOf = (db: Db, of: string): { readonly id: number; readonly file: string }[] =>
  prepared(db, 'SELECT id, file FROM current_photo WHERE of = ? ORDER BY id').all(of) as { id: number; file: string }[];
