import { cumulative, largestOf } from '../dating/density.ts';
import { aheadOf, type TreeSums } from './overlay-sums.ts';

/**
 * Days of making that stand for all days: a sum over every day of made(y) times smooth functions of y is the sum of
 * `weight` times the functions on `day`. A node may lie between two days, which count from the horizon's first.
 */
export type MakingNodes = { readonly day: Float64Array; readonly weight: Float64Array };

/** So few days need no standing in: every day is a node. */
const FEW_DAYS = 500;
/** Days whose part of the whole is smaller than this, against the likeliest, are left out. */
const NEVER = 1e-20;
/** How far a function may change over a block of days, as a part of its largest value there. */
const SMOOTH = 0.1;
/** The same in a block that matters little: less than this part of the whole. */
const MATTERS = 1e-4;
const SMOOTH_ENOUGH = 0.6;
/** A function that has come down to this part of its largest value may change as it likes. */
const SMALL = 0.03;

/**
 * Nodes for sums over the makings `made`, times products of the given sums of marks. Days are cut into blocks in which
 * none of the functions changes much, halving where one does; a block of many days stands for its weights by two nodes
 * at their mean ± their standard deviation, which is right for every cubic over even weights.
 * @param joint what the functions together may make of each day: blocks without any of it are not divided.
 * @see Golub, G. H. and Welsch, J. H., Calculation of Gauss quadrature rules, Mathematics of Computation 23 (1969)
 *   221–230.
 */
export function makingNodes(made: Float64Array, joint: Float64Array, functions: readonly TreeSums[]): MakingNodes {
  const { first, last } = likelyDays(joint);
  const days: number[] = [];
  const weights: number[] = [];
  if (last - first < FEW_DAYS) {
    for (let day = first; day <= last; day += 1) {
      if (made[day] === 0) continue;
      days.push(day);
      weights.push(made[day] as number);
    }
    return { day: Float64Array.from(days), weight: Float64Array.from(weights) };
  }
  const jointBefore = cumulative(joint);
  const whole = jointBefore[joint.length] as number;
  const heights = functions.map((sums) => heightOf(sums, first, last));
  const divide = (from: number, until: number): void => {
    const part = ((jointBefore[until] as number) - (jointBefore[from] as number)) / whole;
    const allowed = part < MATTERS ? SMOOTH_ENOUGH : SMOOTH;
    if (
      until - from > 1 &&
      part > 0 &&
      functions.some((sums, k) => changes(sums, heights[k] as number, from, until - 1, allowed))
    ) {
      const middle = (from + until) >> 1;
      divide(from, middle);
      divide(middle, until);
      return;
    }
    addNodes(made, from, until, days, weights);
  };
  divide(first, last + 1);
  return { day: Float64Array.from(days), weight: Float64Array.from(weights) };
}

/** The first and the last day that are not all but impossible. */
export function likelyDays(joint: Float64Array): { first: number; last: number } {
  const largest = largestOf(joint);
  let first = 0;
  let last = joint.length - 1;
  while (first < last && (joint[first] as number) <= largest * NEVER) first += 1;
  while (last > first && (joint[last] as number) <= largest * NEVER) last -= 1;
  return { first, last };
}

/** The days on which a sum can turn: it rises towards the days of its mark, and falls to nothing within them. */
const turns = ({ from, length }: TreeSums, first: number, last: number): number[] => {
  const days = [first, (first + last) >> 1, last];
  for (const day of [from, from + (length >> 1), from + length - 1]) if (day > first && day < last) days.push(day);
  return days;
};

const heightOf = (sums: TreeSums, first: number, last: number): number =>
  Math.max(...turns(sums, first, last).map((day) => aheadOf(sums, day)));

function changes(sums: TreeSums, height: number, first: number, last: number, allowed: number): boolean {
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const day of turns(sums, first, last)) {
    const value = aheadOf(sums, day);
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return most > SMALL * height && most - least > allowed * most;
}

function addNodes(made: Float64Array, from: number, until: number, days: number[], weights: number[]): void {
  let weight = 0;
  let sum = 0;
  for (let day = from; day < until; day += 1) {
    weight += made[day] as number;
    sum += (day - from) * (made[day] as number);
  }
  if (weight === 0) return;
  const mean = sum / weight;
  let spread = 0;
  for (let day = from; day < until; day += 1) spread += (day - from - mean) ** 2 * (made[day] as number);
  const deviation = Math.sqrt(spread / weight);
  if (deviation === 0) {
    days.push(from + mean);
    weights.push(weight);
    return;
  }
  // Uneven weights can push a node out of its block, where a function may have come to its end.
  const reach = Math.min(deviation, mean, until - 1 - from - mean);
  days.push(from + mean - reach, from + mean + reach);
  weights.push(weight / 2, weight / 2);
}
