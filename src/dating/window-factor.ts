import { DAYS_PER_YEAR } from '../assumptions.ts';
import { isClosed, type Span } from '../time/span.ts';

/** A hard window excludes (a statute, a patent, a founding date); a usual one makes other days less likely. */
export type Force = 'hard' | 'usual';
export type Weight = 'strong' | 'moderate' | 'weak';

/** What is left of the likelihood at the end of a usual window's shoulder; common practice, from memory. */
const FLOOR: Readonly<Record<Weight, number>> = { strong: 0.02, moderate: 0.1, weak: 0.35 };
/** The shoulder: at least so many years, and at least this part of the window's width. Common practice, from memory. */
const SHOULDER_YEARS = 5;
const SHOULDER_OF_WIDTH = 0.15;
/** Beyond the shoulder the floor halves every ten years. Common practice, from memory. */
const HALVING_YEARS = 10;

/** Length of the shoulder in days, not a whole number; a window open on a side has no width to take a part of. */
const shoulderDays = (window: Span): number => {
  const least = SHOULDER_YEARS * DAYS_PER_YEAR;
  return isClosed(window) ? Math.max(least, SHOULDER_OF_WIDTH * (window.until - window.from)) : least;
};

/**
 * Multiplies each day by how well it agrees with a window: `out[i]` belongs to day `firstDay + i`; the factor is from 0
 * to 1. Hard: 1 inside, 0 outside. Usual: 1 inside; outside a straight line down to the floor over the shoulder, then
 * the floor falling continuously, floor · 2^(−(distance − shoulder) / 10 years). The first day outside has distance 1.
 */
export function multiplyByWindow(
  out: Float64Array,
  firstDay: number,
  window: Span,
  force: Force,
  weight: Weight,
): void {
  const days = out.length;
  const inside = Math.min(Math.max(window.from - firstDay, 0), days);
  const after = Math.min(Math.max(window.until - firstDay, 0), days);
  if (force === 'hard') {
    out.fill(0, 0, inside);
    out.fill(0, after);
    return;
  }
  const floor = FLOOR[weight];
  const shoulder = shoulderDays(window);
  const slope = (1 - floor) / shoulder;
  const lastOfShoulder = Math.floor(shoulder);
  const halvingDays = HALVING_YEARS * DAYS_PER_YEAR;
  const fallPerDay = 2 ** (-1 / halvingDays);
  const beyond = (distance: number): number => floor * 2 ** (-(distance - shoulder) / halvingDays);

  // The horizon may begin far beyond the window, so each branch enters its run at the first day that it holds.
  let i = after;
  for (let distance = i + firstDay - window.until + 1; i < days && distance <= lastOfShoulder; i += 1, distance += 1) {
    out[i] = (out[i] as number) * (1 - slope * distance);
  }
  for (let value = beyond(i + firstDay - window.until + 1); i < days; i += 1, value *= fallPerDay) {
    out[i] = (out[i] as number) * value;
  }

  i = inside - 1;
  for (let distance = window.from - firstDay - i; i >= 0 && distance <= lastOfShoulder; i -= 1, distance += 1) {
    out[i] = (out[i] as number) * (1 - slope * distance);
  }
  for (let value = beyond(window.from - firstDay - i); i >= 0; i -= 1, value *= fallPerDay) {
    out[i] = (out[i] as number) * value;
  }
}
