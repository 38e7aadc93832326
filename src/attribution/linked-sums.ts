import { totalOf } from '../dating/density.ts';
import type { Option } from './chain-order.ts';
import type { Relations } from './chain-relations.ts';
import { type Links, linkTable } from './link-table.ts';

/** An option with the marks whose holders all come earlier, and those of which some come earlier and some later; as bits. */
export type Step = Pick<Option, 'mark' | 'number' | 'weight'> & { readonly done: number; readonly active: number };
/** `free`: the weight of each node with the marks that name no holder. */
export type Sums = { readonly steps: readonly Step[]; readonly free: Float64Array };
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
  /** Every set that it can be added to: of the active marks any, with all that are done. A set short of one of those can
   * never be filled. */
  readonly sets: Int32Array;
  /** The place of each set among them, −1 for others. */
  readonly placeOf: Int32Array;
  readonly firstAt: number;
  /** The columns beside the first in which its chains are kept. */
  readonly own: readonly number[];
  /** Those of whom it is joined to, and how much likelier than strangers they are. */
  readonly joined: Int32Array;
  readonly more: Float64Array;
};

/** Sums over all chains whose holders stand in the order of the steps, each link by its factor. */
export function sumsWithLinks({ steps, free }: Sums, marks: number, relations: Relations): Summed {
  const { classes, holders, linksOfNumber } = linkTable(relations);
  const count = 1 << marks;
  const all = goingOf(steps, count, classes, linksOfNumber, relations.isNobody);
  const room = all.reduce((sum, { sets }) => sum + sets.length, 0);
  const before = new Float64Array(count * (1 + classes + holders));
  let after = new Float64Array(0);
  let beginnings = new Float64Array(0);
  const begin = (k: number, used: readonly boolean[], kept: Float64Array | undefined): number => {
    before.fill(0);
    before[0] = free[k] as number;
    for (let o = 0; o < all.length; o += 1) {
      const step = all[o] as Going;
      const value = step.weight[k] as number;
      if (value !== 0 && used[o]) forwards(before, step, value, kept);
      else if (kept !== undefined) kept.fill(0, step.firstAt, step.firstAt + step.sets.length);
    }
    return before[count - 1] as number;
  };
  const over: Summed['over'] = (leftOut, byOption) => {
    const used = steps.map(({ number }) => !leftOut(number));
    if (byOption && after.length === 0) [after, beginnings] = [new Float64Array(before.length), new Float64Array(room)];
    const withOption = new Float64Array(steps.length);
    let everything = 0;
    for (let k = 0; k < free.length; k += 1) {
      if (free[k] === 0) continue;
      everything += begin(k, used, byOption ? beginnings : undefined);
      if (!byOption) continue;
      after.fill(0);
      after[count - 1] = 1;
      for (let o = all.length - 1; o >= 0; o -= 1) {
        const step = all[o] as Going;
        const value = step.weight[k] as number;
        if (value !== 0 && used[o])
          withOption[o] = (withOption[o] as number) + backwards(after, step, value, beginnings);
      }
    }
    return { everything, withOption };
  };
  const factorOf = (a: Step, b: Step): number =>
    relations.isNobody[a.number] === 1 || relations.isNobody[b.number] === 1
      ? 1
      : (relations.factor[a.number * relations.count + b.number] as number);
  const drawBack = (k: number, random: () => number): number[] => {
    const chain: number[] = [];
    const weights = new Float64Array(all.length);
    let [next, set] = [all.length, count - 1];
    while (set !== 0) {
      for (let o = 0; o < next; o += 1) {
        const { bit, placeOf, firstAt, weight } = all[o] as Going;
        const place = (set & bit) === 0 ? -1 : (placeOf[set & ~bit] as number);
        const link = next === all.length ? 1 : factorOf(steps[o] as Step, steps[next] as Step);
        weights[o] = place < 0 ? 0 : link * (weight[k] as number) * (beginnings[firstAt + place] as number);
      }
      next = drawn(weights.subarray(0, next), random);
      set &= ~(all[next] as Going).bit;
      chain.push(next);
    }
    return chain;
  };
  const draw: Summed['draw'] = (many, random) => {
    const everybody = steps.map(() => true);
    if (beginnings.length === 0) beginnings = new Float64Array(room);
    const ofNode = Float64Array.from(free, (weight, k) => (weight === 0 ? 0 : begin(k, everybody, undefined)));
    return spread(ofNode, many, random).flatMap((times, k) => {
      if (times === 0) return [];
      begin(k, everybody, beginnings);
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
function forwards(before: Float64Array, step: Going, value: number, kept: Float64Array | undefined): void {
  const { sets, bit, own, joined, more, firstAt } = step;
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
function backwards(after: Float64Array, step: Going, value: number, kept: Float64Array): number {
  const { sets, bit, own, joined, more, firstAt } = step;
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
  const known = new Map<string, Pick<Going, 'sets' | 'placeOf'>>();
  const setsOf = ({ done, active }: Step): Pick<Going, 'sets' | 'placeOf'> => {
    const key = `${done} ${active}`;
    const found = known.get(key) ?? subsetsWith(done, active, count);
    known.set(key, found);
    return found;
  };
  let firstAt = 0;
  return steps.map((step): Going => {
    const { mark, number, weight } = step;
    const { sets, placeOf } = setsOf(step);
    const at = firstAt;
    firstAt += sets.length;
    // Nobody is joined to nobody; they come before all others, so that those are successive.
    const links = isNobody[number] === 1 ? undefined : linksOfNumber[number];
    const ofClass = (c: number): number => (1 + c) * count;
    const ofHolder = (h: number): number => (1 + classes + h) * count;
    const { ownClass = -1, ownHolder = -1, classTo = [], classMore = [], holderTo = [], holderMore = [] } = links ?? {};
    return {
      weight,
      bit: 1 << mark,
      sets,
      placeOf,
      firstAt: at,
      own: [...(ownClass < 0 ? [] : [ofClass(ownClass)]), ...(ownHolder < 0 ? [] : [ofHolder(ownHolder)])],
      joined: Int32Array.from([...[...classTo].map(ofClass), ...[...holderTo].map(ofHolder)]),
      more: Float64Array.from([...classMore, ...holderMore]),
    };
  });
}

function subsetsWith(done: number, active: number, count: number): Pick<Going, 'sets' | 'placeOf'> {
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
