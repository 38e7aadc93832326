import { type Day, isClosed, type Span } from '../time/span.ts';

/**
 * How likely each day of a span is, as weights of single days. `weights[0]` belongs to `from`, and the last weight to
 * the last day of the horizon that it was reckoned on. Weights are finite and not negative.
 */
export type Density = { readonly from: Day; readonly weights: Float64Array };

/** Sums of up to some 10^5 weights are right to about this part of the whole; less than that is no difference. */
const ROUNDING = 1e-11;

/** The days that a density speaks of. */
export const daysOf = ({ from, weights }: Density): Span => ({ from, until: (from + weights.length) as Day });

export function totalOf(weights: Float64Array): number {
  let total = 0;
  for (let i = 0; i < weights.length; i += 1) total += weights[i] as number;
  return total;
}

/** The largest weight; 0 of none. */
export function largestOf(weights: Float64Array): number {
  let largest = 0;
  for (let i = 0; i < weights.length; i += 1) {
    const weight = weights[i] as number;
    if (weight > largest) largest = weight;
  }
  return largest;
}

/** The same shape with weights that add up to 1, written over the given ones; undefined where no day has any weight. */
export function normalised(density: Density): Density | undefined {
  const { weights } = density;
  const total = totalOf(weights);
  if (!(total > 0)) return undefined;
  const scale = 1 / total;
  for (let i = 0; i < weights.length; i += 1) weights[i] = (weights[i] as number) * scale;
  return density;
}

/** The mean of densities on the same days by their weights, adding up to 1; the only one itself; undefined of none. */
export function mixed(parts: readonly { readonly weight: number; readonly density: Density }[]): Density | undefined {
  const [first, ...others] = parts;
  if (first === undefined || others.length === 0) return first?.density;
  const weights = new Float64Array(first.density.weights.length);
  for (const { weight, density } of parts)
    for (let i = 0; i < weights.length; i += 1)
      weights[i] = (weights[i] as number) + weight * (density.weights[i] as number);
  return normalised({ from: first.density.from, weights });
}

/** Every day of the span alike, on a horizon that holds it; the span must be closed. */
export function uniform(span: Span): Density {
  const weights = new Float64Array(span.until - span.from);
  weights.fill(1 / weights.length);
  return { from: span.from, weights };
}

/** Sums of the weights before each day, one more than there are days: cumulative[i] = weights[0] + … + weights[i − 1]. */
export function cumulative(weights: Float64Array): Float64Array {
  const sums = new Float64Array(weights.length + 1);
  let sum = 0;
  for (let i = 0; i < weights.length; i += 1) {
    sum += weights[i] as number;
    sums[i + 1] = sum;
  }
  return sums;
}

/** The same of two densities multiplied day by day; the days of the first lie within those of the second. */
export function cumulativeProduct(density: Density, other: Density): Float64Array {
  const { weights } = density;
  const offset = density.from - other.from;
  const sums = new Float64Array(weights.length + 1);
  let sum = 0;
  for (let i = 0; i < weights.length; i += 1) {
    sum += (weights[i] as number) * (other.weights[offset + i] as number);
    sums[i + 1] = sum;
  }
  return sums;
}

/**
 * The shortest span of successive days that holds at least `share` of the weight (0 < share <= 1): the highest density
 * interval. Of spans equally short the earliest. Undefined where no day has any weight.
 * @see Hyndman, R. J., Computing and graphing highest density regions, The American Statistician 50 (1996) 120–126.
 */
export const shortestSpan = ({ from, weights }: Density, share: number): Span | undefined =>
  shortestSpanOf(from, cumulative(weights), share);

/**
 * The same from the sums before each day. One pass with two ends: the longer the span has to be at its start, the later
 * its end, so neither end goes back.
 */
export function shortestSpanOf(from: Day, sums: Float64Array, share: number): Span | undefined {
  const days = sums.length - 1;
  const total = sums[days] ?? 0;
  if (!(total > 0)) return undefined;
  const wanted = share * total - ROUNDING * total;
  let best = days + 1;
  let bestStart = 0;
  let end = 0;
  let upToEnd = 0;
  for (let start = 0; start < days; start += 1) {
    const upToStart = sums[start] as number;
    while (end < days && upToEnd - upToStart < wanted) {
      end += 1;
      upToEnd = sums[end] as number;
    }
    if (upToEnd - upToStart < wanted) break;
    if (end - start < best) {
      best = end - start;
      bestStart = start;
    }
  }
  return { from: (from + bestStart) as Day, until: (from + bestStart + best) as Day };
}

/** The horizon made long enough to hold the closed sides of every given span; `horizon` must be closed. */
export function stretched(horizon: Span, toHold: Iterable<Span>): Span {
  let { from, until } = horizon;
  for (const span of toHold) {
    if (Number.isFinite(span.from)) from = Math.min(from, span.from) as Day;
    if (Number.isFinite(span.until)) until = Math.max(until, span.until) as Day;
    // A date open on one side still names a day on the other, which the horizon must reach.
    if (Number.isFinite(span.from)) until = Math.max(until, span.from + 1) as Day;
    if (Number.isFinite(span.until)) from = Math.min(from, span.until - 1) as Day;
  }
  return { from, until };
}

/** The span's days within the horizon, an open side taken to the horizon's own; undefined where they share none. */
export function within(span: Span, horizon: Span): Span | undefined {
  const from = Math.max(span.from, horizon.from) as Day;
  const until = Math.min(span.until, horizon.until) as Day;
  return from < until && isClosed({ from, until }) ? { from, until } : undefined;
}
