import { fold } from '../services/fold.ts';
import { entriesOfPeople } from './entries.ts';
import type { Cell } from './journal.ts';
import type { Kind, KindName } from './kind.ts';
import type { Db } from './open.ts';

type Cells = Readonly<Record<string, Cell | undefined>>;

/** The columns by which a record is the same thing as another, whatever else the two say. */
const SAME_BY: Partial<Record<KindName, readonly string[]>> = {
  service: ['name'],
  rank: ['service', 'title'],
  corps: ['name'],
  series: ['name'],
  edition: ['series_id', 'label'],
  name: ['person_id', 'name_id'],
  same: ['person_id', 'other_id'],
  differ: ['person_id', 'other_id'],
  kin: ['person_id', 'relation', 'relative_id'],
  link: ['entry_id'],
  search: ['edition_id', 'outcome', 'person_id', 'surname'],
  notice: ['person_id', 'event', 'date_id'],
  condition: ['rank_id', 'at_least_days', 'at_most_days'],
  object: ['ref'],
  feature: ['object_id', 'text'],
  mark: ['object_id', 'text', 'role'],
  reading: ['mark_id', 'text'],
  photo: ['of', 'sha256'],
  attribution: ['mark_id', 'person_id'],
  assumption: ['name'],
  setAside: ['record'],
  fact: ['name'],
  clue: ['mark_id', 'text'],
};

/** The current records that are about the same thing, the latest first. */
export function twinsOf(db: Db, kind: Kind, cells: Cells): number[] {
  const by = SAME_BY[kind.kind];
  if (by === undefined) return [];
  const find = (given: Cells): number[] =>
    db
      .prepare(
        `SELECT id FROM "current_${kind.table}" WHERE ${by.map((column) => `"${column}" IS ?`).join(' AND ')} ORDER BY row DESC`,
      )
      .pluck()
      .all(...by.map((column) => given[column] ?? null)) as number[];
  switch (kind.kind) {
    case 'same':
    case 'differ':
      // Whichever of the two is named first.
      return [...find(cells), ...find({ ...cells, person_id: cells['other_id'], other_id: cells['person_id'] })];
    case 'edition':
      return [...find(cells), ...sameDay(db, 'current_edition', ['series_id'], 'as_at_id', cells)];
    case 'notice':
      return [...find(cells), ...sameDay(db, 'current_notice', ['person_id', 'event'], 'date_id', cells)];
    case 'series':
      return sameFolded(db, String(cells['name']));
    default:
      return find(cells);
  }
}

/** A record of the same thing whose date is worded otherwise but means the same days. */
const sameDay = (db: Db, view: string, columns: readonly string[], date: string, cells: Cells): number[] =>
  db
    .prepare(
      `SELECT x.id FROM ${view} AS x JOIN date_expression AS d ON d.id = x.${date} JOIN date_expression AS e ON e.id = ?
        WHERE d.from_day IS e.from_day AND d.until_day IS e.until_day AND ${columns.map((column) => `x.${column} = ?`).join(' AND ')} ORDER BY x.id`,
    )
    .pluck()
    .all(cells[date] ?? null, ...columns.map((column) => cells[column] ?? null)) as number[];

function sameFolded(db: Db, name: string): number[] {
  const all = db.prepare('SELECT id, name FROM current_series ORDER BY id').all() as { id: number; name: string }[];
  const plain = (text: string): string =>
    fold(text)
      .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
      .trim();
  return all.filter((each) => plain(each.name) === plain(name)).map(({ id }) => id);
}

/** Entries of one edition that somebody bears, by their ids, with their cells. */
export const entriesIn = (db: Db, person: number, edition: number): { id: number; cells: Cells }[] =>
  entriesOfPeople(db, [person])
    .filter(({ edition_id }) => edition_id === edition)
    .map(({ bearer: _bearer, ...row }) => ({ id: row.id ?? row.row, cells: { ...row, person_id: person } as Cells }));

/** The entry of an edition that reads just so, whoever bears it. */
export const entryReading = (db: Db, cells: Cells): { id: number; person: number | null } | undefined =>
  db
    .prepare(
      `SELECT b.entry_id AS id, b.person_id AS person FROM current_entry AS e JOIN bearer AS b ON b.entry_row = e.row AND b.surname_id = e.surname_id
        WHERE e.surname_id = (SELECT surname_id FROM printed_name WHERE id = @name) AND b.surname_id = e.surname_id
          AND e.edition_id = @edition AND e.name_id = @name AND e.rank_id = @rank AND e.corps_id IS @corps
          AND e.dated_id IS @dated AND e.page IS @page ORDER BY b.person_id IS NOT NULL LIMIT 1`,
    )
    .get({
      name: cells['name_id'] ?? null,
      edition: cells['edition_id'] ?? null,
      rank: cells['rank_id'] ?? null,
      corps: cells['corps_id'] ?? null,
      dated: cells['dated_id'] ?? null,
      page: cells['page'] ?? null,
    }) as { id: number; person: number | null } | undefined;

export type Namesake = { readonly id: number; readonly surname: string; readonly forenames: string | null };

/** Everybody who is recorded under a surname that folds to the same letters as this one, or bore it. */
export function namesakes(db: Db, surname: string): Namesake[] {
  const folded = fold(surname);
  const ids = (db.prepare('SELECT id, text FROM surname').raw().all() as [number, string][])
    .filter(([, text]) => fold(text) === folded)
    .map(([id]) => id);
  return db
    .prepare(
      `SELECT p.id, s.text AS surname, n.forenames FROM current_person AS p JOIN printed_name AS n ON n.id = p.name_id
         JOIN surname AS s ON s.id = n.surname_id
        WHERE n.surname_id IN (SELECT value FROM json_each(@ids)) OR p.id IN (
          SELECT f.person_id FROM current_name_form AS f JOIN printed_name AS m ON m.id = f.name_id
           WHERE m.surname_id IN (SELECT value FROM json_each(@ids))) ORDER BY p.id`,
    )
    .all({ ids: JSON.stringify(ids) }) as Namesake[];
}

/** Whether nothing but their own record speaks of somebody: no entry, notice, name or kin. */
export const isBare = (db: Db, person: number): boolean =>
  db.prepare('SELECT 1 FROM bearer_surname WHERE person_id = ?').get(person) === undefined &&
  ['notice', 'name_form', 'kin'].every(
    (table) => db.prepare(`SELECT 1 FROM "current_${table}" WHERE person_id = ? LIMIT 1`).get(person) === undefined,
  );

/** Every edition in which somebody is listed. */
export const editionsOf = (db: Db, person: number): number[] =>
  entriesOfPeople(db, [person]).map(({ edition_id }) => edition_id);

/** The parts of a name of the dictionary. */
export const nameParts = (db: Db, name: number): { readonly surname: string; readonly forenames: string | null } =>
  db
    .prepare(
      'SELECT s.text AS surname, n.forenames FROM printed_name AS n JOIN surname AS s ON s.id = n.surname_id WHERE n.id = ?',
    )
    .get(name) as { surname: string; forenames: string | null };

/** Acts that corrected a field of a record, and still count. */
export const correctionsOf = (db: Db, kind: Kind, id: number, field: string): number[] =>
  db
    .prepare(
      `SELECT DISTINCT r.act_id FROM replaced AS r JOIN "${kind.table}" AS x ON x.row = r.target
        WHERE r.kind = ? AND r.field = ? AND (x.id = ? OR (x.id IS NULL AND x.row = ?)) AND r.act_id NOT IN (SELECT act_id FROM void_act) ORDER BY r.act_id`,
    )
    .pluck()
    .all(kind.table, field, id, id) as number[];
