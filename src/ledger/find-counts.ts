import { BEARER_NOW } from './entries.ts';
import type { Kind } from './kind.ts';
import { KINDS } from './kinds.ts';
import type { Db } from './open.ts';

/** Beyond so many lines it is not counted which of them are nobody's: it would take longer than an answer may. */
const MOST_LINES_LOOKED_THROUGH = 200_000;

export type KindCount = { readonly kind: Kind['kind']; readonly plural: string; readonly count: number };

/** How many records of each kind there are. Lines of editions are reckoned from the acts, not counted one by one. */
export function countsOfKinds(db: Db): KindCount[] {
  return KINDS.map(({ kind, plural, table }) => ({
    kind,
    plural,
    count: (kind === 'entry'
      ? db
          .prepare(
            `SELECT ifnull((SELECT sum(r.row_count) FROM entry_run AS r WHERE NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = r.act_id)), 0)
               - (SELECT count(DISTINCT g.target) FROM gone AS g JOIN entry_run AS r ON r.first_row <= g.target AND r.first_row + r.row_count > g.target
                   WHERE g.kind = 'entry' AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = r.act_id))`,
          )
          .pluck()
          .get()
      : db.prepare(`SELECT count(*) FROM "current_${table}"`).pluck().get()) as number,
  }));
}

const OF_NOBODY = `FROM current_entry AS e WHERE ${BEARER_NOW} IS NULL`;

/** Lines that nobody has been found for; undefined in a ledger too large to look them through. */
export function unplacedCount(db: Db, entries: number): number | undefined {
  if (entries > MOST_LINES_LOOKED_THROUGH) return undefined;
  return db.prepare(`SELECT count(*) ${OF_NOBODY}`).pluck().get() as number;
}

/** Which acts recorded the versions of a kind that hold now, those with most first. */
export const actsOfKind = (db: Db, table: string): { readonly act: number; readonly count: number }[] =>
  db
    .prepare(`SELECT act_id AS act, count(*) AS count FROM "current_${table}" GROUP BY act_id ORDER BY count DESC, act`)
    .all() as { act: number; count: number }[];

/** In which editions lines are that nobody has been found for, those with most first. */
export const unplacedByEdition = (db: Db): { readonly edition: number; readonly count: number }[] =>
  db
    .prepare(`SELECT e.edition_id AS edition, count(*) AS count ${OF_NOBODY} GROUP BY 1 ORDER BY count DESC, edition`)
    .all() as { edition: number; count: number }[];

/** The edition in which a line was recorded last, if that act still counts. */
export const lastEditionTaken = (db: Db): number | undefined =>
  db
    .prepare(
      `SELECT r.edition_id FROM entry_run AS r JOIN current_edition AS e ON e.id = r.edition_id
        WHERE NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = r.act_id) ORDER BY r.first_row DESC LIMIT 1`,
    )
    .pluck()
    .get() as number | undefined;

const firstId = (db: Db, sql: string): number | undefined =>
  db.prepare(`${sql} LIMIT 1`).pluck().get() as number | undefined;

/** The first record of each sort that waits for something. */
export const waiting = {
  seriesWithoutEdition: (db: Db) =>
    firstId(db, 'SELECT id FROM current_series WHERE id NOT IN (SELECT series_id FROM current_edition) ORDER BY id'),
  editionWithoutEntry: (db: Db) =>
    firstId(db, 'SELECT id FROM current_edition WHERE id NOT IN (SELECT edition_id FROM entry_run) ORDER BY id'),
  objectWithoutFeature: (db: Db) =>
    firstId(db, 'SELECT id FROM current_object WHERE id NOT IN (SELECT object_id FROM current_feature) ORDER BY id'),
  objectWithoutMark: (db: Db) =>
    firstId(db, 'SELECT id FROM current_object WHERE id NOT IN (SELECT object_id FROM current_mark) ORDER BY id'),
  ownersMarkWithoutAttribution: (db: Db) =>
    firstId(
      db,
      "SELECT id FROM current_mark WHERE role LIKE 'owner%' AND id NOT IN (SELECT mark_id FROM current_attribution) ORDER BY id",
    ),
};
