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

/** Ids of a kind that begin so, the shortest first, and of one length the latest. */
export function idsBeginning(db: Db, kind: Kind, typed: string, limit: number): Beginning[] {
  if (typed !== '' && !typed.startsWith(kind.prefix) && !kind.prefix.startsWith(typed)) return [];
  const digits = typed.slice(kind.prefix.length);
  if (!/^(?:[1-9]\d*)?$/.test(digits)) return [];
  if (kind.kind === 'entry') return entriesBeginning(db, digits, limit);
  const table = `"current_${kind.table}"`;
  const within = db
    .prepare(`SELECT DISTINCT id FROM ${table} WHERE id BETWEEN ? AND ? ORDER BY id DESC LIMIT ?`)
    .pluck();
  const last = (db.prepare(`SELECT max(id) FROM "${kind.table}"`).pluck().get() as number | null) ?? 0;
  const found: number[] = [];
  for (const [from, to] of spansOf(digits, last))
    if (found.length < limit) found.push(...(within.all(from, to, limit - found.length) as number[]));
  return found.map((id) => ({ value: `${kind.prefix}${id}`, about: kind.called.replace(/^an? /, '') }));
}

/** The numbers that begin with these figures, up to the last there is: 12 is 12, 120 to 129, 1200 to 1299 and so on. */
function spansOf(digits: string, last: number): [from: number, to: number][] {
  if (digits === '') return [[1, last]];
  const spans: [number, number][] = [];
  for (let room = 1; Number(digits) * room <= last; room *= 10)
    spans.push([Number(digits) * room, (Number(digits) + 1) * room - 1]);
  return spans;
}

/**
 * Lines of editions have no index by number: the number itself, and with one figure more. One that was imported with many
 * others is offered though it may have been withdrawn since, for to look for it takes as long as all else together.
 */
function entriesBeginning(db: Db, digits: string, limit: number): Beginning[] {
  if (digits === '') return [];
  const run = db
    .prepare(
      `SELECT surname_id IS NULL AS of_many FROM (SELECT * FROM entry_run WHERE first_row <= ? ORDER BY first_row DESC LIMIT 1)
         WHERE first_row + row_count > ? AND act_id NOT IN (SELECT act_id FROM void_act)`,
    )
    .pluck();
  const numbers = [digits, ...Array.from({ length: 10 }, (_, last) => `${digits}${last}`)].map(Number);
  return numbers
    .filter((number) => {
      const ofMany = run.get(number, number) as 0 | 1 | undefined;
      return ofMany === 1 || (ofMany === 0 && entryById(db, number) !== undefined);
    })
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
  // Names are looked at one by one: first at what stands in the name alone.
  const byForename = db.prepare(
    `SELECT p.id, s.text AS surname, n.forenames FROM printed_name AS n CROSS JOIN surname AS s ON s.id = n.surname_id
       CROSS JOIN current_person AS p ON p.name_id = n.id WHERE n.forenames LIKE ? AND n.forenames || ' ' || s.text LIKE ? LIMIT ?`,
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
  const [first = '', ...more] = typed.replaceAll(/[%_]/g, '').split(' ');
  if (forenames === undefined && first !== '' && found.size < limit)
    for (const row of byForename.all(`${first}%`, `${[first, ...more].join(' ')}%`, limit) as PersonRow[])
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
    ...(/\d/.test(typed) ? [] : peopleBeginning(db, typed, limit)), // names have no figures
  ].slice(0, limit);
}
