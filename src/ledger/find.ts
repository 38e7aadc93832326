import type { Kind } from './kind.ts';
import { KINDS } from './kinds.ts';
import type { Db } from './open.ts';

/** A record with everything that is written in it, to be searched. */
export type RecordText = { readonly id: string; readonly kind: Kind; readonly text: string };

/** People and entries are too many to be read whole: they are found by their surnames. */
const BY_SURNAME: readonly Kind['kind'][] = ['person', 'name', 'entry', 'link'];

const PERSON_TEXT =
  "SELECT p.id, trim(ifnull(n.forenames, '') || ' ' || s.text || ' ' || ifnull(n.honours, '') || ' ' || ifnull(n.suffix, '') || ' ' || ifnull(p.places, '') || ' ' || ifnull(p.note, '') || ' ' || ifnull(p.key, '')) AS text";

const kindOf = (name: Kind['kind']): Kind => KINDS.find(({ kind }) => kind === name) as Kind;

type Row = { id: number; text: string };
const shaped = (name: Kind['kind'], rows: readonly Row[]): RecordText[] => {
  const kind = kindOf(name);
  return rows.map(({ id, text }) => ({ id: `${kind.prefix}${id}`, kind, text }));
};

/** People recorded under one of these surnames, and other names that have one of them. */
export function peopleTexts(db: Db, surnames: readonly number[], limit: number): RecordText[] {
  const ids = JSON.stringify(surnames);
  const people = db
    .prepare(
      `${PERSON_TEXT} FROM json_each(?) AS wanted CROSS JOIN printed_name AS n ON n.surname_id = wanted.value
         JOIN surname AS s ON s.id = n.surname_id CROSS JOIN current_person AS p ON p.name_id = n.id LIMIT ?`,
    )
    .all(ids, limit) as Row[];
  const names = db
    .prepare(
      `SELECT f.id, n.text FROM json_each(?) AS wanted CROSS JOIN printed_name AS n ON n.surname_id = wanted.value
         CROSS JOIN current_name_form AS f ON f.name_id = n.id LIMIT ?`,
    )
    .all(ids, limit) as Row[];
  return [...shaped('person', people), ...shaped('name', names)];
}

/** People of whom the forenames, places, notes or key hold a word as it is written. */
export const peopleHolding = (db: Db, word: string, limit: number): RecordText[] =>
  shaped(
    'person',
    db
      .prepare(
        `${PERSON_TEXT} FROM current_person AS p JOIN printed_name AS n ON n.id = p.name_id JOIN surname AS s ON s.id = n.surname_id
          WHERE n.forenames LIKE :like OR p.places LIKE :like OR p.note LIKE :like OR p.key LIKE :like LIMIT :limit`,
      )
      .all({ like: `%${word.replaceAll(/[%_]/g, '')}%`, limit }) as Row[],
  );

/** Lines of editions under these surnames. */
export const entryTexts = (db: Db, surnames: readonly number[], limit: number): RecordText[] =>
  shaped(
    'entry',
    db
      .prepare(
        `SELECT coalesce(e.id, e.row) AS id, n.text || ' ' || r.text || ' ' || r.rank || ' ' || ifnull(c.text, '') || ' ' || ed.label || ' ' || ifnull(d.text, '')
             || ' ' || ifnull(e.page, '') || ' ' || ifnull(e.note, '') || ' ' || ifnull(e.key, '') AS text
           FROM json_each(?) AS wanted CROSS JOIN current_entry AS e ON e.surname_id = wanted.value
           JOIN printed_name AS n ON n.id = e.name_id JOIN rank_style AS r ON r.id = e.rank_id JOIN current_edition AS ed ON ed.id = e.edition_id
           LEFT JOIN corps_style AS c ON c.id = e.corps_id LEFT JOIN date_expression AS d ON d.id = e.dated_id LIMIT ?`,
      )
      .all(JSON.stringify(surnames), limit) as Row[],
  );

/** Every record that is neither a person nor a line of an edition, with the names of the people in it. */
export function otherTexts(db: Db): RecordText[] {
  return KINDS.filter(({ kind }) => !BY_SURNAME.includes(kind)).flatMap((kind) => {
    const parts = kind.fields.flatMap((field) => {
      const column = `x."${field.column}"`;
      switch (field.type) {
        case 'text':
        case 'texts':
        case 'choice':
        case 'roles':
          return [column];
        case 'date':
          return [`(SELECT d.text FROM date_expression AS d WHERE d.id = ${column})`];
        case 'rank':
          return [`(SELECT r.text FROM rank_style AS r WHERE r.id = ${column})`];
        case 'corps':
          return [`(SELECT c.text FROM corps_style AS c WHERE c.id = ${column})`];
        case 'name':
          return [`(SELECT n.text FROM printed_name AS n WHERE n.id = ${column})`];
        case 'ref':
          return NAMED[field.to]?.(column) ?? [];
        default:
          return [];
      }
    });
    const text = [...parts, 'x.key'].map((part) => `ifnull(${part}, '')`).join(" || ' ' || ");
    return shaped(
      kind.kind,
      db.prepare(`SELECT x.id, ${text} AS text FROM "current_${kind.table}" AS x`).all() as Row[],
    );
  });
}

/** What a record is called to which another refers. */
const NAMED: Partial<Record<Kind['kind'], (column: string) => string[]>> = {
  person: (column) => [
    `(SELECT n.text FROM current_person AS p JOIN printed_name AS n ON n.id = p.name_id WHERE p.id = ${column})`,
  ],
  series: (column) => [`(SELECT s.name FROM current_series AS s WHERE s.id = ${column})`],
  edition: (column) => [`(SELECT e.label FROM current_edition AS e WHERE e.id = ${column})`],
  object: (column) => [`(SELECT o.ref FROM current_object AS o WHERE o.id = ${column})`],
};
