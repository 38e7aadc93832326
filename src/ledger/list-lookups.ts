import { fold } from '../services/fold.ts';
import type { Day } from '../time/span.ts';
import { kindNamed, parseId } from './kinds.ts';
import type { Db } from './open.ts';
import { resolveRef } from './refs.ts';

export type SeriesRow = { readonly id: number; readonly service: string };

/** A series by its id, key or name. */
export function seriesNamed(db: Db, name: string): SeriesRow | undefined {
  const row = db.prepare('SELECT id, service FROM current_series WHERE key = ? OR name = ?').get(name, name) as
    | SeriesRow
    | undefined;
  if (row || parseId(name)?.kind.kind !== 'series') return row;
  return db
    .prepare('SELECT id, service FROM current_series WHERE id = ?')
    .get(resolveRef(db, kindNamed('series'), name)) as SeriesRow;
}

/** Series in whose names all of the words stand, in any order. */
export function seriesWithWords(db: Db, words: string): { id: number; name: string }[] {
  const series = db.prepare('SELECT id, name FROM current_series ORDER BY id').all() as { id: number; name: string }[];
  const each = fold(words).split(' ');
  return series.filter(({ name }) => {
    const there = new Set(fold(name).split(' '));
    return each.every((word) => there.has(word));
  });
}

/** An edition of a series by its label or key. */
export function editionNamed(
  db: Db,
  seriesId: number,
  label: string,
): { id: number; asAt: { from: Day; until: Day }; hasEntries: boolean } | undefined {
  const row = db
    .prepare(
      `SELECT e.id, d.from_day, d.until_day FROM current_edition AS e JOIN date_expression AS d ON d.id = e.as_at_id
        WHERE e.series_id = ? AND (e.label = ? OR e.key = ?)`,
    )
    .get(seriesId, label, label) as { id: number; from_day: number | null; until_day: number | null } | undefined;
  if (!row) return undefined;
  const hasEntries = db.prepare('SELECT 1 FROM entry_run WHERE edition_id = ? LIMIT 1').get(row.id) !== undefined;
  return {
    id: row.id,
    asAt: { from: (row.from_day ?? -Infinity) as Day, until: (row.until_day ?? Infinity) as Day },
    hasEntries,
  };
}

/** People by key or id, for a list whose rows name them. */
export function knownPeople(db: Db): (words: string) => number | undefined {
  const byKey = db.prepare('SELECT id FROM current_person WHERE key = ?').pluck();
  const byId = db.prepare('SELECT id FROM current_person WHERE id = ?').pluck();
  const none = db.prepare('SELECT 1 FROM person LIMIT 1').get() === undefined;
  return (words) => {
    if (none) return undefined;
    const key = byKey.get(words) as number | undefined;
    if (key !== undefined) return key;
    const id = parseId(words);
    return id?.kind.kind === 'person' ? (byId.get(id.row) as number | undefined) : undefined;
  };
}
