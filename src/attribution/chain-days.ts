import { largestOf, multiplyInto } from '../dating/density.ts';
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

/** Makings that weigh less than this part of the likeliest in a chain are left out of its days. */
const NEXT_TO_NOTHING = 1e-14;

/**
 * How likely each mark was put on on each day, if a chain is the true one: the days of its own tree, when makings weigh
 * what the features and all other trees make of them. The best chains have most holders in common: what a tree makes of
 * the makings with the same holders is worked out once.
 */
export function daysInChains(makings: Makings, marks: readonly PreparedMark[], trees: readonly OverlayTree[]) {
  const known = new Map<string, Tree>();
  const room = { whole: new Float64Array(makings.weights.length), made: new Float64Array(makings.weights.length) };
  return (assigned: readonly number[]) => daysInChain(assigned, makings, marks, trees, known, room);
}

/** The sums of a tree, and what they make of each day of making, at most 1. */
type Tree = { readonly sums: TreeSums; readonly ahead: Float64Array };

/** Room for one weight for each day of making, written anew for each chain. */
type Room = { readonly whole: Float64Array; readonly made: Float64Array };

function daysInChain(
  assigned: readonly number[],
  { firstDay, weights }: Makings,
  marks: readonly PreparedMark[],
  trees: readonly OverlayTree[],
  known: Map<string, Tree>,
  { whole, made }: Room,
): (Weighted | undefined)[] {
  const heldBy = (place: number): Held => marks[place]?.holders[assigned[place] as number]?.held ?? NO_DAYS;
  const out: (Weighted | undefined)[] = marks.map(() => undefined);
  const attached = trees.filter(({ place }) => !marks[place]?.detached);
  for (const { place } of trees) if (marks[place]?.detached) out[place] = heldBy(place);

  const parts = attached.map((tree) => {
    const key = placesIn(tree)
      .map((place) => `${place}:${assigned[place]}`)
      .join();
    const found = known.get(key) ?? { sums: treeSums(tree, heldBy), ahead: new Float64Array(weights.length) };
    if (!known.has(key)) {
      fillAhead(found.ahead, firstDay, found.sums);
      scaleToOne(found.ahead);
      known.set(key, found);
    }
    return found;
  });
  whole.set(weights);
  for (const { ahead } of parts) multiplyInto(whole, ahead);
  const { first, until } = daysAbove(whole, largestOf(whole) * NEXT_TO_NOTHING);
  const tell = (place: number, held: Weighted): void => {
    out[place] = held;
  };
  for (const { sums, ahead } of parts) {
    if (!placesIn(sums.tree).some((place) => marks[place]?.namesHolder)) continue;
    // What the others make of a making after which the tree has no day is no matter: it puts none of its marks on.
    for (let i = first; i < until; i += 1) {
      const own = ahead[i] as number;
      made[i] = own > 0 ? (whole[i] as number) / own : 0;
    }
    tellDays(made.subarray(first, until), firstDay + first, sums, tell, heldBy);
  }
  return out;
}

/** From the first to the last day whose weight is above `least`. */
function daysAbove(weights: Float64Array, least: number): { first: number; until: number } {
  let [first, until] = [0, weights.length];
  while (first < until && !((weights[first] as number) > least)) first += 1;
  while (until > first && !((weights[until - 1] as number) > least)) until -= 1;
  return { first, until };
}

function scaleToOne(values: Float64Array): void {
  const largest = largestOf(values);
  if (largest > 0) for (let i = 0; i < values.length; i += 1) values[i] = (values[i] as number) / largest;
}
