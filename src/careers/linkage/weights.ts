import type { Comparison } from './comparison.ts';
import { FIELDS, LEVELS, PRIOR_PAIRS } from './fields.ts';

/**
 * For each level the share among pairs of one man (`m`) and among pairs of two men (`u`), and what it weighs:
 * log2(m / u) bits for one man. Where a level has a chance of its own for each value (a rare surname, a common corps), that
 * chance stands in the place of u, times `excess`: how much oftener two men of one surname agree there than any two men.
 * @see Fellegi and Sunter, "A Theory for Record Linkage", Journal of the American Statistical Association 64 (1969).
 */
export type Weights = {
  readonly m: Float64Array;
  readonly u: Float64Array;
  readonly excess: Float64Array;
  /** log2(m / u), and for levels with a chance of their own log2(m / excess), from which log2 of the chance is taken. */
  readonly bits: Float64Array;
  readonly bitsOfOwn: Float64Array;
};

export const startShares = (): Float64Array =>
  Float64Array.from(FIELDS.flatMap(({ levels }) => levels.map(({ start }) => start)));

export const weightsOf = (m: Float64Array, u: Float64Array, excess: Float64Array): Weights => ({
  m,
  u,
  excess,
  bits: m.map((share, at) => Math.log2(share / (u[at] as number))),
  bitsOfOwn: m.map((share, at) => Math.log2(share / (excess[at] as number))),
});

/** Bits of one field of a comparison; 0 where it says nothing. */
export function fieldBits({ bits, bitsOfOwn }: Weights, { levels, log2Chance }: Comparison, field: number): number {
  const level = levels[field] as number;
  if (level < 0) return 0;
  const chance = log2Chance[field] as number;
  return chance === 0 ? (bits[level] as number) : (bitsOfOwn[level] as number) - chance;
}

/** Counts of levels as shares within each field, beside a first guess that weighs as much as PRIOR_PAIRS pairs. */
export function sharesOfLevels(counts: Float64Array, guess: Float64Array): Float64Array {
  const shares = new Float64Array(LEVELS);
  for (const { first, until } of fieldRanges()) {
    let sum = 0;
    let guessed = 0;
    for (let at = first; at < until; at++) {
      sum += counts[at] as number;
      guessed += guess[at] as number;
    }
    for (let at = first; at < until; at++)
      shares[at] = ((counts[at] as number) + (PRIOR_PAIRS * (guess[at] as number)) / guessed) / (sum + PRIOR_PAIRS);
  }
  return shares;
}

/** First level of each field, and the first of the next. */
export function fieldRanges(): readonly { readonly first: number; readonly until: number }[] {
  let until = 0;
  return FIELDS.map(({ levels }) => {
    const first = until;
    until += levels.length;
    return { first, until };
  });
}
