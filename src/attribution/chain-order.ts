import type { PreparedMark } from './chain-marks.ts';
import type { Relations } from './chain-relations.ts';
import type { ChainTable, Part } from './chain-table.ts';
import type { OverlayTree } from './overlay-sums.ts';

/** A possible holder of a mark in the order in which all of them are gone through. */
export type Option = {
  readonly place: number;
  readonly holder: number;
  /** Place of the mark among those that name a holder. */
  readonly mark: number;
  readonly number: number;
  /** The mark names no holder: it then stands between nobody, and has no place in the order. */
  readonly isNobody: boolean;
  /** Its weight on each node. */
  readonly weight: Float64Array;
};

/** Of two holders of different marks: which mark is the earlier one in every chain that has both. */
export const EITHER = 0;
export const BEFORE = 1;
export const AFTER = 2;
/** No chain that has both weighs anything. */
export const NEVER = 3;

export type ChainOrder = {
  /** Nobodies first, then in the order of the days to be expected: nobody stands before whoever is certainly earlier. */
  readonly options: readonly Option[];
  /** How many marks name a holder. */
  readonly marks: number;
  /** `EITHER` … `NEVER` for options a and b of different marks, at a · options.length + b. */
  readonly relation: Uint8Array;
  /** The marks of every chain stand in the order of `options`: no two of different marks may come either way. */
  readonly isSure: boolean;
  /** By place and holder: the day to be expected of the mark, when every other mark may have any of its holders. */
  readonly days: readonly (readonly number[])[];
};

/** Days to be expected that lie closer together may be put either way by rounding. */
const ROUNDING_DAYS = 1e-6;

/**
 * All possible holders of all marks in the order of the days on which their marks are to be expected, and of which two
 * of them the order is the same in every chain. The expected day of a mark in a chain is a mean over the days of making,
 * weighed alike for all marks of the chain: who is the earlier for every day of making is so in every mean of them.
 */
export function chainOrder(
  table: ChainTable,
  marks: readonly PreparedMark[],
  { numberOf, isNobody, strangers }: Relations,
): ChainOrder {
  const naming = marks.filter(({ namesHolder }) => namesHolder);
  const days = expectedDays(table, marks);
  const unsorted = naming.flatMap(({ place }, mark) =>
    (table.single[place] ?? []).map(({ weight }, holder): Option => {
      const number = numberOf[place]?.[holder] ?? -1;
      return { place, holder, mark, number, isNobody: isNobody[number] === 1, weight };
    }),
  );
  const dayOf = ({ place, holder }: Option): number => days[place]?.[holder] ?? 0;
  unsorted.sort((a, b) => Number(b.isNobody) - Number(a.isNobody) || dayOf(a) - dayOf(b) || a.place - b.place);
  const related = strangers ? asTheyStand(unsorted) : relationsIn(unsorted, table, marks);
  const { sequence, isSure } = inSequence(unsorted, related);
  const count = unsorted.length;
  const relation = new Uint8Array(count * count);
  for (const [i, a] of sequence.entries())
    for (const [j, b] of sequence.entries()) relation[i * count + j] = related[a * count + b] as number;
  return { options: sequence.map((i) => unsorted[i] as Option), marks: naming.length, relation, isSure, days };
}

/** Among strangers the order is no matter: one mark after another. */
function asTheyStand(options: readonly Option[]): Uint8Array {
  const isEarlier = (a: Option, b: Option): boolean => (a.isNobody === b.isNobody ? a.mark < b.mark : a.isNobody);
  return Uint8Array.from(
    options.flatMap((a) => options.map((b) => (a.mark === b.mark ? EITHER : isEarlier(a, b) ? BEFORE : AFTER))),
  );
}

function relationsIn(options: readonly Option[], table: ChainTable, marks: readonly PreparedMark[]): Uint8Array {
  const count = options.length;
  const relation = new Uint8Array(count * count);
  const isAlone = new Uint8Array(marks.length);
  for (const { place, overlying } of table.trees) if (overlying.length === 0) isAlone[place] = 1;
  const underlying = marksUnder(table.trees);
  const bounds = options.map((option) => dayBounds(option, table, marks, isAlone[option.place] === 1));
  for (const [a, one] of options.entries()) {
    for (let b = a + 1; b < count; b += 1) {
      const other = options[b] as Option;
      if (one.mark === other.mark) continue;
      let found = EITHER;
      if (one.isNobody || other.isNobody) found = one.isNobody ? BEFORE : AFTER;
      else if (underlying.get(other.place)?.has(one.place)) found = BEFORE;
      else if (underlying.get(one.place)?.has(other.place)) found = AFTER;
      else found = compared(one.place, other.place, bounds[a] as DayBounds, bounds[b] as DayBounds);
      relation[a * count + b] = found;
      relation[b * count + a] = found === BEFORE ? AFTER : found === AFTER ? BEFORE : found;
    }
  }
  return relation;
}

/** Between which days a mark is to be expected, for a making on each node where it weighs anything. */
type DayBounds = {
  readonly node: Int32Array;
  readonly least: Float64Array;
  readonly most: Float64Array;
  readonly first: number;
  readonly last: number;
};

/** By its holder alone if nothing overlies it and it overlies nothing; else no more than the days of its holder is known. */
function dayBounds(
  { place, holder, weight }: Option,
  { single }: ChainTable,
  marks: readonly PreparedMark[],
  alone: boolean,
): DayBounds {
  const node = Int32Array.from([...weight.keys()].filter((k) => weight[k] !== 0));
  const expected = alone ? single[place]?.[holder]?.expected[0] : undefined;
  const held = marks[place]?.holders[holder]?.held;
  const [from, length] = [held?.from ?? 0, held?.weights.length ?? 0];
  const least = Float64Array.from(node, (k) => (expected === undefined ? from : (expected[k] as number)));
  const most = expected === undefined ? least.map(() => from + length - 1) : least;
  return {
    node,
    least,
    most,
    first: least.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
    last: most.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
  };
}

function compared(placeA: number, placeB: number, a: DayBounds, b: DayBounds): number {
  if (a.last < b.first - ROUNDING_DAYS) return BEFORE;
  if (b.last < a.first - ROUNDING_DAYS) return AFTER;
  let [i, j] = [0, 0];
  let [meets, isBefore, isAfter, isSame] = [false, true, true, true];
  while (i < a.node.length && j < b.node.length) {
    const [k, l] = [a.node[i] as number, b.node[j] as number];
    if (k < l) i += 1;
    else if (l < k) j += 1;
    else {
      meets = true;
      if (!((a.most[i] as number) < (b.least[j] as number) - ROUNDING_DAYS)) isBefore = false;
      if (!((b.most[j] as number) < (a.least[i] as number) - ROUNDING_DAYS)) isAfter = false;
      if (a.least[i] !== b.most[j] || a.most[i] !== b.least[j]) isSame = false;
      if (!(isBefore || isAfter || isSame)) return EITHER;
      i += 1;
      j += 1;
    }
  }
  if (!meets) return NEVER;
  if (isSame) return placeA < placeB ? BEFORE : AFTER;
  return isBefore ? BEFORE : AFTER;
}

/** Of each mark, those that it lies over, directly or by way of others: they are not later. */
function marksUnder(trees: readonly OverlayTree[]): Map<number, ReadonlySet<number>> {
  const under = new Map<number, ReadonlySet<number>>();
  const walk = ({ place, overlying }: OverlayTree, below: ReadonlySet<number>): void => {
    under.set(place, below);
    for (const above of overlying) walk(above, new Set([...below, place]));
  };
  for (const tree of trees) walk(tree, new Set());
  return under;
}

/** Each after all that are certainly before it, those of which nothing is certain as they stand. */
function inSequence(options: readonly Option[], relation: Uint8Array): { sequence: number[]; isSure: boolean } {
  const count = options.length;
  const waitsFor = new Int32Array(count);
  let isSure = true;
  for (let a = 0; a < count; a += 1) {
    for (let b = 0; b < count; b += 1) {
      const found = relation[a * count + b];
      if (found === AFTER) waitsFor[a] = (waitsFor[a] as number) + 1;
      if (found === EITHER && options[a]?.mark !== options[b]?.mark) isSure = false;
    }
  }
  const left = options.map((_, i) => i);
  const sequence: number[] = [];
  while (left.length > 0) {
    let at = left.findIndex((i) => waitsFor[i] === 0);
    if (at < 0) [at, isSure] = [0, false];
    const [next = 0] = left.splice(at, 1);
    sequence.push(next);
    for (const i of left) if (relation[next * count + i] === BEFORE) waitsFor[i] = (waitsFor[i] as number) - 1;
  }
  return { sequence, isSure };
}

function expectedDays({ nodes, single }: ChainTable, marks: readonly PreparedMark[]): number[][] {
  const size = nodes.weight.length;
  const all = single.map((parts) => {
    const sum = new Float64Array(size);
    for (const { weight } of parts)
      for (let k = 0; k < size; k += 1) sum[k] = (sum[k] as number) + (weight[k] as number);
    return sum;
  });
  return marks.map(({ place }) => {
    const others = nodes.weight.slice();
    for (const [m, sum] of all.entries()) {
      if (m === place) continue;
      for (let k = 0; k < size; k += 1) others[k] = (others[k] as number) * (sum[k] as number);
    }
    return (single[place] ?? []).map(({ weight, expected: [expected] }: Part) => {
      let [sum, mean] = [0, 0];
      for (let k = 0; k < size; k += 1) {
        const value = (others[k] as number) * (weight[k] as number);
        sum += value;
        mean += value * (expected?.[k] ?? 0);
      }
      return sum === 0 ? 0 : mean / sum;
    });
  });
}
