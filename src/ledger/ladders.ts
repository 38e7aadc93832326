import { customLadder, type Ladder, shippedLadder, shippedServices } from '../services/ladder.ts';
import type { Db } from './open.ts';

type RankRow = { title: string; place: number | null; abbreviations: string | null; courtesy: string | null };

/**
 * The ladder of a service: the ledger's own where it records ranks for that service, else the one that is shipped,
 * else an open one that takes any rank as it is written.
 */
export function ladderOf(db: Db, service: string): Ladder {
  const own = db
    .prepare('SELECT title, place, abbreviations, courtesy FROM current_rank WHERE service = ? ORDER BY place, row')
    .all(service) as RankRow[];
  if (own.length === 0) return shippedLadder(service) ?? customLadder(service, []);
  return customLadder(
    service,
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
