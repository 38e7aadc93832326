import {
  CORPS,
  CORPS_AGAIN,
  DATED,
  DATED_AGAIN,
  DATED_FIELDS,
  FIELD_COUNT,
  FIELDS,
  FORENAMES,
  LEVELS,
  RANK,
  RANK_AGAIN,
  RANK_FIELD,
  SUFFIX,
  SUFFIX_AGAIN,
} from './fields.ts';
import { type Pairs, pairBits } from './pairs.ts';
import type { Seen } from './seen.ts';
import { fieldRanges, sharesOfLevels, startShares, type Weights, weightsOf } from './weights.ts';

const evenShares = (): Float64Array =>
  Float64Array.from(FIELDS.flatMap(({ levels }) => levels.map(() => 1 / levels.length)));

/** Lone lines have no lines further off; by chance such a one agrees as often as the line itself. */
const AGAIN: readonly (readonly [again: number, same: number])[] = [
  [SUFFIX + SUFFIX_AGAIN, SUFFIX + 1],
  [RANK + RANK_AGAIN, RANK],
  [DATED.sameRank + DATED_AGAIN, DATED.sameRank],
  [DATED.higherRank + DATED_AGAIN, DATED.higherRank],
  [DATED.otherRank + DATED_AGAIN, DATED.otherRank],
  [CORPS + CORPS_AGAIN, CORPS],
];

/**
 * Shares of the levels among pairs of any two men.
 * @param surname those of the surname, which the pairs do not have in common.
 */
export function sharesOfStrangers(pairs: Pairs, surname: readonly number[]): Float64Array {
  const counts = new Float64Array(LEVELS);
  for (const level of pairs.levels) if (level >= 0) counts[level] = (counts[level] as number) + 1;
  const shares = sharesOfLevels(counts, evenShares());
  for (const [again, same] of AGAIN) shares[again] = shares[same] as number;
  shares.set(surname);
  return shares;
}

/** What a man who comes new differs in from any other line: lists print him in the rank and with the date of his entry. */
const NEW_FIELDS: readonly number[] = [RANK_FIELD, ...Object.values(DATED_FIELDS)];

/**
 * For each level how much oftener it is met between a line and the first line of another man than between any two lines of
 * two men. Whoever is not the man of the earlier line came new, so this is what the join is to be measured by.
 * @param pairs lines of any men with first lines of others.
 * @param firsts how many first lines there are; so many pairs say something of their own.
 */
export function newness(pairs: Pairs, firsts: number, any: Float64Array): Float64Array {
  const counts = new Float64Array(LEVELS);
  const weight = Math.min(1, firsts / Math.max(1, pairs.count));
  for (const level of pairs.levels) if (level >= 0) counts[level] = (counts[level] as number) + weight;
  const shares = sharesOfLevels(counts, any);
  const ratios = new Float64Array(LEVELS).fill(1);
  for (const [field, { first, until }] of fieldRanges().entries())
    if (NEW_FIELDS.includes(field))
      for (let level = first; level < until; level++)
        ratios[level] = (shares[level] as number) / (any[level] as number);
  for (const [again, same] of AGAIN) ratios[again] = ratios[same] as number;
  return ratios;
}

/** The weights before any man is known. */
export const weightsOfPairs = (m: Float64Array, u: Float64Array): Weights =>
  weightsOf(m, u, new Float64Array(LEVELS).fill(1));

/**
 * One step of expectation and maximisation: each pair counts for one man with the chance that it is, under the weights in
 * force; the levels counted so are the new shares.
 * @param priorBits log2 of the odds of each pair before its fields are looked at.
 * @see Dempster, Laird and Rubin, "Maximum Likelihood from Incomplete Data via the EM Algorithm", Journal of the Royal
 * Statistical Society B 39 (1977).
 */
export function expected(pairs: Pairs, weights: Weights, priorBits: Float64Array): Float64Array {
  const counts = new Float64Array(LEVELS);
  for (let at = 0; at < pairs.count; at++) {
    const chance = 1 / (1 + 2 ** -((priorBits[at] as number) + pairBits(pairs, at, weights)));
    for (let field = 0; field < FIELD_COUNT; field++) {
      const level = pairs.levels[at * FIELD_COUNT + field] as number;
      if (level >= 0) counts[level] = (counts[level] as number) + chance;
    }
  }
  return sharesOfLevels(counts, startShares());
}

/**
 * The weights that careers show: maximisation with the men found in the place of chances (Celeux and Govaert, "A
 * Classification EM Algorithm for Clustering and Two Stochastic Versions", Computational Statistics & Data Analysis 14,
 * 1992). Within a block there is one surname, so the shares of its levels come from the pairs. How much oftener two men of
 * one surname agree than any two is a ratio of counts, each with one case more, so that it stays near 1 where there are few.
 * @param strangers shares among any two men.
 * @param surname shares of the levels of the surname among pairs of one man.
 * @param newer how much oftener each level is met where the other comes new.
 */
export function weightsSeen(
  { same, different }: Seen,
  strangers: Float64Array,
  surname: Float64Array,
  newer: Float64Array,
): Weights {
  // A join is not to vouch for itself: of each level one case is left out (the jackknife), which tells only on rare ones.
  const m = sharesOfLevels(
    same.map((count) => Math.max(0, count - 1)),
    startShares(),
  );
  const u = strangers.slice();
  const excess = new Float64Array(LEVELS).fill(1);
  for (const [field, { first, until }] of fieldRanges().entries()) {
    const all = different.slice(first, until).reduce((sum, count) => sum + count, 0);
    for (let level = first; level < until; level++) {
      if (level < FORENAMES) {
        m[level] = surname[level] as number;
        continue;
      }
      // Men who are listed together tell nothing of how a new man's rank and date differ; only of how often they are alike (the first level), or
      // like a line further off (the last).
      const tells = level === first || level === until - 1 || !NEW_FIELDS.includes(field);
      const kin = ((different[level] as number) + 1) / (all * (strangers[level] as number) + 1);
      excess[level] = (tells ? kin : 1) * (newer[level] as number);
      u[level] = (strangers[level] as number) * (excess[level] as number);
    }
  }
  return weightsOf(m, u, excess);
}
