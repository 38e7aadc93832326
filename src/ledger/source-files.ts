import type { Db } from './open.ts';
import type { Recording } from './recording.ts';

export type SourceFile = { readonly name: string; readonly sha256: string; readonly options: string };

/** Whether this very file was imported in the same way, by an act that still counts. */
export const knownSourceFile = (db: Db, sha256: string, options: string): boolean =>
  db.prepare('SELECT 1 FROM current_source_file WHERE sha256 = ? AND options = ?').get(sha256, options) !== undefined;

export const anySourceFile = (db: Db): boolean => db.prepare('SELECT 1 FROM source_file LIMIT 1').get() !== undefined;

export function addSourceFile({ db, act }: Recording, file: SourceFile): void {
  const row = ((db.prepare('SELECT max(row) FROM source_file').pluck().get() as number | null) ?? 0) + 1;
  act.insert('source_file', { row, ...file });
}

/** How files of another ledger were imported, the earliest first. */
export function importedFrom(db: Db, ledger: string): { readonly decisions: Readonly<Record<string, unknown>> }[] {
  const options = db
    .prepare(`SELECT options FROM current_source_file WHERE options LIKE '{"ledger":%' ORDER BY row`)
    .pluck()
    .all() as string[];
  return options
    .map((text) => JSON.parse(text) as { ledger: string; decisions: Record<string, unknown> })
    .filter((each) => each.ledger === ledger);
}
