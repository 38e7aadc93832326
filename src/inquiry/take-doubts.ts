import type { Career, Conflict } from '../careers/career.ts';
import { doubtfulDate } from '../careers/doubtful-date.ts';
import type { CareerEvidence, ListedEntry } from '../careers/evidence.ts';
import { longDay } from '../time/phrase.ts';
import type { Day } from '../time/span.ts';

/** Something that looks wrong in a line, as scripts know it and in a sentence. */
export type Doubt = {
  readonly about: 'date' | 'death' | 'rank' | 'twice' | 'conflict' | 'page' | 'no date' | 'spelling';
  readonly says: string;
};

/**
 * What looks wrong in an entry by itself: 1. a date of rank after the day as at which the edition stands; 2. one so far
 * back that the century is doubtful.
 */
export function doubtsOfDate({ dated, edition }: ListedEntry): Doubt[] {
  if (dated === undefined) return [];
  const doubt = doubtfulDate(dated.span, edition.asAt.span);
  if (doubt === undefined) return [];
  return [
    {
      about: 'date',
      says:
        doubt === 'after'
          ? `dated ${dated.text}, after the edition (as at ${edition.asAt.text})`
          : `dated ${dated.text}, more than ${doubt.yearsBefore} years before the edition`,
    },
  ];
}

/**
 * What looks wrong in the career that an entry is put into: 1. the man is dead; 2. his rank has gone down; 3. he stands in
 * the edition in this post already; 4. any other evidence that cannot be true with it.
 */
export function doubtsOfCareer(evidence: CareerEvidence, before: Career, after: Career, entry: ListedEntry): Doubt[] {
  const stood = entry.edition.asAt.span.from - entry.edition.lagDays;
  const doubts: Doubt[] = [];
  const died = before.life.death?.latest;
  if (died !== undefined && died < stood)
    doubts.push({ about: 'death', says: `he was dead by ${longDay(died)}, before the edition` });
  const senior = seniorBefore(before, entry, stood as Day);
  if (senior !== undefined) doubts.push({ about: 'rank', says: senior });
  const twin = evidence.entries.find(
    (other) =>
      other.id !== entry.id &&
      other.edition.id === entry.edition.id &&
      other.kind === entry.kind &&
      other.rank.id === entry.rank.id &&
      other.corps?.key === entry.corps?.key,
  );
  if (twin !== undefined)
    doubts.push({ about: 'twice', says: `he stands in this edition in this post already (${twin.id})` });
  if (doubts.length > 0) return doubts;
  const known = new Set(before.conflicts.map(conflictKey));
  const fresh = after.conflicts.find((conflict) => !known.has(conflictKey(conflict)));
  return fresh === undefined
    ? []
    : [{ about: 'conflict', says: `it cannot be true together with: ${othersOf(fresh, entry.id)}` }];
}

const conflictKey = ({ members }: Conflict): string => members.map(({ id, part }) => `${id} ${part}`).join();

const othersOf = ({ members }: Conflict, entry: string): string => {
  const others = members.filter(({ id }) => id !== entry);
  const told = others.length > 0 ? others : members;
  return told.map(({ id, claim }) => `${claim} (${id})`).join('; ');
};

/** A higher rank on the same ladder that he certainly had before the list was made up. */
function seniorBefore(before: Career, entry: ListedEntry, stood: Day): string | undefined {
  if (entry.kind !== 'substantive' || entry.rank.order === undefined) return undefined;
  const own = entry.rank.order;
  const senior = before.tenures
    .filter(
      ({ kind, rank, implied, start }) =>
        kind === 'substantive' &&
        !implied &&
        rank.service === entry.rank.service &&
        rank.branch === entry.rank.branch &&
        !rank.concurrent &&
        (rank.order ?? own) > own &&
        start.latest <= stood,
    )
    .sort((a, b) => (b.rank.order ?? 0) - (a.rank.order ?? 0))[0];
  if (senior === undefined) return undefined;
  const grounds = senior.grounds.startLatest;
  return `he was ${senior.rank.title} by ${longDay(senior.start.latest)}${grounds.length > 0 ? ` (${grounds.slice(0, 3).join(', ')})` : ''}: the rank has gone down`;
}
