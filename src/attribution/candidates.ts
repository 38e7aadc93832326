import type { Assumptions } from '../assumptions.ts';
import { compareIds } from '../careers/record-order.ts';
import { cumulativeProduct, shortestSpanOf } from '../dating/density.ts';
import { SHOWN_SHARE } from '../dating/marking.ts';
import type { Span } from '../time/span.ts';
import type { Bits, Standing } from './agreement.ts';
import { bearingShape, type CandidateInput, type MarkDays, weigh } from './candidate.ts';
import { compareWithWindow, type IntervalComparison } from './overlap.ts';
import { type UnrecordedInput, unrecordedWeight } from './unrecorded.ts';

/** Who can have put on a mark. */
export type CandidatesInput = {
  /** When the mark was put on; see `markDays`. */
  readonly mark: MarkDays;
  readonly candidates: readonly CandidateInput[];
  readonly unrecorded: UnrecordedInput;
};

export type Share = {
  readonly person: string;
  readonly rank: string | undefined;
  /** T, not scaled. */
  readonly weight: number;
  /** T over the weight of all candidates and of somebody unrecorded, 0 to 1. */
  readonly share: number;
  /** Of the name and post that weigh most. */
  readonly bits: Bits;
  readonly standing: Standing;
  /** Of several readings of the mark, the one in which the candidate weighs most in one stretch. */
  readonly reading: string | undefined;
  readonly input: CandidateInput;
};

export type Shares = {
  /** Those with any weight: the greatest share first, then by person and rank. */
  readonly ranked: readonly Share[];
  /** Within the limits of the reading, but not in the rank on any day of the mark. */
  readonly outOfTime: readonly CandidateInput[];
  /** `expected`: how many such people are expected, over the days of the mark. */
  readonly unrecorded: { readonly share: number; readonly expected: number };
  /** The weight of all candidates and of somebody unrecorded together. */
  readonly total: number;
  /**
   * Nobody recorded has any weight, so that the share of somebody unrecorded is 1 for want of anybody else: no finding.
   */
  readonly nobodyFits: boolean;
};

const byPerson = (a: CandidateInput, b: CandidateInput): number =>
  compareIds(a.person, b.person) || compareIds(a.rank ?? '', b.rank ?? '');

/**
 * The shares of all candidates and of somebody unrecorded, which add up to 1: T / (T₀ + Σ T), where
 * T = Σ f(t) · a(t) · μ(t). Bayes' rule with equal chances beforehand for all who were in post.
 */
export function sharesOf({ mark, candidates, unrecorded }: CandidatesInput, assumptions: Assumptions): Shares {
  const expected = unrecordedWeight(unrecorded, mark, assumptions);
  const outOfTime: CandidateInput[] = [];
  const weighed: Omit<Share, 'share'>[] = [];
  let total = expected;
  // Summed in the order of their ids, whatever the order they came in.
  for (const input of [...candidates].sort(byPerson)) {
    const { weight, best } = weigh(input, mark);
    if (best === undefined) {
      outOfTime.push(input);
      continue;
    }
    weighed.push({ person: input.person, rank: input.rank, weight, ...best, input });
    total += weight;
  }
  const ranked = weighed
    .map((one) => ({ ...one, share: one.weight / total }))
    .sort((a, b) => b.weight - a.weight || byPerson(a.input, b.input));
  const nobodyFits = ranked.length === 0;
  const unrecordedShare = nobodyFits ? 1 : expected / total;
  return { ranked, outOfTime, unrecorded: { share: unrecordedShare, expected }, total, nobodyFits };
}

/** Rests on a bound that another choice among contradicting records would change. */
export const isProvisional = ({ posts }: CandidateInput): boolean => posts.some(({ provisional }) => provisional);

export type RankedCandidate = Omit<Share, 'input'> &
  IntervalComparison & {
    /** 1 for the first. */
    readonly position: number;
    /** Ids of the tenures, in the order of time given. */
    readonly tenures: readonly string[];
    /** When the mark was put on if this candidate put it on: the shortest span that holds 95 % of f · a · μ. */
    readonly markedBetween: Span;
    readonly provisional: boolean;
  };

/** One candidate beside the window of the mark: overlaps, relations, and when the mark was put on if by them. */
export function describe({ input, ...share }: Share, position: number, mark: MarkDays, window: Span): RankedCandidate {
  const { shape } = bearingShape(input, mark.days);
  return {
    ...share,
    ...compareWithWindow(input, window),
    position,
    tenures: [...new Set(input.posts.flatMap(({ id }) => (id === undefined ? [] : [id])))],
    markedBetween: shortestSpanOf(shape.from, cumulativeProduct(shape, mark.density), SHOWN_SHARE) ?? window,
    provisional: isProvisional(input),
  };
}
