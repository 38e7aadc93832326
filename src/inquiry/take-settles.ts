import type { Career, Tenure } from '../careers/career.ts';
import type { RecordId } from '../careers/evidence.ts';
import type { Day, Span } from '../time/span.ts';
import { dayInAnswer, spanInAnswer } from './days.ts';

type Bounds = { readonly earliest: string | null; readonly latest: string | null };
type Days = { readonly from: string | null; readonly to: string | null };
type Was<T> = { readonly before: T | null; readonly after: T };

/** A tenure of which a bound has moved, or that was not known; `before` is null where it was not. */
export type MovedTenure = {
  readonly rank: string;
  readonly corps: string | null;
  readonly implied: boolean;
  readonly start: Was<Bounds>;
  readonly end: Was<Bounds>;
  readonly possible: Was<Days>;
  readonly certain: Was<Days | null>;
};

/**
 * What one line says of the post it names: `first` evidence of it; he was in it `already` at this edition, `still`,
 * or known to be in it anyway (`between`).
 */
export type Settled = {
  readonly listed: 'first' | 'already' | 'still' | 'between';
  readonly rank: string;
  readonly moved: readonly MovedTenure[];
};

/** What a line adds to a career that was known without it. */
export function settledBy(before: Career, after: Career, entry: RecordId): Settled | undefined {
  const own = after.tenures.find(({ records }) => records.includes(entry));
  if (own === undefined) return undefined;
  const pairs = after.tenures.map((tenure) => ({ tenure, was: counterpart(before, after, tenure) }));
  const was = pairs.find(({ tenure }) => tenure === own)?.was;
  return {
    listed: listedAs(was, own),
    rank: own.rank.title,
    moved: pairs.flatMap(({ tenure, was: old }) =>
      old !== undefined && !hasMoved(old, tenure) ? [] : [moved(old, tenure)],
    ),
  };
}

function listedAs(was: Tenure | undefined, now: Tenure): Settled['listed'] {
  if (was === undefined || was.records.length === 0) return 'first';
  if (now.start.latest < was.start.latest) return 'already';
  return now.end.earliest > was.end.earliest ? 'still' : 'between';
}

/** The same post in the other career; of several alike the one in the same place among them. */
function counterpart(before: Career, after: Career, tenure: Tenure): Tenure | undefined {
  const alike = (other: Tenure): boolean =>
    other.rank.service === tenure.rank.service &&
    other.rank.id === tenure.rank.id &&
    other.kind === tenure.kind &&
    (other.corps?.key === tenure.corps?.key || other.implied || tenure.implied);
  const place = after.tenures.filter(alike).indexOf(tenure);
  return before.tenures.filter(alike)[place];
}

const hasMoved = (was: Tenure, now: Tenure): boolean =>
  was.start.earliest !== now.start.earliest ||
  was.start.latest !== now.start.latest ||
  was.end.earliest !== now.end.earliest ||
  was.end.latest !== now.end.latest;

function moved(was: Tenure | undefined, now: Tenure): MovedTenure {
  const both = <T>(tell: (tenure: Tenure) => T): Was<T> => ({
    before: was === undefined ? null : tell(was),
    after: tell(now),
  });
  return {
    rank: now.rank.title,
    corps: now.corps?.name ?? null,
    implied: now.implied,
    start: both(({ start }) => boundsInAnswer(start)),
    end: both(({ end }) => boundsInAnswer(end)),
    possible: both(({ possible }) => spanInAnswer(possible)),
    certain: both(({ certain }) => certainInAnswer(certain)),
  };
}

const boundsInAnswer = ({ earliest, latest }: { readonly earliest: Day; readonly latest: Day }): Bounds => ({
  earliest: dayInAnswer(earliest),
  latest: dayInAnswer(latest),
});
const certainInAnswer = (span: Span | undefined): Days | null => (span === undefined ? null : spanInAnswer(span));
