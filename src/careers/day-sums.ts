/** Weights of days, and their sums over runs of days [from, until): each the same work however long the run is. */
export type DaySums = {
  /** The day of the first weight. */
  readonly first: number;
  readonly weights: Float64Array;
  /** Σ w(t). */
  alike(from: number, until: number): number;
  /** Σ w(t) · ratio^(t − from): less from day to day. 0 < ratio < 1. */
  fading(from: number, until: number, ratio: number): number;
  /** Σ w(t) · ratio^(until − 1 − t): less for each day before the last. 0 < ratio < 1. */
  growing(from: number, until: number, ratio: number): number;
};

/**
 * A run's sum is the difference of two running sums, which are made once for each ratio, when it is first asked for: of
 * runs that weigh less than about 10^−14 of the whole nothing right is left.
 */
export function daySums(first: number, weights: Float64Array): DaySums {
  const before = new Map<number, Float64Array>();
  const ahead = new Map<number, Float64Array>();
  /** Place i: Σ over the days before i of w · ratio^(i − 1 − day). */
  const sumsBefore = (ratio: number): Float64Array => {
    const known = before.get(ratio);
    if (known !== undefined) return known;
    const sums = new Float64Array(weights.length + 1);
    fillBefore(sums, weights, ratio);
    before.set(ratio, sums);
    return sums;
  };
  /** Place i: Σ over the days from i on of w · ratio^(day − i). */
  const sumsAhead = (ratio: number): Float64Array => {
    const known = ahead.get(ratio);
    if (known !== undefined) return known;
    const sums = new Float64Array(weights.length + 1);
    fillAhead(sums, weights, ratio);
    ahead.set(ratio, sums);
    return sums;
  };
  const growing = (from: number, until: number, ratio: number): number => {
    if (until <= from) return 0;
    const sums = sumsBefore(ratio);
    return (sums[until - first] as number) - (sums[from - first] as number) * ratio ** (until - from);
  };
  return {
    first,
    weights,
    alike: (from, until) => growing(from, until, 1),
    fading(from, until, ratio) {
      if (until <= from) return 0;
      const sums = sumsAhead(ratio);
      return (sums[from - first] as number) - (sums[until - first] as number) * ratio ** (until - from);
    },
    growing,
  };
}

// Loops over days stand in functions that do nothing else, as in `dating/density.ts`.
function fillBefore(sums: Float64Array, weights: Float64Array, ratio: number): void {
  let sum = 0;
  for (let i = 0; i < weights.length; i += 1) {
    sum = sum * ratio + (weights[i] as number);
    sums[i + 1] = sum;
  }
}

function fillAhead(sums: Float64Array, weights: Float64Array, ratio: number): void {
  let sum = 0;
  for (let i = weights.length - 1; i >= 0; i -= 1) {
    sum = sum * ratio + (weights[i] as number);
    sums[i] = sum;
  }
}
