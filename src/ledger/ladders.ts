import { customLadder, type Ladder, shippedLadder, shippedServices, withRanks } from '../services/ladder.ts';
import type { Rank } from '../services/rank.ts';
import { readRank } from '../services/read-rank.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

type RankRow = { title: string; place: number | null; abbreviations: string | null; courtesy: string | null };

/**
 * The ladder of a service: the one that is shipped, or an open one that takes any rank as it is written, with the ranks
 * that the ledger adds to it.
 */
export function ladderOf(db: Db, service: string): Ladder {
  const own = prepared(
    db,
    'SELECT title, place, abbreviations, courtesy FROM current_rank WHERE service = ? ORDER BY place, row',
  ).all(service) as RankRow[];
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

/** A wording of a rank, with what was made of it when it was first recorded. */
export type RankStyle = { readonly text: string; readonly rank: string };

/**
 * The rank of a ladder that a wording stands for. One that was recorded before its rank was, or under a title that was
 * corrected since, is read again by the ladder as it stands.
 */
export function rankOnLadder(ladder: Ladder, { text, rank }: RankStyle): Rank | undefined {
  const known = ladder.ranks.find((each) => each.rank.id === rank);
  if (known !== undefined) return known.rank;
  const reading = readRank(text, ladder, { column: true });
  return reading.kind === 'found' ? reading.rank : undefined;
}

/** Wordings of ranks recorded in a service that are not on its ladder; none where it has no ranks of its own. */
export function stylesOffLadder(db: Db, service: string): RankStyle[] {
  const ladder = ladderOf(db, service);
  const styles = prepared(db, 'SELECT text, rank FROM rank_style WHERE service = ? ORDER BY id').all(service);
  return (styles as RankStyle[]).filter((style) => rankOnLadder(ladder, style) === undefined);
}

/** The services that the ledger names, apart from what one list says. */
export const servicesNamed = (db: Db, exceptSeries: number): string[] =>
  prepared(
    db,
    'SELECT name FROM current_service UNION SELECT service FROM current_rank UNION SELECT service FROM current_series WHERE id <> ?',
    'pluck',
  ).all(exceptSeries) as string[];

/** Every service whose ladder a mark's rank may belong to: those of the ledger's series and its own, then the shipped ones. */
export function knownLadders(db: Db): readonly Ladder[] {
  const used = prepared(
    db,
    'SELECT service FROM current_series UNION SELECT service FROM current_rank UNION SELECT name FROM current_service',
    'pluck',
  ).all() as string[];
  const services = new Set(used.length > 0 ? used : shippedServices());
  return [...services].map((service) => ladderOf(db, service));
}

/** Every wording of a corps in the ledger. */
export const knownCorps = (db: Db): string[] =>
  prepared(db, 'SELECT text FROM corps_style UNION SELECT name FROM current_corps', 'pluck').all() as string[];
