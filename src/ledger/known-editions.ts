import type { Db } from './open.ts';

/** Every edition that the ledger knows, in the order of recording. */
export const editionIds = (db: Db): number[] =>
  db.prepare('SELECT id FROM current_edition ORDER BY id').pluck().all() as number[];

/** Surnames of which every bearer was taken down, by edition; also where that search was set aside. */
export function sweptIn(db: Db): ReadonlyMap<number, readonly string[]> {
  const rows = db
    .prepare("SELECT edition_id, surname FROM current_search WHERE outcome = 'all taken' ORDER BY id")
    .all() as { edition_id: number; surname: string }[];
  const swept = new Map<number, string[]>();
  for (const { edition_id, surname } of rows) {
    const known = swept.get(edition_id);
    if (known === undefined) swept.set(edition_id, [surname]);
    else known.push(surname);
  }
  return swept;
}

/** What a series is called. */
export const seriesNameOf = (db: Db, series: number): string =>
  db.prepare('SELECT name FROM current_series WHERE id = ?').pluck().get(series) as string;
