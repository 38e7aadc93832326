import { differencesOf } from '../ledger/differences.ts';
import type { Kind } from '../ledger/kind.ts';
import type { Recording } from '../ledger/recording.ts';
import { currentRow } from '../ledger/records.ts';
import { idOfKey } from '../ledger/refs.ts';
import type { Cells } from './foreign-lines.ts';

/** Of several records that may be meant, the one that says least otherwise. */
export function nearest({ db }: Recording, kind: Kind, cells: Cells, ids: readonly number[]): number | undefined {
  const far = (id: number): number => differencesOf(db, kind, currentRow(db, kind, id) ?? {}, cells).otherwise.length;
  return ids.length < 2 ? ids[0] : [...ids].sort((a, b) => far(a) - far(b))[0];
}

/** The record here that has the same key and is about the same thing; a key alone may be any two people's. */
export function byKey(
  { db }: Recording,
  kind: Kind,
  key: string,
  cells: Cells,
  isFree: (id: number) => boolean,
): number | undefined {
  const id = Number(idOfKey(db, kind, key)?.slice(kind.prefix.length));
  if (!(id > 0) || !isFree(id)) return undefined;
  const references = kind.fields.filter((field) => field.type === 'ref' || field.type === 'any-ref');
  if (references.length === 0) return undefined;
  const row = currentRow(db, kind, id);
  return references.every(({ column }) => (row?.[column] ?? null) === (cells[column] ?? null)) ? id : undefined;
}
