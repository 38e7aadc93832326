import type { Rank } from '../services/rank.ts';
import type { Day, Span } from '../time/span.ts';
import type { DaySums } from './day-sums.ts';
import type { AppointmentKind, Corps, RecordId } from './evidence.ts';

/** Bounds of an unknown day, both inclusive; `earliest` may be NO_START, `latest` may be NO_END. */
export type Bounds = { readonly earliest: Day; readonly latest: Day };

/**
 * One rank in one corps held by one person. `start` bounds the first day in post, `end` the first day no longer in
 * post. In post on day t: start <= t < end.
 */
export type Tenure = {
  /** Stable within the career: its place in the order of the answer, from 0. */
  readonly index: number;
  readonly rank: Rank;
  readonly corps: Corps | undefined;
  readonly kind: AppointmentKind;
  /** Put in because a rank above and a rank below it are known; it has no evidence of its own. */
  readonly implied: boolean;
  readonly start: Bounds;
  readonly end: Bounds;
  /** The days on which he can have been in post: [start.earliest, end.latest). */
  readonly possible: Span;
  /** The days on which he must have been in post: [start.latest, end.earliest), if there are any. */
  readonly certain: Span | undefined;
  /** A bound would differ had another of the contradicting records been set aside. */
  readonly provisional: boolean;
  /**
   * Every claim that made it known is set aside (of an implied one: of all appointments below it, or of all above).
   * Its bounds are then no more than what its place in the succession leaves.
   */
  readonly unsupported: boolean;
  /** Records that made this appointment known (empty for an implied one), and those on which each bound rests. */
  readonly records: readonly RecordId[];
  readonly grounds: {
    readonly startEarliest: readonly RecordId[];
    readonly startLatest: readonly RecordId[];
    readonly endEarliest: readonly RecordId[];
    readonly endLatest: readonly RecordId[];
  };
};

/** One record's one statement, in words: "listed as Captain, edition 1838, p. 213, as at 1 January 1838". */
export type Claim = { readonly id: RecordId; readonly part: ClaimPart; readonly claim: string };
type ClaimPart = 'listed' | 'dated' | 'start' | 'end' | 'nil' | 'born' | 'died' | 'condition';

/** A minimal set of claims that cannot all be true: drop any one, and this conflict is gone. */
export type Conflict = { readonly members: readonly Claim[]; readonly setAside: readonly Claim[] };

/** How membership of a tenure varies with the day: the chance that he was in post on it. */
export type Membership = {
  /** Outside it the chance is 0 (or, on an open side, below 1e-9). Always closed. */
  readonly support: Span;
  at(day: Day): number;
  /** Writes the chances of the days from `from` on over the whole of `out`. */
  fill(out: Float64Array, from: Day): void;
  /**
   * Σ over the days of a run, within the support, of their weights times the chances; where that can be had without
   * going from day to day. Right to about 10^−14 of all weights.
   */
  readonly weighed?: (days: DaySums, run: Span) => number;
};

/**
 * Tenures whose days depend on each other: a succession of posts in one service, or one concurrent appointment alone.
 * All arrays run beside `tenures`.
 */
export type Chain = {
  /** Their places in the career. */
  readonly tenures: readonly number[];
  /**
   * What lies between a tenure and the one after it: undefined where the next begins on the day that this one ends,
   * else the least number of days between (0 or 1). One shorter than `tenures`.
   */
  readonly gaps: readonly (number | undefined)[];
  /** Fewest and most days in post that conditions of service allow; 1 and Infinity without any. */
  readonly leastDays: readonly number[];
  readonly mostDays: readonly number[];
};

/** What is known of a life, as far as it is not set aside. */
export type Life = {
  /** Birth, at the earliest, and the minimum age: nobody is in post before it. NO_START where birth is unknown. */
  readonly adultFrom: Day;
  /** Bounds of the day of death; undefined where nothing is known of it. */
  readonly death: Bounds | undefined;
};

export type Career = {
  /** By service, then in order of succession, concurrent appointments after the substantive ones. */
  readonly tenures: readonly Tenure[];
  readonly chains: readonly Chain[];
  readonly life: Life;
  /** Smallest first, at most 1,000. */
  readonly conflicts: readonly Conflict[];
  /** How many conflicts there are beyond those listed. */
  readonly conflictsBeyond: number;
  /** What would have to be set aside instead by the next best way out of all conflicts; empty where there is none. */
  readonly otherWayOut: readonly Claim[];
  /** Nil searches and other records that were kept but could not be used, with the reason in a sentence. */
  readonly unused: readonly { readonly id: RecordId; readonly reason: string }[];
};
