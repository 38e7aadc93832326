import type { DateEvidence } from '../careers/evidence.ts';
import type { FeatureWindow } from '../dating/making.ts';
import { keptRoles, type RoleWeights } from '../dating/mark-roles.ts';
import type { MarkClue } from '../dating/marking.ts';
import type { RecordedForce } from '../dating/recorded-force.ts';
import type { Span } from '../time/span.ts';
import { ALL_TIME } from '../time/span.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

export type MarkRow = {
  readonly id: number;
  readonly key: string | null;
  readonly object_id: number;
  readonly text: string;
  /** As it is recorded: one role, or several with their weights. */
  readonly role: string;
  readonly roles: RoleWeights;
  readonly made_id: number | null;
  readonly over_id: number | null;
  readonly surname: string | null;
  readonly forenames: string | null;
  readonly rank: string | null;
  readonly corps: string | null;
  readonly place: string | null;
};

const COLUMNS = 'id, key, object_id, text, role, made_id, over_id, surname, forenames, rank, corps, place';

type StoredMark = Omit<MarkRow, 'roles'>;
const withRoles = (row: StoredMark): MarkRow => ({ ...row, roles: keptRoles(row.role) });
const found = (row: unknown): MarkRow | undefined => (row === undefined ? undefined : withRoles(row as StoredMark));

export const markById = (db: Db, id: number): MarkRow | undefined =>
  found(prepared(db, `SELECT ${COLUMNS} FROM current_mark WHERE id = ?`).get(id));

/** The mark that has this key, else the first that reads so. */
export const markWritten = (db: Db, words: string): MarkRow | undefined =>
  found(
    prepared(db, `SELECT ${COLUMNS} FROM current_mark WHERE key = ? OR text = ? ORDER BY key IS NOT ?, id LIMIT 1`).get(
      words,
      words,
      words,
    ),
  );

/** All marks of an object that were not set aside, in the order in which they were recorded. */
export const marksOf = (db: Db, object: number): MarkRow[] =>
  (
    prepared(
      db,
      `SELECT ${COLUMNS} FROM current_mark
          WHERE object_id = ? AND 'm' || id NOT IN (SELECT record FROM current_set_aside) ORDER BY id`,
    ).all(object) as StoredMark[]
  ).map(withRoles);

/** Another reading of a mark; the first is the mark's own text. */
export type ReadingRow = { readonly id: number; readonly text: string; readonly by_whom: string | null };

/** The further readings of a mark that were neither withdrawn nor set aside, in the order of recording. */
export const readingsOf = (db: Db, mark: number): ReadingRow[] =>
  prepared(
    db,
    `SELECT id, text, by_whom FROM current_reading
        WHERE mark_id = ? AND 'r' || id NOT IN (SELECT record FROM current_set_aside) ORDER BY id`,
  ).all(mark) as ReadingRow[];

export type ObjectRow = {
  readonly id: number;
  readonly key: string | null;
  readonly ref: string;
  readonly title: string;
  readonly horizon_id: number | null;
};

export const objectById = (db: Db, id: number): ObjectRow | undefined =>
  prepared(db, 'SELECT id, key, ref, title, horizon_id FROM current_object WHERE id = ?').get(id) as
    | ObjectRow
    | undefined;

type FeatureRow = {
  id: number;
  row: number;
  text: string;
  window_id: number | null;
  force: string;
  weight: string;
  state: string;
  confidence: string | null;
};

/** A datable trait as it is recorded: its window may be firm on one side only. */
export type RecordedFeature = Omit<FeatureWindow, 'force'> & { readonly force: RecordedForce };

/** The datable traits of an object, without those that the researcher set aside. */
export function featuresOf(db: Db, object: number, date: (id: number) => DateEvidence): RecordedFeature[] {
  const rows = prepared(
    db,
    `SELECT id, row, text, window_id, force, weight, state, confidence FROM current_feature
        WHERE object_id = ? AND 'f' || id NOT IN (SELECT record FROM current_set_aside) ORDER BY id`,
  ).all(object) as FeatureRow[];
  return rows.map((row) => ({
    id: `f${row.id}`,
    text: row.text,
    window: row.window_id === null ? ALL_TIME : date(row.window_id).span,
    force: row.force as RecordedForce,
    weight: row.weight as FeatureWindow['weight'],
    state: row.state as FeatureWindow['state'],
    ...(row.confidence === null ? {} : { confidence: row.confidence as 'high' }),
    recorded: row.row,
  }));
}

type ClueRow = Pick<FeatureRow, 'id' | 'row' | 'text' | 'force' | 'weight' | 'confidence'> & {
  window_id: number;
  fact: string | null;
  source: string | null;
};

/** A datable wording of a mark that the researcher confirmed, as it is recorded. */
export type RecordedClue = Omit<MarkClue, 'force'> & {
  readonly force: RecordedForce;
  readonly text: string;
  readonly fact: string | null;
  readonly source: string | null;
};

/** The confirmed datable wordings of a mark, without those that the researcher set aside again. */
export function cluesOf(db: Db, mark: number, date: (id: number) => DateEvidence): RecordedClue[] {
  const rows = prepared(
    db,
    `SELECT id, row, text, window_id, force, weight, confidence, fact, source FROM current_clue
        WHERE mark_id = ? AND 'cl' || id NOT IN (SELECT record FROM current_set_aside) ORDER BY id`,
  ).all(mark) as ClueRow[];
  return rows.map((row) => ({
    id: `cl${row.id}`,
    text: row.text,
    window: date(row.window_id).span,
    force: row.force as RecordedForce,
    weight: row.weight as MarkClue['weight'],
    ...(row.confidence === null ? {} : { confidence: row.confidence as 'high' }),
    recorded: row.row,
    fact: row.fact,
    source: row.source,
  }));
}

export type SweepRow = { readonly id: string; readonly surname: string; readonly service: string; readonly asAt: Span };

/** Sweeps of surnames: every bearer was taken down from an edition. */
export function sweeps(
  db: Db,
  edition: (id: number) => { readonly asAt: DateEvidence; readonly service: string },
): SweepRow[] {
  const rows = prepared(
    db,
    "SELECT id, edition_id, surname FROM current_search WHERE outcome = 'all taken' AND 'q' || id NOT IN (SELECT record FROM current_set_aside) ORDER BY id",
  ).all() as { id: number; edition_id: number; surname: string }[];
  return rows.map((row) => ({
    id: `q${row.id}`,
    surname: row.surname,
    service: edition(row.edition_id).service,
    asAt: edition(row.edition_id).asAt.span,
  }));
}
