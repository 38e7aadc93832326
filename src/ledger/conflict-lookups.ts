import type { CareerEvidence } from '../careers/evidence.ts';
import type { Db } from './open.ts';

export type KinRow = {
  readonly id: number;
  readonly key: string | null;
  readonly person: number;
  readonly relation: string;
  readonly relative: number;
};

export type PairRow = {
  readonly id: number;
  readonly key: string | null;
  readonly person: number;
  readonly other: number;
};

const notAside = (prefix: string): string => `'${prefix}' || id NOT IN (SELECT record FROM current_set_aside)`;

/** Recorded kinships that were not set aside, in the order of recording. */
export const kinships = (db: Db): KinRow[] =>
  db
    .prepare(
      `SELECT id, key, person_id AS person, relation, relative_id AS relative FROM current_kin WHERE ${notAside('k')} ORDER BY id`,
    )
    .all() as KinRow[];

/** Findings that two records are of one person. */
export const samenesses = (db: Db): PairRow[] =>
  db
    .prepare(
      `SELECT id, key, person_id AS person, other_id AS other FROM current_same WHERE ${notAside('sm')} ORDER BY id`,
    )
    .all() as PairRow[];

/** Findings that two records are not of one person. */
export const differences = (db: Db): PairRow[] =>
  db
    .prepare(
      `SELECT id, key, person_id AS person, other_id AS other FROM current_differ WHERE ${notAside('df')} ORDER BY id`,
    )
    .all() as PairRow[];

/** People of whom a notice tells a birth, a death, a marriage or a change of name. */
export const peopleWithLifeNotices = (db: Db): number[] =>
  db
    .prepare(
      "SELECT DISTINCT person_id FROM current_notice WHERE event IN ('born', 'died', 'married', 'renamed') ORDER BY person_id",
    )
    .pluck()
    .all() as number[];

/** Everybody, those of one surname together: so their entries are read cluster by cluster. */
export const everybodyBySurname = (db: Db): number[] =>
  db
    .prepare(
      'SELECT p.id FROM current_person AS p JOIN printed_name AS n ON n.id = p.name_id ORDER BY n.surname_id, p.id',
    )
    .pluck()
    .all() as number[];

/** Objects that have a firm window, or a dated or overlying mark or one with clues: only their days can contradict. */
export const objectsWithDays = (db: Db): number[] =>
  db
    .prepare(
      `SELECT id FROM current_object WHERE id IN (SELECT object_id FROM current_feature WHERE force <> 'usual')
         OR id IN (SELECT object_id FROM current_mark WHERE made_id IS NOT NULL OR over_id IS NOT NULL
                     OR id IN (SELECT mark_id FROM current_clue)) ORDER BY id`,
    )
    .pluck()
    .all() as number[];

export type SetAsideRow = {
  readonly id: number;
  readonly record: string;
  readonly why: string | null;
  readonly act: number;
  readonly who: string;
};

/** What the researcher set aside, with the reason; of one record the latest. */
export const setAsides = (db: Db): SetAsideRow[] =>
  db
    .prepare(
      `SELECT x.id, x.record, x.why, x.act_id AS act, a.who FROM current_set_aside AS x JOIN act AS a ON a.id = x.act_id
        WHERE NOT EXISTS (SELECT 1 FROM current_set_aside AS y WHERE y.record = x.record AND y.row > x.row) ORDER BY x.id`,
    )
    .all() as SetAsideRow[];

/** Those of them that bear on one career: its records, and the editions that they stand in. */
export function setAsideOf(db: Db, evidence: CareerEvidence): SetAsideRow[] {
  if (evidence.setAside.size === 0) return [];
  const { entries, notices, nilSearches, conditions, born, died } = evidence;
  const own = new Set([
    ...[...entries, ...nilSearches].flatMap(({ id, edition }) => [id, edition.id]),
    ...[...notices, ...conditions].map(({ id }) => id),
    ...[born, died].flatMap((life) => (life === undefined ? [] : [life.id])),
  ]);
  return setAsides(db).filter(({ record }) => own.has(record));
}

export type ActShown = {
  readonly id: number;
  readonly at: string;
  readonly who: string;
  readonly command: string;
  readonly why: string | null;
  readonly void: 0 | 1;
};

/** One act as it is told beneath what it recorded. */
export const actShown = (db: Db, id: number): ActShown | undefined =>
  db
    .prepare(
      'SELECT id, at, who, command, why, EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = act.id) AS void FROM act WHERE id = ?',
    )
    .get(id) as ActShown | undefined;
