import { bearerOfEntry } from './bearers.ts';
import { parseId } from './kinds.ts';
import { type MarkRow, markById, marksOf } from './marks.ts';
import type { Db } from './open.ts';
import { currentRow } from './records.ts';

/** Whose careers, which objects, and which surnames swept, a record bears on. */
export type Affected = {
  readonly people: readonly number[];
  readonly objects: readonly number[];
  readonly surnames: readonly string[];
  /** A record on which everything rests, such as an assumption: everybody is affected. */
  readonly everything: boolean;
};

const NONE: Affected = { people: [], objects: [], surnames: [], everything: false };

/** What would be reckoned otherwise without the record, or with another one in its place. */
export function affectedBy(db: Db, id: string): Affected {
  const parsed = parseId(id);
  const row = parsed && currentRow(db, parsed.kind, parsed.row);
  if (!parsed || !row) return NONE;
  const number = (column: string): number[] => (typeof row[column] === 'number' ? [Number(row[column])] : []);
  const { kind } = parsed;
  switch (kind.kind) {
    case 'person':
      return { ...NONE, people: [parsed.row] };
    case 'entry':
      return { ...NONE, people: bearer(db, parsed.row) };
    case 'link':
      return { ...NONE, people: [...number('person_id'), ...number('entry_id').flatMap((entry) => bearer(db, entry))] };
    case 'name':
    case 'notice':
    case 'same':
    case 'differ':
    case 'kin':
      return { ...NONE, people: ['person_id', 'vice_id', 'other_id', 'relative_id'].flatMap(number) };
    case 'search':
      return {
        ...NONE,
        people: number('person_id'),
        surnames: row['surname'] === null ? [] : [String(row['surname'])],
      };
    case 'edition':
      return { ...NONE, people: listedIn(db, [parsed.row]), surnames: sweptIn(db, [parsed.row]) };
    case 'series': {
      const editions = db
        .prepare('SELECT id FROM current_edition WHERE series_id = ?')
        .pluck()
        .all(parsed.row) as number[];
      return { ...NONE, people: listedIn(db, editions), surnames: sweptIn(db, editions) };
    }
    case 'object':
      return { ...NONE, objects: [parsed.row] };
    case 'feature':
      return { ...NONE, objects: number('object_id') };
    case 'mark':
      return { ...NONE, objects: number('object_id') };
    case 'reading':
    case 'clue':
      return { ...NONE, objects: number('mark_id').flatMap((mark) => markById(db, mark)?.object_id ?? []) };
    case 'setAside':
      return affectedBy(db, String(row['record']));
    case 'photo':
    case 'attribution':
    case 'fact':
      return NONE;
    default:
      return { ...NONE, everything: true };
  }
}

const bearer = (db: Db, entry: number): number[] => {
  const person = bearerOfEntry(db, entry);
  return person === undefined ? [] : [person];
};

/** Everybody who is listed, or was looked for, in some editions. */
function listedIn(db: Db, editions: readonly number[]): number[] {
  const ids = JSON.stringify(editions);
  return db
    .prepare(
      `SELECT DISTINCT person_id FROM bearer WHERE edition_id IN (SELECT value FROM json_each(?)) AND person_id IS NOT NULL
       UNION
       SELECT person_id FROM current_search WHERE edition_id IN (SELECT value FROM json_each(?)) AND person_id IS NOT NULL`,
    )
    .pluck()
    .all(ids, ids) as number[];
}

const sweptIn = (db: Db, editions: readonly number[]): string[] =>
  db
    .prepare(
      'SELECT DISTINCT surname FROM current_search WHERE surname IS NOT NULL AND edition_id IN (SELECT value FROM json_each(?))',
    )
    .pluck()
    .all(JSON.stringify(editions)) as string[];

/** The marks of some objects, or all there are, that were not set aside. */
export function marksThere(db: Db, objects: readonly number[] | undefined): MarkRow[] {
  if (objects !== undefined) return objects.flatMap((object) => marksOf(db, object));
  const ids = db
    .prepare("SELECT id FROM current_mark WHERE 'm' || id NOT IN (SELECT record FROM current_set_aside) ORDER BY id")
    .pluck()
    .all() as number[];
  return ids.flatMap((id) => markById(db, id) ?? []);
}
