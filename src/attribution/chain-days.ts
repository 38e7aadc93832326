import { largestOf } from '../dating/density.ts';
import type { PreparedMark } from './chain-marks.ts';
import { NO_DAYS, placesIn } from './chain-table.ts';
import {
  fillAhead,
  type Held,
  type OverlayTree,
  type TreeSums,
  tellDays,
  treeSums,
  type Weighted,
} from './overlay-sums.ts';

/** Weights of the days of making, from `firstDay` on, counted from the horizon's first. */
export type Makings = { readonly firstDay: number; readonly weights: Float64Array };

/**
 * How likely each mark was put on on each day, if a chain is the true one: the days of its own tree, when makings weigh
 * what the features and all other trees make of them. The best chains have most holders in common: what a tree makes of
 * the makings with the same holders is worked out once.
 */
export function daysInChains(makings: Makings, marks: readonly PreparedMark[], trees: readonly OverlayTree[]) {
  const known = new Map<string, Tree>();
  return (assigned: readonly number[]) => daysInChain(assigned, makings, marks, trees, known);
}

/** The sums of a tree, and what they make of each day of making, at most 1. */
type Tree = { readonly sums: TreeSums; readonly ahead: Float64Array };

function daysInChain(
  assigned: readonly number[],
  { firstDay, weights }: Makings,
  marks: readonly PreparedMark[],
  trees: readonly OverlayTree[],
  known: Map<string, Tree>,
): (Weighted | undefined)[] {
  const heldBy = (place: number): Held => marks[place]?.holders[assigned[place] as number]?.held ?? NO_DAYS;
  const out: (Weighted | undefined)[] = marks.map(() => undefined);
  const attached = trees.filter(({ place }) => !marks[place]?.detached);
  for (const { place } of trees) if (marks[place]?.detached) out[place] = heldBy(place);

  const size = weights.length;
  const made = attached.map((tree) => {
    const key = placesIn(tree)
      .map((place) => `${place}:${assigned[place]}`)
      .join();
    const found = known.get(key) ?? { sums: treeSums(tree, heldBy), ahead: new Float64Array(size) };
    if (!known.has(key)) {
      fillAhead(found.ahead, firstDay, found.sums);
      scaleToOne(found.ahead);
      known.set(key, found);
    }
    return found;
  });
  const sums = made.map((one) => one.sums);
  const ahead = made.map((one) => one.ahead);
  // What all trees after each one make of the makings; what those before make of them is carried along.
  const after: Float64Array[] = [new Float64Array(size).fill(1)];
  for (const values of ahead.slice(1).reverse()) after.unshift(product(after[0] as Float64Array, values));
  let before = weights;
  for (const [t, one] of sums.entries()) {
    if (t > 0) before = product(before, ahead[t - 1] as Float64Array);
    const tell = (place: number, held: Weighted): void => {
      out[place] = held;
    };
    if (placesIn(one.tree).some((place) => marks[place]?.namesHolder)) {
      tellDays(product(before, after[t] as Float64Array), firstDay, one, tell, heldBy);
    }
  }
  return out;
}

function product(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < out.length; i += 1) out[i] = (a[i] as number) * (b[i] as number);
  return out;
}

function scaleToOne(values: Float64Array): void {
  const largest = largestOf(values);
  if (largest > 0) for (let i = 0; i < values.length; i += 1) values[i] = (values[i] as number) / largest;
}
