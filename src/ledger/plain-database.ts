import { renameSync } from 'node:fs';
import Database from 'better-sqlite3';
import { takeAway, unfinishedName } from '../unfinished.ts';
import { opened } from './open.ts';

export type PlainValue = string | number | null;

export type PlainTable = {
  readonly name: string;
  readonly columns: readonly string[];
  readonly rows: Iterable<readonly PlainValue[]>;
};

export type PlainView = { readonly name: string; readonly select: string };

const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;

/**
 * A new SQLite file of plain tables of texts and numbers with views over them: for programs that know nothing of a
 * ledger. Written whole or not at all.
 */
export function writePlainDatabase(file: string, tables: Iterable<PlainTable>, views: readonly PlainView[]): void {
  const beside = unfinishedName(file);
  opened(file, () => {
    takeAway(beside);
    const db = new Database(beside);
    try {
      db.pragma('journal_mode = OFF');
      db.exec('BEGIN');
      for (const { name, columns, rows } of tables) {
        db.exec(`CREATE TABLE ${quoted(name)} (${columns.map(quoted).join(', ')})`);
        const insert = db.prepare(`INSERT INTO ${quoted(name)} VALUES (${columns.map(() => '?').join(', ')})`);
        for (const row of rows) insert.run(row);
        if (columns[0] === 'key') db.exec(`CREATE UNIQUE INDEX ${quoted(`${name}_key`)} ON ${quoted(name)} (key)`);
      }
      for (const { name, select } of views) db.exec(`CREATE VIEW ${quoted(name)} AS ${select}`);
      db.exec('COMMIT');
      db.close();
      renameSync(beside, file);
    } catch (error) {
      db.close();
      takeAway(beside);
      throw error;
    }
  });
}

/** Questions that are asked of lists and marks again and again, as views over the plain tables. */
export const PLAIN_VIEWS: readonly PlainView[] = [
  {
    name: 'entries_in_full',
    select: `SELECT s.name AS series, ed.label AS edition, ed.asAt AS as_at, ed.asAt_from AS as_at_from, e.page, e.name,
        e.surname, e.forenames, e.rank, e.service, e.corps, e.dated, e.dated_from, e.dated_to, e.kind,
        coalesce(l.person, e.person) AS person, p.name AS person_name, e.key
      FROM entry AS e JOIN edition AS ed ON ed.key = e.edition JOIN series AS s ON s.key = ed.series
        LEFT JOIN link AS l ON l.entry = e.key AND l.rowid = (SELECT max(rowid) FROM link WHERE entry = e.key)
        LEFT JOIN person AS p ON p.key = coalesce(l.person, e.person)`,
  },
  {
    name: 'careers',
    select: `SELECT person, person_name, rank, corps, min(as_at_from) AS first_listed, max(as_at_from) AS last_listed,
        min(dated_from) AS dated, count(*) AS entries
      FROM entries_in_full WHERE person IS NOT NULL GROUP BY person, rank, corps`,
  },
  {
    name: 'marks_in_full',
    select: `SELECT o.ref, o.title, m.text, m.role, m.technique, m."where", m.made, m.made_from, m.made_to, u.text AS over,
        a.grade, p.name AS attributed_to, a.why, m.key
      FROM mark AS m JOIN object AS o ON o.key = m.object LEFT JOIN mark AS u ON u.key = m.over
        LEFT JOIN attribution AS a ON a.mark = m.key LEFT JOIN person AS p ON p.key = a.person`,
  },
  {
    name: 'searches_in_full',
    select: `SELECT s.name AS series, ed.label AS edition, q.outcome, p.name AS person, q.surname, q.found, q.key
      FROM search AS q JOIN edition AS ed ON ed.key = q.edition JOIN series AS s ON s.key = ed.series
        LEFT JOIN person AS p ON p.key = q.person`,
  },
];
