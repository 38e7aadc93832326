import { type Day, isClosed, type Span } from '../time/span.ts';

/**
 * How likely each day of a span is, as weights of single days. `weights[0]` belongs to `from`, and the last weight to
 * the last day of the horizon that it was reckoned on. Weights are finite and not negative.
 */
export type Density = { readonly from: Day; readonly weights: Float64Array };

/** Sums of up to some 10^5 weights are right to about this part of the whole; less than that is no difference. */
const ROUNDING = 1e-11;

/**
 * Multiplies each of the weights by the factor of the same place, the first by that at `offset`. Loops over days stand in
 * functions that do nothing else: V8 throws away what it made of one in which anything beside the loop takes a new shape.
 */
export function multiplyInto(weights: Float64Array, factors: Float64Array, offset = 0): void {
  for (let i = 0; i < weights.length; i += 1) weights[i] = (weights[i] as number) * (factors[offset + i] as number);
}

/** Adds every one of `added` to the weights, the first to that at `offset`. */
export function addInto(weights: Float64Array, added: Float64Array, offset = 0): void {
  for (let i = 0; i < added.length; i += 1)
    weights[offset + i] = (weights[offset + i] as number) + (added[i] as number);
}

/** Σ over the places of `a` of its number times that of `b`, whose first is at `offset`. */
export function sumOfProducts(a: Float64Array, b: Float64Array, offset: number): number {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += (a[i] as number) * (b[offset + i] as number);
  return sum;
}

/** Multiplies each of the weights by one factor. */
export function scaleBy(weights: Float64Array, factor: number): void {
  for (let i = 0; i < weights.length; i += 1) weights[i] = (weights[i] as number) * factor;
}

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
  scaleBy(weights, 1 / total);
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

/**
 * Room for the weights of so many days, whatever stands in it. It is always the same: nobody keeps it, or calls anybody
 * else while it is in use. A megabyte made anew for each of many sums takes longer than the sums.
 */
export function roomFor(days: number): Float64Array {
  if (room.length < days) room = new Float64Array(days);
  return room.subarray(0, days);
}

let room = new Float64Array(0);

/**
 * Sums of the weights before each day, one more than there are days: cumulative[i] = weights[0] + … + weights[i − 1].
 * @param sums where to write them; made anew unless said.
 */
export function cumulative(
  weights: Float64Array,
  sums: Float64Array = new Float64Array(weights.length + 1),
): Float64Array {
  fillCumulative(sums, weights);
  return sums;
}

function fillCumulative(sums: Float64Array, weights: Float64Array): void {
  sums[0] = 0;
  let sum = 0;
  for (let i = 0; i < weights.length; i += 1) {
    sum += weights[i] as number;
    sums[i + 1] = sum;
  }
}

/** The same of two densities multiplied day by day; the days of the first lie within those of the second. */
export function cumulativeProduct(density: Density, other: Density): Float64Array {
  const sums = roomFor(density.weights.length + 1);
  fillCumulativeProduct(sums, density.weights, other.weights, density.from - other.from);
  return sums;
}

function fillCumulativeProduct(sums: Float64Array, weights: Float64Array, others: Float64Array, offset: number): void {
  sums[0] = 0;
  let sum = 0;
  for (let i = 0; i < weights.length; i += 1) {
    sum += (weights[i] as number) * (others[offset + i] as number);
    sums[i + 1] = sum;
  }
}

/**
 * The shortest span of successive days that holds at least `share` of the weight (0 < share <= 1): the highest density
 * interval. Of spans equally short the earliest. Undefined where no day has any weight.
 * @see Hyndman, R. J., Computing and graphing highest density regions, The American Statistician 50 (1996) 120–126.
 */
export function shortestSpan(density: Density, share: number): Span | undefined {
  return shortestSpans(density, [share])[0];
}

/** The same for several shares. */
export function shortestSpans(density: Density, shares: readonly number[]): (Span | undefined)[] {
  const sums = cumulative(density.weights, roomFor(density.weights.length + 1));
  return shares.map((share) => shortestSpanOf(density.from, sums, share));
}

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
