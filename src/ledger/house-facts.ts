import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

/** A datable trait or wording that the house put on its own shelf. */
export type HouseFact = {
  readonly id: string;
  readonly key: string | null;
  readonly name: string;
  readonly text: string;
  readonly pattern: string | null;
  readonly window: string | null;
  readonly force: string;
  readonly weight: string;
  readonly confidence: string | null;
  readonly source: string | null;
};

/** The house's own facts that it did not set aside, in the order of recording. */
export const houseFacts = (db: Db): HouseFact[] =>
  prepared(
    db,
    `SELECT 'ft' || f.id AS id, f.key, f.name, f.text, f.pattern, d.text AS window, f.force, f.weight, f.confidence, f.source
         FROM current_fact AS f LEFT JOIN date_expression AS d ON d.id = f.window_id
        WHERE 'ft' || f.id NOT IN (SELECT record FROM current_set_aside) ORDER BY f.id`,
  ).all() as HouseFact[];

/** The confirmed clues of a mark: their ids by the fact that they name. */
export function confirmedFacts(db: Db, mark: number): ReadonlyMap<string, string> {
  const rows = prepared(db, 'SELECT id, fact FROM current_clue WHERE mark_id = ? AND fact IS NOT NULL').all(mark) as {
    id: number;
    fact: string;
  }[];
  return new Map(rows.map(({ id, fact }) => [fact, `cl${id}`]));
}
