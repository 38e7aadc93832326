import { HeldbyError } from '../errors.ts';
import { kindNamed } from './kinds.ts';
import type { Db } from './open.ts';
import { resolveRef } from './refs.ts';

export type SeriesShown = {
  readonly id: number;
  readonly key: string | null;
  readonly name: string;
  readonly service: string;
};

/**
 * The series named; where none is, the only one there is.
 * @throws HeldbyError USAGE where there are several, REFERENCE where there is none.
 */
export function seriesMeant(db: Db, words: string | undefined): SeriesShown {
  const rows = db.prepare('SELECT id, key, name, service FROM current_series ORDER BY id').all() as SeriesShown[];
  if (words !== undefined) {
    const id = resolveRef(db, kindNamed('series'), words);
    return rows.find((row) => row.id === id) as SeriesShown;
  }
  const [only, another] = rows;
  if (only === undefined)
    throw new HeldbyError(
      'REFERENCE',
      'The ledger knows no series of lists.',
      'Record one: heldby series add NAME --service SERVICE',
    );
  if (another !== undefined)
    throw new HeldbyError('USAGE', 'Of which series?', `One of: ${rows.map(({ name }) => name).join('; ')}.`);
  return only;
}

export type EditionShown = {
  readonly id: number;
  readonly key: string | null;
  readonly label: string;
  readonly asAt: string;
};

/** The editions of a series by the days as at which they stand. */
export const editionsOf = (db: Db, series: number): EditionShown[] =>
  db
    .prepare(
      `SELECT e.id, e.key, e.label, d.text AS asAt FROM current_edition AS e JOIN date_expression AS d ON d.id = e.as_at_id
        WHERE e.series_id = ? ORDER BY coalesce(d.from_day, d.until_day), e.id`,
    )
    .all(series) as EditionShown[];

/** People who were looked for in an edition of the series, then those who are listed in one; each once, by their ids. */
export function peopleInSeries(db: Db, series: number): { readonly sought: number[]; readonly listed: number[] } {
  const sought = db
    .prepare(
      `SELECT DISTINCT q.person_id FROM current_search AS q JOIN current_edition AS e ON e.id = q.edition_id
        WHERE e.series_id = ? AND q.outcome = 'not found' AND q.person_id IS NOT NULL ORDER BY q.person_id`,
    )
    .pluck()
    .all(series) as number[];
  const listed = db
    .prepare(
      // Not joined: so the editions are read once, not for each of their lines.
      `SELECT DISTINCT person_id FROM bearer WHERE edition_id IN (SELECT id FROM current_edition WHERE series_id = ?)
        AND person_id IS NOT NULL ORDER BY person_id`,
    )
    .pluck()
    .all(series) as number[];
  return { sought, listed };
}

export type SweepShown = { readonly id: number; readonly edition: number; readonly surname: string };

/** Sweeps of surnames in the editions of a series, without those that were set aside. */
export const sweepsIn = (db: Db, series: number): SweepShown[] =>
  db
    .prepare(
      `SELECT q.id, q.edition_id AS edition, q.surname FROM current_search AS q JOIN current_edition AS e ON e.id = q.edition_id
        WHERE e.series_id = ? AND q.outcome = 'all taken' AND 'q' || q.id NOT IN (SELECT record FROM current_set_aside)
        ORDER BY q.id`,
    )
    .all(series) as SweepShown[];
