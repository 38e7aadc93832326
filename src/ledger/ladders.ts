import { customLadder, type Ladder, shippedLadder, shippedServices, withRanks } from '../services/ladder.ts';
import type { Db } from './open.ts';

type RankRow = { title: string; place: number | null; abbreviations: string | null; courtesy: string | null };

/**
 * The ladder of a service: the one that is shipped, or an open one that takes any rank as it is written, with the ranks
 * that the ledger adds to it.
 */
export function ladderOf(db: Db, service: string): Ladder {
  const own = db
    .prepare('SELECT title, place, abbreviations, courtesy FROM current_rank WHERE service = ? ORDER BY place, row')
    .all(service) as RankRow[];
  const shipped = shippedLadder(service) ?? customLadder(service, []);
  if (own.length === 0) return shipped;
  return withRanks(
    shipped,
    own.map((row) => ({
      title: row.title,
      order: row.place ?? undefined,
      abbreviations: row.abbreviations === null ? [] : (JSON.parse(row.abbreviations) as string[]),
      courtesy: row.courtesy === 'yes' || row.courtesy === 'sometimes' ? row.courtesy : 'no',
    })),
  );
}

/** Every service whose ladder a mark's rank may belong to: those of the ledger's series and its own, then the shipped ones. */
export function knownLadders(db: Db): readonly Ladder[] {
  const used = db
    .prepare(
      'SELECT service FROM current_series UNION SELECT service FROM current_rank UNION SELECT name FROM current_service',
    )
    .pluck()
    .all() as string[];
  const services = new Set(used.length > 0 ? used : shippedServices());
  return [...services].map((service) => ladderOf(db, service));
}

/** Every wording of a corps in the ledger. */
export const knownCorps = (db: Db): string[] =>
  db.prepare('SELECT text FROM corps_style UNION SELECT name FROM current_corps').pluck().all() as string[];
