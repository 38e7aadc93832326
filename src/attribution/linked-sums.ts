import { totalOf } from '../dating/density.ts';
import type { Option } from './chain-order.ts';
import type { Relations } from './chain-relations.ts';
import { type Links, linkTable } from './link-table.ts';

/** An option with the marks whose holders all come earlier, and those of which some come earlier and some later; as bits. */
export type Step = Pick<Option, 'mark' | 'number' | 'weight'> & { readonly done: number; readonly active: number };
/** `free`: the weight of each node with the marks that name no holder. */
export type Sums = {
  readonly steps: readonly Step[];
  readonly free: Float64Array;
  /** Of each step, the day to be expected on each node, by which steps are put in order there; undefined: as they stand. */
  readonly days: readonly Float64Array[] | undefined;
};
export type Summed = {
  /** `withOption`: what chains with each option weigh, where it was asked for. */
  over(
    leftOut: (number: number) => boolean,
    byOption: boolean,
  ): { readonly everything: number; readonly withOption: Float64Array };
  /** Chains drawn by their weights, each as its steps: one for each mark. */
  draw(count: number, random: () => number): number[][];
};

/**
 * A step as it is gone through. Sums are kept in columns of one weight for each set of marks: the first for all chains,
 * one for those with a last (or next) holder of each class, one for those with each last (or next) holder; a column is
 * named by where it begins.
 */
type Going = {
  readonly weight: Float64Array;
  readonly bit: number;
  /** The columns beside the first in which its chains are kept. */
  readonly own: readonly number[];
  /** Those of whom it is joined to, and how much likelier than strangers they are. */
  readonly joined: Int32Array;
  readonly more: Float64Array;
};

/**
 * Sets of marks that a step can be added to: of those that some holders come before and some after it any, with all whose
 * holders all come before. A set short of one of those can never be filled. `placeOf`: the place of a set, −1 for others.
 */
type Subsets = { readonly sets: Int32Array; readonly placeOf: Int32Array };

/** The steps that weigh anything on a node, in their order there; `firstAt`: where the sums of each begin. */
type Laid = {
  readonly sequence: Int32Array;
  readonly subsets: readonly Subsets[];
  readonly firstAt: Int32Array;
  readonly room: number;
};

/** Sums over all chains whose holders stand in the order of the steps, each link by its factor. */
export function sumsWithLinks(sums: Sums, marks: number, relations: Relations): Summed {
  const { steps, free } = sums;
  const { classes, holders, linksOfNumber } = linkTable(relations);
  const count = 1 << marks;
  const all = goingOf(steps, count, classes, linksOfNumber, relations.isNobody);
  const laidAt = layer(sums, count, relations.isNobody);
  const before = new Float64Array(count * (1 + classes + holders));
  let after = new Float64Array(0);
  let beginnings = new Float64Array(0);
  /** What all chains weigh on each node, once they have been summed. */
  let known: Float64Array | undefined;
  const begin = (k: number, used: readonly boolean[], isKept: boolean): number => {
    const { sequence, subsets, firstAt, room } = laidAt(k);
    if (isKept && beginnings.length < room) beginnings = new Float64Array(room);
    const kept = isKept ? beginnings : undefined;
    before.fill(0);
    before[0] = free[k] as number;
    for (let i = 0; i < sequence.length; i += 1) {
      const o = sequence[i] as number;
      const step = all[o] as Going;
      const { sets } = subsets[i] as Subsets;
      const at = firstAt[i] as number;
      if (used[o]) forwards(before, step, step.weight[k] as number, sets, kept, at);
      else kept?.fill(0, at, at + sets.length);
    }
    return before[count - 1] as number;
  };
  const over: Summed['over'] = (leftOut, byOption) => {
    const used = steps.map(({ number }) => !leftOut(number));
    if (byOption && after.length === 0) after = new Float64Array(before.length);
    const withOption = new Float64Array(steps.length);
    const ofNode = new Float64Array(free.length);
    let everything = 0;
    for (let k = 0; k < free.length; k += 1) {
      if (free[k] === 0) continue;
      const own = begin(k, used, byOption);
      ofNode[k] = own;
      everything += own;
      if (!byOption) continue;
      after.fill(0);
      after[count - 1] = 1;
      const { sequence, subsets, firstAt } = laidAt(k);
      for (let i = sequence.length - 1; i >= 0; i -= 1) {
        const o = sequence[i] as number;
        if (!used[o]) continue;
        const step = all[o] as Going;
        const { sets } = subsets[i] as Subsets;
        const going = backwards(after, step, step.weight[k] as number, sets, beginnings, firstAt[i] as number);
        withOption[o] = (withOption[o] as number) + going;
      }
    }
    if (used.every((each) => each)) known = ofNode;
    return { everything, withOption };
  };
  const numberOf = Int32Array.from(steps, ({ number }) => number);
  const bitOf = Int32Array.from(all, ({ bit }) => bit);
  const weights = new Float64Array(steps.length);
  /** Writes what each of the first so many steps comes to as the one before `after` (−1: it is the last) of a set still to be filled. */
  const weighBefore = ({ sequence, subsets, firstAt }: Laid, until: number, after: number, set: number, k: number) => {
    const row = after < 0 ? -1 : (numberOf[after] as number) * relations.count;
    for (let i = 0; i < until; i += 1) {
      const o = sequence[i] as number;
      const bit = bitOf[o] as number;
      const place = (set & bit) === 0 ? -1 : ((subsets[i] as Subsets).placeOf[set & ~bit] as number);
      const link = row < 0 ? 1 : (relations.factor[row + (numberOf[o] as number)] as number);
      const begun = place < 0 ? 0 : (beginnings[(firstAt[i] as number) + place] as number);
      weights[i] = link * ((all[o] as Going).weight[k] as number) * begun;
    }
  };
  const drawBack = (k: number, random: () => number): number[] => {
    const laid = laidAt(k);
    const chain: number[] = [];
    let [next, after, set] = [laid.sequence.length, -1, count - 1];
    while (set !== 0) {
      weighBefore(laid, next, after, set, k);
      next = drawn(weights.subarray(0, next), random);
      after = laid.sequence[next] as number;
      set &= ~(bitOf[after] as number);
      chain.push(after);
    }
    return chain;
  };
  const draw: Summed['draw'] = (many, random) => {
    const everybody = steps.map(() => true);
    const ofNode = known ?? Float64Array.from(free, (weight, k) => (weight === 0 ? 0 : begin(k, everybody, false)));
    return spread(ofNode, many, random).flatMap((times, k) => {
      if (times === 0) return [];
      begin(k, everybody, true);
      return Array.from({ length: times }, () => drawBack(k, random));
    });
  };
  return { over, draw };
}

/** One of the places, by their weights. */
export function drawn(weights: Float64Array, random: () => number): number {
  let left = random() * totalOf(weights);
  let last = 0;
  for (let i = 0; i < weights.length; i += 1) {
    const weight = weights[i] as number;
    if (weight === 0) continue;
    last = i;
    left -= weight;
    if (left < 0) break;
  }
  return last;
}

/** How many of so many draws fall on each place: even over the weights, so that none is drawn oftener than its share by more than one. */
export function spread(weights: Float64Array, many: number, random: () => number): number[] {
  const step = totalOf(weights) / many;
  let next = random() * step;
  let sum = 0;
  return Array.from(weights, (weight) => {
    sum += weight;
    let times = 0;
    for (; next < sum && times < many; next += step) times += 1;
    return times;
  });
}

/** Adds the step to every beginning that it can follow; told to `kept`: what those come to with its links. */
function forwards(
  before: Float64Array,
  { bit, own, joined, more }: Going,
  value: number,
  sets: Int32Array,
  kept: Float64Array | undefined,
  firstAt: number,
): void {
  const [first = -1, second = -1] = own;
  const links = joined.length;
  for (let i = 0; i < sets.length; i += 1) {
    const set = sets[i] as number;
    let sum = before[set] as number;
    if (sum !== 0) {
      for (let j = 0; j < links; j += 1) sum += (more[j] as number) * (before[(joined[j] as number) + set] as number);
      const going = sum * value;
      const to = set | bit;
      before[to] = (before[to] as number) + going;
      if (first >= 0) before[first + to] = (before[first + to] as number) + going;
      if (second >= 0) before[second + to] = (before[second + to] as number) + going;
    }
    if (kept !== undefined) kept[firstAt + i] = sum;
  }
}

/** The same from the end; what all chains with the step weigh. */
function backwards(
  after: Float64Array,
  { bit, own, joined, more }: Going,
  value: number,
  sets: Int32Array,
  kept: Float64Array,
  firstAt: number,
): number {
  const [first = -1, second = -1] = own;
  const links = joined.length;
  let all = 0;
  for (let i = 0; i < sets.length; i += 1) {
    const set = sets[i] as number;
    const from = set | bit;
    let sum = after[from] as number;
    if (sum === 0) continue;
    for (let j = 0; j < links; j += 1) sum += (more[j] as number) * (after[(joined[j] as number) + from] as number);
    const going = sum * value;
    after[set] = (after[set] as number) + going;
    if (first >= 0) after[first + set] = (after[first + set] as number) + going;
    if (second >= 0) after[second + set] = (after[second + set] as number) + going;
    all += going * (kept[firstAt + i] as number);
  }
  return all;
}

function goingOf(
  steps: readonly Step[],
  count: number,
  classes: number,
  linksOfNumber: readonly Links[],
  isNobody: Uint8Array,
): Going[] {
  return steps.map(({ mark, number, weight }): Going => {
    // Nobody is joined to nobody; they come before all others, so that those are successive.
    const links = isNobody[number] === 1 ? undefined : linksOfNumber[number];
    const ofClass = (c: number): number => (1 + c) * count;
    const ofHolder = (h: number): number => (1 + classes + h) * count;
    const { ownClass = -1, ownHolder = -1, classTo = [], classMore = [], holderTo = [], holderMore = [] } = links ?? {};
    return {
      weight,
      bit: 1 << mark,
      own: [...(ownClass < 0 ? [] : [ofClass(ownClass)]), ...(ownHolder < 0 ? [] : [ofHolder(ownHolder)])],
      joined: Int32Array.from([...[...classTo].map(ofClass), ...[...holderTo].map(ofHolder)]),
      more: Float64Array.from([...classMore, ...holderMore]),
    };
  });
}

/** The order of the steps on each node, worked out when it is first asked for. */
function layer({ steps, free, days }: Sums, count: number, isNobody: Uint8Array): (k: number) => Laid {
  const known: (Laid | undefined)[] = Array.from(free, () => undefined);
  const subsetsOf = new Map<number, Subsets>();
  const lay = (k: number): Laid => {
    const sequence = sequenceOn(k, steps, days, isNobody);
    const lastAt = new Int32Array(steps.length);
    for (const [i, o] of sequence.entries()) lastAt[(steps[o] as Step).mark] = i;
    const firstAt = new Int32Array(sequence.length);
    let [begun, done, room] = [0, 0, 0];
    const subsets = Array.from(sequence, (o, i): Subsets => {
      const bit = 1 << (steps[o] as Step).mark;
      begun |= bit;
      const active = begun & ~done & ~bit;
      const found = subsetsOf.get(done * count + active) ?? subsetsWith(done, active, count);
      subsetsOf.set(done * count + active, found);
      if (lastAt[(steps[o] as Step).mark] === i) done |= bit;
      firstAt[i] = room;
      room += found.sets.length;
      return found;
    });
    return { sequence, subsets, firstAt, room };
  };
  return (k) => {
    const laid = known[k] ?? lay(k);
    known[k] = laid;
    return laid;
  };
}

/** Steps that weigh anything on a node: nobodies first, then by the days to be expected there, else as they stand. */
function sequenceOn(k: number, steps: readonly Step[], days: Sums['days'], isNobody: Uint8Array): Int32Array {
  const sequence = [...steps.keys()].filter((o) => (steps[o] as Step).weight[k] !== 0);
  if (days !== undefined) {
    const rank = (o: number): number =>
      isNobody[(steps[o] as Step).number] === 1 ? Number.NEGATIVE_INFINITY : ((days[o] as Float64Array)[k] as number);
    const ranks = Float64Array.from(steps, (_, o) => rank(o));
    sequence.sort((a, b) => (ranks[a] === ranks[b] ? a - b : (ranks[a] as number) - (ranks[b] as number)));
  }
  return Int32Array.from(sequence);
}

function subsetsWith(done: number, active: number, count: number): Subsets {
  const sets = new Int32Array(2 ** bitsIn(active));
  const placeOf = new Int32Array(count).fill(-1);
  for (let i = 0, subset = active; i < sets.length; i += 1, subset = (subset - 1) & active) {
    sets[i] = done | subset;
    placeOf[done | subset] = i;
  }
  return { sets, placeOf };
}

export function bitsIn(set: number): number {
  let bits = 0;
  for (let rest = set; rest !== 0; rest &= rest - 1) bits += 1;
  return bits;
}
