import { largestOf } from '../dating/density.ts';
import type { PreparedMark } from './chain-marks.ts';
import type { MakingNodes } from './making-nodes.ts';
import { aheadOf, expectedOn, type Held, type OverlayTree, type TreeSums, treeSums } from './overlay-sums.ts';

/**
 * One mark, or marks that lie over each other, with assigned holders: on each node what it weighs if the object was
 * made then, and on which day each of its marks is then to be expected.
 */
export type Part = { readonly weight: Float64Array; readonly expected: readonly Float64Array[] };

export type ChainTable = {
  readonly nodes: MakingNodes;
  /** For each mark and each of its holders alone, whatever overlies what. Weights are scaled to at most 1 by mark. */
  readonly single: readonly (readonly Part[])[];
  /** The sums behind them. */
  readonly sums: readonly (readonly TreeSums[])[];
  readonly scale: readonly number[];
  readonly trees: readonly OverlayTree[];
  /** The marks of each tree, its root first; the order of `Part.expected`. */
  readonly placesOf: readonly (readonly number[])[];
};

/** A mark that can have been put on on no day. */
export const NO_DAYS: Held = { from: 0, weights: new Float64Array(0), law: [] };

export const placesIn = (tree: OverlayTree): number[] => [tree.place, ...tree.overlying.flatMap(placesIn)];

/** The sums of every mark and holder taken alone. */
export const singleSums = (marks: readonly PreparedMark[]): TreeSums[][] =>
  marks.map(({ place, holders }) => holders.map(({ held }) => treeSums({ place, overlying: [] }, () => held)));

export function chainTable(
  marks: readonly PreparedMark[],
  trees: readonly OverlayTree[],
  sums: readonly (readonly TreeSums[])[],
  nodes: MakingNodes,
): ChainTable {
  const raw = marks.map(({ place, detached, holders }, m) =>
    holders.map(({ held }, c) => {
      const alone = sums[m]?.[c] ?? treeSums({ place, overlying: [] }, () => held);
      const days = detached ? new Float64Array(nodes.day.length).fill(held.from) : nodes.day;
      return { weight: partOf([alone], nodes, detached).weight, expected: [expectedOn(held, days)] };
    }),
  );
  const scale = raw.map((parts) => Math.max(...parts.map(({ weight }) => largestOf(weight))) || 1);
  for (const [m, parts] of raw.entries()) {
    for (const { weight } of parts)
      for (let k = 0; k < weight.length; k += 1) weight[k] = (weight[k] as number) / (scale[m] as number);
  }
  return { nodes, single: raw, sums, scale, trees, placesOf: trees.map(placesIn) };
}

/**
 * A tree of several marks with one holder assigned to each, scaled as the single marks are.
 * @param places the marks of the tree whose days are asked for, in this order.
 * @param sumsOf its sums as they are, and with the day of one of its marks as a further factor.
 */
export function treePart(
  tree: OverlayTree,
  places: readonly number[],
  sumsOf: (timed: number | undefined) => TreeSums,
  { nodes, scale }: Pick<ChainTable, 'nodes' | 'scale'>,
): Part {
  const part = partOf([undefined, ...places].map(sumsOf), nodes, false);
  const by = placesIn(tree).reduce((product, place) => product * (scale[place] ?? 1), 1);
  for (let k = 0; k < part.weight.length; k += 1) part.weight[k] = (part.weight[k] as number) / by;
  return part;
}

/** So many sums of overlying marks are kept; they take about a megabyte each. */
const MOST_KEPT = 64;

/**
 * The sums of trees under changing holders. Those of the marks that lie over others are kept from one assignment to the
 * next: most assignments that are tried differ in a mark or two.
 */
export function assignedSums(heldBy: (place: number, holder: number) => Held) {
  const kept = new Map<string, TreeSums>();
  let days = 0;
  const sumsOf = (tree: OverlayTree, holderOf: (place: number) => number, timed: number | undefined): TreeSums => {
    const held = (place: number): Held => {
      const own = heldBy(place, holderOf(place));
      return place === timed ? timesDay(own) : own;
    };
    const made = treeSums(tree, held, (above) => keptSums(above, holderOf, timed));
    days += made.length * Math.max(1, made.rates.length);
    return made;
  };
  const keptSums: typeof sumsOf = (tree, holderOf, timed) => {
    const key = placesIn(tree)
      .map((place) => `${place}:${holderOf(place)}${place === timed ? '*' : ''}`)
      .join(' ');
    const known = kept.get(key);
    if (known !== undefined) return known;
    const made = sumsOf(tree, holderOf, timed);
    if (kept.size === MOST_KEPT) kept.clear();
    kept.set(key, made);
    return made;
  };
  return {
    sumsOf,
    /** Days gone through so far, counted for each rate. */
    days: () => days,
  };
}

/** The same days with the number of the day as a further factor, for means. */
function timesDay({ from, weights, law }: Held): Held {
  const times = new Float64Array(weights.length);
  for (let i = 0; i < times.length; i += 1) times[i] = (weights[i] as number) * (from + i);
  return { from, weights: times, law };
}

/** The first sums are weights, the others the same times a mark's day: their quotient is the day to be expected. */
function partOf([plain, ...times]: readonly TreeSums[], { day }: MakingNodes, detached: boolean): Part {
  const at = (sums: TreeSums, y: number): number => aheadOf(sums, detached ? sums.from : y);
  const weight = new Float64Array(day.length);
  const expected = times.map(() => new Float64Array(day.length));
  if (plain === undefined || plain.length === 0) return { weight, expected };
  for (let k = 0; k < day.length; k += 1) {
    const value = at(plain, day[k] as number);
    weight[k] = value;
    if (value === 0) continue;
    for (const [i, sums] of times.entries()) (expected[i] as Float64Array)[k] = at(sums, day[k] as number) / value;
  }
  return { weight, expected };
}
