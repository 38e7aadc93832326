import type { Db } from './open.ts';
import type { Recording } from './records.ts';

export type SourceFile = { readonly name: string; readonly sha256: string; readonly options: string };

/** Whether this very file was imported in the same way, by an act that still counts. */
export const knownSourceFile = (db: Db, sha256: string, options: string): boolean =>
  db.prepare('SELECT 1 FROM current_source_file WHERE sha256 = ? AND options = ?').get(sha256, options) !== undefined;

export const anySourceFile = (db: Db): boolean => db.prepare('SELECT 1 FROM source_file LIMIT 1').get() !== undefined;

export function addSourceFile({ db, act }: Recording, file: SourceFile): void {
  const row = ((db.prepare('SELECT max(row) FROM source_file').pluck().get() as number | null) ?? 0) + 1;
  act.insert('source_file', { row, ...file });
}
