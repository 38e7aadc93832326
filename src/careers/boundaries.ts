import type { DaySums } from './day-sums.ts';

/**
 * Days on which one stretch of a life passes into the next, as sums over every possible career.
 *
 * Boundaries b_0 <= b_1 <= … are whole days. Each career weighs Π r_k^(b_{k+1} − b_k), where r_k = exp(−1/τ) for time
 * in post (τ its usual length in days: of all distributions with that mean the one that assumes least; E. T. Jaynes,
 * "Information theory and statistical mechanics", Physical Review 106 (1957) 620–630) and r_k = 1 for a gap between
 * posts. The sums over all careers run along the chain once forwards and once backwards (L. E. Baum et al., Annals of
 * Mathematical Statistics 41 (1970) 164–171), so that the chance of each day is exact for each boundary. An open first
 * and an open last boundary have geometric tails, which are added in closed form.
 */
export type Stretch = {
  /** Weight of one more day, above 0 and at most 1. */
  readonly ratio: number;
  /** Fewest and most days from this boundary to the next; the most may be Infinity. */
  readonly least: number;
  readonly most: number;
};

/** Bounds of each boundary, one more than there are stretches; they are as tight as the stretches make them. */
export type Boundaries = {
  readonly earliest: readonly number[];
  readonly latest: readonly number[];
  readonly stretches: readonly Stretch[];
};

/**
 * The chance that a boundary has been passed, that is, lies on a day or before it. `table` holds it from the day
 * `first` on. Before, it is `table[0] · ratioBefore^(first − day)`. After the table, what is wanting to 1 falls by
 * `ratioAfter` a day. A ratio of 0 is a closed side.
 */
export type Passed = {
  readonly first: number;
  readonly table: Float64Array;
  readonly ratioBefore: number;
  readonly ratioAfter: number;
};

/** A side that is open where the sums have no closed form is followed to where its weight has fallen by e^−30. */
const FAR = 30;

/** Nor is any boundary followed for more than a thousand years, however wide the evidence leaves it. */
const MOST_DAYS = 365_250;

/**
 * The distribution of every boundary.
 *
 * @param outer first and last day for boundaries that evidence and weights leave without any limit, so that their
 * chances would have no sum: the post of a man of whom only a leaving "before 1835" is known.
 */
export function solveBoundaries(boundaries: Boundaries, outer: { first: number; last: number }): readonly Passed[] {
  const { stretches } = boundaries;
  const last = stretches.length;
  const first = boundaries.earliest.slice();
  const until = boundaries.latest.slice();
  confine(first, until, stretches, outer);
  const openFirst = first[0] === -Infinity ? (stretches[0] as Stretch).ratio : 0;
  const openLast = until[last] === Infinity ? (stretches[last - 1] as Stretch).ratio : 0;
  // Beyond these days every other boundary leaves the open one free, so that only its own weight is left.
  if (openFirst > 0) first[0] = Math.min((first[1] as number) - (stretches[0] as Stretch).least, until[0] as number);
  if (openLast > 0) {
    until[last] = Math.max((until[last - 1] as number) + (stretches[last - 1] as Stretch).least, first[last] as number);
  }

  const forward: Float64Array[] = [];
  for (let k = 0; k <= last; k++) {
    const days = (until[k] as number) - (first[k] as number) + 1;
    const sums = new Float64Array(days);
    if (k === 0) {
      sums.fill(1);
      if (openFirst > 0) sums[0] = 1 / (1 - openFirst);
    } else
      sumForward(
        forward[k - 1] as Float64Array,
        sums,
        first[k - 1] as number,
        first[k] as number,
        stretches[k - 1] as Stretch,
      );
    forward.push(sums);
  }

  const passed: Passed[] = new Array(last + 1);
  let backward = new Float64Array((until[last] as number) - (first[last] as number) + 1).fill(1);
  if (openLast > 0) backward[backward.length - 1] = 1 / (1 - openLast);
  for (let k = last; k >= 0; k--) {
    const table = forward[k] as Float64Array;
    let sum = 0;
    for (let at = 0; at < table.length; at++) {
      sum += (table[at] as number) * (backward[at] as number);
      table[at] = sum;
    }
    if (sum < SUNK) {
      // The two passes have sunk to nothing on the way to each other: centuries of posts that last weeks.
      for (let at = 0; at < table.length; at++) table[at] = at + 1;
      sum = table.length;
    }
    const ratioAfter = k === last ? openLast : 0;
    let end = table.length;
    if (ratioAfter > 0) {
      // The last place stands for itself and all days after it.
      const before = end > 1 ? (table[end - 2] as number) : 0;
      table[end - 1] = before + (sum - before) * (1 - ratioAfter);
    } else end--;
    const whole = 1 / sum;
    for (let at = 0; at < end; at++) table[at] = (table[at] as number) * whole;
    if (ratioAfter === 0) table[end] = 1;
    passed[k] = { first: first[k] as number, table, ratioBefore: k === 0 ? openFirst : 0, ratioAfter };
    if (k === 0) break;
    const sums = new Float64Array((until[k - 1] as number) - (first[k - 1] as number) + 1);
    sumBackward(backward, sums, first[k] as number, first[k - 1] as number, stretches[k - 1] as Stretch);
    backward = sums;
  }
  return passed;
}

/** Closes every side that is open without a closed form: all but that of the first and of the last boundary. */
function confine(
  first: number[],
  until: number[],
  stretches: readonly Stretch[],
  outer: { first: number; last: number },
): void {
  const last = stretches.length;
  for (let k = last; k >= 0; k--) {
    if (first[k] !== -Infinity) continue;
    const ratio = k === last ? 1 : (stretches[k] as Stretch).ratio;
    if (ratio === 1) first[k] = Math.min(outer.first, until[k] as number, (first[k + 1] ?? Infinity) - 1);
    else if (k > 0) first[k] = Math.min(first[k + 1] as number, until[k] as number) - farDays(ratio);
  }
  for (let k = 0; k <= last; k++) {
    if (until[k] !== Infinity) continue;
    const ratio = k === 0 ? 1 : (stretches[k - 1] as Stretch).ratio;
    if (ratio === 1) until[k] = Math.max(outer.last, first[k] as number, (until[k - 1] ?? -Infinity) + 1);
    else if (k < last) until[k] = Math.max(until[k - 1] as number, first[k] as number) + farDays(ratio);
  }
  for (let k = 0; k <= last; k++) {
    const days = (until[k] as number) - (first[k] as number);
    if (days <= MOST_DAYS || days === Infinity) continue;
    if (k === last) until[k] = (first[k] as number) + MOST_DAYS;
    else first[k] = (until[k] as number) - MOST_DAYS;
  }
}

const farDays = (ratio: number): number => Math.min(MOST_DAYS, Math.ceil(FAR / -Math.log(ratio)));

/** Near the smallest number there is, sums are no longer exact. */
const SUNK = 1e-290;

/** Too far from 1 for the next product; scaling is free, since every distribution is divided by its own sum. */
const tooFar = (largest: number): boolean => largest < 1e-30 || largest > 1e30;

function rescale(sums: Float64Array, largest: number): void {
  if (largest <= 0 || !tooFar(largest)) return;
  for (let at = 0; at < sums.length; at++) sums[at] = (sums[at] as number) / largest;
}

/** sums(y) ∝ Σ from(x) · ratio^(y − x) over least <= y − x <= most. */
function sumForward(
  from: Float64Array,
  sums: Float64Array,
  fromDay: number,
  sumsDay: number,
  { ratio, least, most }: Stretch,
): void {
  const shift = sumsDay - fromDay - least; // place in `from` of the nearest x that counts for the first y
  let sum = 0;
  let largest = 0;
  if (most === Infinity) {
    for (let at = 0; at < Math.min(shift, from.length); at++) sum = sum * ratio + (from[at] as number);
    // Further on all of them only shrink alike, which is no more than scaling.
    if (shift > from.length && sum > 0) sum = 1;
    const counting = Math.max(0, Math.min(sums.length, from.length - shift));
    let at = Math.max(0, -shift);
    for (; at < counting; at++) {
      sum = sum * ratio + (from[at + shift] as number);
      sums[at] = sum;
      if (sum > largest) largest = sum;
    }
    for (; at < sums.length; at++) {
      sum *= ratio;
      sums[at] = sum;
      if (sum > largest) largest = sum;
    }
  } else {
    const width = most - least;
    const leaving = ratio ** (width + 1);
    for (let at = -Math.max(0, shift); at < sums.length; at++) {
      const enters = at + shift;
      sum *= ratio;
      if (enters >= 0 && enters < from.length) sum += from[enters] as number;
      const leaves = enters - width - 1;
      if (leaves >= 0 && leaves < from.length) sum = Math.max(0, sum - leaving * (from[leaves] as number));
      if (at < 0) continue;
      sums[at] = sum;
      if (sum > largest) largest = sum;
    }
  }
  rescale(sums, largest);
}

/** sums(x) ∝ Σ from(y) · ratio^(y − x) over least <= y − x <= most: the same, seen from the other end. */
function sumBackward(from: Float64Array, sums: Float64Array, fromDay: number, sumsDay: number, stretch: Stretch): void {
  from.reverse();
  sumForward(from, sums, -(fromDay + from.length - 1), -(sumsDay + sums.length - 1), stretch);
  sums.reverse();
}

/** Below this chance an open side counts as nothing. */
const NEGLIGIBLE = 1e-9;

/** The first day on which the boundary may have been passed; on an open side, with a chance worth counting. */
export function firstPassed({ first, table, ratioBefore }: Passed): number {
  if (ratioBefore === 0) return first;
  return first - Math.max(0, Math.ceil(Math.log((table[0] as number) / NEGLIGIBLE) / -Math.log(ratioBefore)));
}

/** The first day on which the boundary must have been passed; on an open side, but for a chance not worth counting. */
export function allPassed({ first, table, ratioAfter }: Passed): number {
  const end = first + table.length - 1;
  if (ratioAfter === 0) return end;
  const wanting = 1 - (table[table.length - 1] as number);
  return end + Math.max(0, Math.ceil(Math.log(wanting / NEGLIGIBLE) / -Math.log(ratioAfter)));
}

/** The chance that the boundary lies on the day or before it. */
export function chancePassed({ first, table, ratioBefore, ratioAfter }: Passed, day: number): number {
  const at = day - first;
  if (at < 0) return ratioBefore === 0 ? 0 : (table[0] as number) * ratioBefore ** -at;
  if (at < table.length) return table[at] as number;
  const end = table.length - 1;
  return ratioAfter === 0 ? 1 : 1 - (1 - (table[end] as number)) * ratioAfter ** (at - end);
}

/** Adds `sign` times that chance to `out`, for the days from `from` on, in the places [begin, end). */
export function addPassed(
  { first, table, ratioBefore, ratioAfter }: Passed,
  out: Float64Array,
  from: number,
  begin: number,
  end: number,
  sign: 1 | -1,
): void {
  const shift = from - first;
  const tableBegin = Math.min(end, Math.max(begin, -shift));
  const tableEnd = Math.min(end, Math.max(begin, table.length - shift));
  if (ratioBefore > 0) {
    let chance = sign * (table[0] as number) * ratioBefore ** (1 - shift - tableBegin);
    for (let at = tableBegin - 1; at >= begin; at--) {
      out[at] = (out[at] as number) + chance;
      chance *= ratioBefore;
    }
  }
  for (let at = tableBegin; at < tableEnd; at++) out[at] = (out[at] as number) + sign * (table[at + shift] as number);
  let wanting = 0;
  if (ratioAfter > 0)
    wanting = sign * (1 - (table[table.length - 1] as number)) * ratioAfter ** (tableEnd + shift - table.length + 1);
  for (let at = tableEnd; at < end; at++) {
    out[at] = (out[at] as number) + sign - wanting;
    wanting *= ratioAfter;
  }
}

/** Σ over the days [from, until) of their weights times that chance. */
export function weighPassed(
  { first, table, ratioBefore, ratioAfter }: Passed,
  days: DaySums,
  from: number,
  until: number,
): number {
  const tableFrom = Math.min(until, Math.max(from, first));
  const tableUntil = Math.min(until, Math.max(from, first + table.length));
  let sum = days.alike(tableUntil, until);
  if (ratioBefore > 0 && tableFrom > from)
    sum += (table[0] as number) * ratioBefore ** (first + 1 - tableFrom) * days.growing(from, tableFrom, ratioBefore);
  for (let day = tableFrom; day < tableUntil; day++)
    sum += (table[day - first] as number) * (days.weights[day - days.first] as number);
  if (ratioAfter > 0 && until > tableUntil) {
    const wanting = (1 - (table[table.length - 1] as number)) * ratioAfter ** (tableUntil - first - table.length + 1);
    sum -= wanting * days.fading(tableUntil, until, ratioAfter);
  }
  return sum;
}
