import { entryById } from './entries.ts';
import { capitalsFirst } from './find-in-edition.ts';
import type { Kind } from './kind.ts';
import { KINDS } from './kinds.ts';
import type { Db } from './open.ts';

/** What a typed word can go on to be: the words to put in its place, and what they stand for. */
export type Beginning = { readonly value: string; readonly about: string };

/** The end of every text that begins with the same letters. */
const LAST = '\uffff';

/** Each way in which capitals may stand in what was typed in small letters. */
const spellings = (typed: string): string[] => [...new Set([typed, capitalsFirst(typed), typed.toUpperCase()])];

/** Ids of a kind that begin so, the latest first. */
export function idsBeginning(db: Db, kind: Kind, typed: string, limit: number): Beginning[] {
  if (typed !== '' && !typed.startsWith(kind.prefix) && !kind.prefix.startsWith(typed)) return [];
  const digits = typed.slice(kind.prefix.length);
  if (!/^\d*$/.test(digits)) return [];
  if (kind.kind === 'entry') return entriesBeginning(db, digits, limit);
  const ids = db
    .prepare(`SELECT DISTINCT id FROM "current_${kind.table}" WHERE CAST(id AS TEXT) LIKE ? ORDER BY id DESC LIMIT ?`)
    .pluck()
    .all(`${digits}%`, limit) as number[];
  return ids.map((id) => ({ value: `${kind.prefix}${id}`, about: kind.called.replace(/^an? /, '') }));
}

/** Lines of editions have no index by number, and are looked for one by one: the number itself, and with one figure more. */
function entriesBeginning(db: Db, digits: string, limit: number): Beginning[] {
  if (!/^[1-9]/.test(digits)) return [];
  const numbers = [digits, ...Array.from({ length: 10 }, (_, last) => `${digits}${last}`)].map(Number);
  return numbers
    .filter((number) => entryById(db, number) !== undefined)
    .slice(0, limit)
    .map((number) => ({ value: `e${number}`, about: 'entry' }));
}

type PersonRow = { id: number; surname: string; forenames: string | null };

/** People whose name begins so, written the way round that it was begun; of namesakes the ids. */
export function peopleBeginning(db: Db, typed: string, limit: number): Beginning[] {
  const bySurname = db.prepare(
    `SELECT p.id, s.text AS surname, n.forenames FROM surname AS s CROSS JOIN printed_name AS n ON n.surname_id = s.id
       CROSS JOIN current_person AS p ON p.name_id = n.id WHERE s.text >= ? AND s.text < ? LIMIT ?`,
  );
  const byForename = db.prepare(
    `SELECT p.id, s.text AS surname, n.forenames FROM current_person AS p JOIN printed_name AS n ON n.id = p.name_id
       JOIN surname AS s ON s.id = n.surname_id WHERE n.forenames || ' ' || s.text LIKE ? LIMIT ?`,
  );
  const [surname = '', forenames] = typed.split(/,\s*/);
  const found = new Map<number, Beginning>();
  const add = (row: PersonRow, value: string): void => {
    if (!found.has(row.id)) found.set(row.id, { value, about: `p${row.id}` });
  };
  for (const spelling of spellings(surname))
    for (const row of bySurname.all(spelling, spelling + LAST, limit) as PersonRow[])
      if (forenames === undefined || (row.forenames ?? '').toLowerCase().startsWith(forenames.toLowerCase()))
        add(row, row.forenames === null ? row.surname : `${row.surname}, ${row.forenames}`);
  if (forenames === undefined && typed !== '')
    for (const row of byForename.all(`${typed.replaceAll(/[%_]/g, '')}%`, limit) as PersonRow[])
      add(row, row.forenames === null ? row.surname : `${row.forenames} ${row.surname}`);
  const values = [...found.values()];
  return values.map((each) =>
    values.some((other) => other !== each && other.value === each.value)
      ? { value: each.about, about: each.value }
      : each,
  );
}

/** Short texts of a table that begin so. */
const textsBeginning = (db: Db, sql: string, typed: string, limit: number): Beginning[] =>
  db.prepare(`${sql} LIMIT ?`).all(`${typed.replaceAll(/[%_]/g, '')}%`, limit) as Beginning[];

export const editionsBeginning = (db: Db, typed: string, limit: number): Beginning[] => [
  ...textsBeginning(
    db,
    "SELECT e.label AS value, s.name || ' ed' || e.id AS about FROM current_edition AS e JOIN current_series AS s ON s.id = e.series_id WHERE e.label LIKE ? ORDER BY e.label",
    typed,
    limit,
  ),
  ...(typed === ''
    ? []
    : textsBeginning(
        db,
        "SELECT s.name || ' ' || e.label AS value, 'ed' || e.id AS about FROM current_edition AS e JOIN current_series AS s ON s.id = e.series_id WHERE s.name || ' ' || e.label LIKE ? ORDER BY s.name, e.label",
        typed,
        limit,
      )),
];

export const seriesBeginning = (db: Db, typed: string, limit: number): Beginning[] =>
  textsBeginning(
    db,
    "SELECT name AS value, 's' || id AS about FROM current_series WHERE name LIKE ? ORDER BY id",
    typed,
    limit,
  );

export const objectsBeginning = (db: Db, typed: string, limit: number): Beginning[] =>
  textsBeginning(
    db,
    'SELECT ref AS value, title AS about FROM current_object WHERE ref LIKE ? ORDER BY ref',
    typed,
    limit,
  );

export const marksBeginning = (db: Db, typed: string, limit: number): Beginning[] =>
  textsBeginning(
    db,
    "SELECT 'm' || id AS value, text AS about FROM current_mark WHERE 'm' || id LIKE ? ORDER BY id",
    typed,
    limit,
  );

export const corpsBeginning = (db: Db, typed: string, limit: number): Beginning[] =>
  textsBeginning(
    db,
    "SELECT text AS value, 'corps' AS about FROM corps_style WHERE text LIKE ? ORDER BY id",
    typed,
    limit,
  );

export const ranksBeginning = (db: Db, typed: string, limit: number): Beginning[] =>
  textsBeginning(
    db,
    'SELECT DISTINCT text AS value, rank AS about FROM rank_style WHERE text LIKE ? ORDER BY id',
    typed,
    limit,
  );

export const actsBeginning = (db: Db, typed: string, limit: number): Beginning[] =>
  textsBeginning(
    db,
    'SELECT CAST(id AS TEXT) AS value, command AS about FROM act WHERE CAST(id AS TEXT) LIKE ? ORDER BY id DESC',
    typed,
    limit,
  );

/** Whatever a record can be named by. */
export function recordsBeginning(db: Db, typed: string, limit: number): Beginning[] {
  const ids =
    typed === ''
      ? []
      : KINDS.filter(({ prefix }) => prefix.startsWith(typed) || typed.startsWith(prefix)).flatMap((kind) =>
          idsBeginning(db, kind, typed, 20),
        );
  return [
    ...ids,
    ...objectsBeginning(db, typed, limit),
    ...editionsBeginning(db, typed, limit),
    ...peopleBeginning(db, typed, limit),
  ].slice(0, limit);
}
