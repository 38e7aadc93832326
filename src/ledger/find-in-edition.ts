import { type EntryRow, entryById } from './entries.ts';
import type { Db } from './open.ts';

/** Numbers that may be looked through for a line that still counts: those between may have been taken back. */
const MOST_STEPS = 200;

type Run = { first_row: number; row_count: number };

/** The line of an edition that was recorded last, and still counts. */
export function lastEntryIn(db: Db, edition: number): EntryRow | undefined {
  return nearest(db, edition, Number.MAX_SAFE_INTEGER, 'before');
}

/** The lines of the same edition that were recorded before and after one, in the order of reading. */
export function entriesBeside(
  db: Db,
  id: number,
  edition: number,
): { before: EntryRow | undefined; after: EntryRow | undefined } {
  return { before: nearest(db, edition, id, 'before'), after: nearest(db, edition, id, 'after') };
}

/** Entries are numbered in the order of reading; the number of a record is that of its first version. */
function nearest(db: Db, edition: number, from: number, side: 'before' | 'after'): EntryRow | undefined {
  const runs = db.prepare(
    side === 'before'
      ? 'SELECT first_row, row_count FROM entry_run WHERE edition_id = ? AND first_row < ? ORDER BY first_row DESC LIMIT ?'
      : 'SELECT first_row, row_count FROM entry_run WHERE edition_id = ? AND first_row + row_count - 1 > ? ORDER BY first_row LIMIT ?',
  );
  let steps = 0;
  for (const { first_row: first, row_count: count } of runs.all(edition, from, MOST_STEPS) as Run[]) {
    const last = first + count - 1;
    const start = side === 'before' ? Math.min(last, from - 1) : Math.max(first, from + 1);
    for (let row = start; row >= first && row <= last; row += side === 'before' ? -1 : 1) {
      if (steps++ > MOST_STEPS) return undefined;
      const entry = entryById(db, row);
      // A row that corrects another is no line of its own.
      if (entry && (entry.id === null || entry.id === row)) return entry;
    }
  }
  return undefined;
}

/** A line as it is printed, for finding the same one again. */
export type PrintedLine = {
  readonly name: string;
  readonly surname: string;
  readonly rank: string;
  readonly corps: string | null;
  readonly dated: string | null;
  readonly page: string | number | null;
  readonly appointment: string | null;
};

/** Ids of the lines of an edition that say just this, now or before they were corrected; whoever bears them. */
export function linesAlike(db: Db, edition: number, line: PrintedLine): number[] {
  return db
    .prepare(
      `SELECT DISTINCT coalesce(e.id, e.row) FROM surname AS s CROSS JOIN entry AS e ON e.surname_id = s.id AND e.edition_id = :edition
         JOIN printed_name AS n ON n.id = e.name_id JOIN rank_style AS r ON r.id = e.rank_id
         LEFT JOIN corps_style AS c ON c.id = e.corps_id LEFT JOIN date_expression AS d ON d.id = e.dated_id
        WHERE s.text = :surname AND n.text = :name AND r.text = :rank AND c.text IS :corps AND d.text IS :dated
          AND e.page IS :page AND e.appointment IS :appointment
          AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = e.act_id)
        ORDER BY 1`,
    )
    .pluck()
    .all({ edition, ...line }) as number[];
}

/** Numbers of a surname, also where it is printed in capitals. */
export const surnameIds = (db: Db, surname: string): number[] =>
  db
    .prepare('SELECT id FROM surname WHERE text IN (?, ?, ?)')
    .pluck()
    .all(surname, surname.toUpperCase(), capitalsFirst(surname)) as number[];

export const capitalsFirst = (text: string): string =>
  text.toLowerCase().replaceAll(/(?<![\p{L}'’])\p{L}|(?<=\b[dom]['’])\p{L}/gu, (letter) => letter.toUpperCase());

export type UnplacedEntry = {
  readonly id: number;
  readonly edition_id: number;
  readonly name: string;
  readonly rank: string;
};

/** Lines of other editions under these surnames that nobody has been found for. */
export const unplacedEntries = (db: Db, surnames: readonly number[], edition: number, limit: number): UnplacedEntry[] =>
  db
    .prepare(
      `SELECT coalesce(e.id, e.row) AS id, e.edition_id, n.text AS name, r.text AS rank
         FROM json_each(?) AS wanted CROSS JOIN current_entry AS e ON e.surname_id = wanted.value
         JOIN printed_name AS n ON n.id = e.name_id JOIN rank_style AS r ON r.id = e.rank_id
        WHERE e.edition_id <> ? AND e.person_id IS NULL
          AND NOT EXISTS (SELECT 1 FROM current_link AS l WHERE l.entry_id = coalesce(e.id, e.row)) LIMIT ?`,
    )
    .all(JSON.stringify(surnames), edition, limit) as UnplacedEntry[];

export type NamedPerson = {
  readonly person: number;
  readonly surname: string;
  readonly forenames: string | null;
  readonly suffix: string | null;
};

/** Everybody who bore one of these surnames, under each of the names that has it. */
export const peopleNamed = (db: Db, surnames: readonly number[]): NamedPerson[] =>
  db
    .prepare(
      `SELECT p.id AS person, s.text AS surname, n.forenames, n.suffix FROM json_each(:ids) AS wanted
         CROSS JOIN printed_name AS n ON n.surname_id = wanted.value JOIN surname AS s ON s.id = n.surname_id
         CROSS JOIN current_person AS p ON p.name_id = n.id
       UNION
       SELECT f.person_id, s.text, n.forenames, n.suffix FROM json_each(:ids) AS wanted
         CROSS JOIN printed_name AS n ON n.surname_id = wanted.value JOIN surname AS s ON s.id = n.surname_id
         CROSS JOIN current_name_form AS f ON f.name_id = n.id`,
    )
    .all({ ids: JSON.stringify(surnames) }) as NamedPerson[];

/** Every wording of a rank that the ledger has for a service. */
export const ranksSeen = (db: Db, service: string): string[] =>
  db.prepare('SELECT text FROM rank_style WHERE service = ? ORDER BY id').pluck().all(service) as string[];

/** The ranks and corps of an edition as they were written in it, the most frequent first. */
export function wordsInEdition(db: Db, edition: number): { readonly ranks: string[]; readonly corps: string[] } {
  const written = (column: 'rank' | 'corps'): string[] =>
    db
      .prepare(
        `SELECT w.text FROM surname AS s CROSS JOIN current_entry AS e ON e.surname_id = s.id AND e.edition_id = ?
           JOIN ${column}_style AS w ON w.id = e.${column}_id GROUP BY w.id ORDER BY count(*) DESC, w.id`,
      )
      .pluck()
      .all(edition) as string[];
  return { ranks: written('rank'), corps: written('corps') };
}
