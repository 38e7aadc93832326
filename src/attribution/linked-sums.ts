import type { Option } from './chain-order.ts';
import type { Relations } from './chain-relations.ts';
import { type Links, linkTable } from './link-table.ts';

/** An option with the marks whose holders all come earlier, and those of which some come earlier and some later; as bits. */
export type Step = Pick<Option, 'mark' | 'number' | 'weight'> & { readonly done: number; readonly active: number };
/** `free`: the weight of each node with the marks that name no holder. */
export type Sums = { readonly steps: readonly Step[]; readonly free: Float64Array };
/** `withOption`: what chains with each option weigh, where it was asked for. */
export type SumsOf = (
  leftOut: (number: number) => boolean,
  byOption: boolean,
) => { readonly everything: number; readonly withOption: Float64Array };

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
  readonly firstAt: number;
  /** The columns beside the first in which its chains are kept. */
  readonly own: readonly number[];
  /** Those of whom it is joined to, and how much likelier than strangers they are. */
  readonly joined: Int32Array;
  readonly more: Float64Array;
};

/** Sums over all chains whose holders stand in the order of the steps, each link by its factor. */
export function sumsWithLinks({ steps, free }: Sums, marks: number, relations: Relations): SumsOf {
  const { classes, holders, linksOfNumber } = linkTable(relations);
  const count = 1 << marks;
  const all = goingOf(steps, count, classes, linksOfNumber, relations.isNobody);
  const room = all.reduce((sum, { sets }) => sum + sets.length, 0);
  const before = new Float64Array(count * (1 + classes + holders));
  let after = new Float64Array(0);
  let beginnings = new Float64Array(0);
  return (leftOut, byOption) => {
    const used = steps.map(({ number }) => !leftOut(number));
    if (byOption && after.length === 0) [after, beginnings] = [new Float64Array(before.length), new Float64Array(room)];
    const withOption = new Float64Array(steps.length);
    let everything = 0;
    for (let k = 0; k < free.length; k += 1) {
      if (free[k] === 0) continue;
      before.fill(0);
      before[0] = free[k] as number;
      for (let o = 0; o < all.length; o += 1) {
        const step = all[o] as Going;
        const value = step.weight[k] as number;
        if (value !== 0 && used[o]) forwards(before, step, value, byOption ? beginnings : undefined);
      }
      everything += before[count - 1] as number;
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
  const known = new Map<string, Int32Array>();
  const setsOf = ({ done, active }: Step): Int32Array => {
    const key = `${done} ${active}`;
    const found = known.get(key) ?? subsetsWith(done, active);
    known.set(key, found);
    return found;
  };
  let firstAt = 0;
  return steps.map((step): Going => {
    const { mark, number, weight } = step;
    const sets = setsOf(step);
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
      firstAt: at,
      own: [...(ownClass < 0 ? [] : [ofClass(ownClass)]), ...(ownHolder < 0 ? [] : [ofHolder(ownHolder)])],
      joined: Int32Array.from([...[...classTo].map(ofClass), ...[...holderTo].map(ofHolder)]),
      more: Float64Array.from([...classMore, ...holderMore]),
    };
  });
}

function subsetsWith(done: number, active: number): Int32Array {
  const sets = new Int32Array(2 ** bitsIn(active));
  for (let i = 0, subset = active; i < sets.length; i += 1, subset = (subset - 1) & active) sets[i] = done | subset;
  return sets;
}

export function bitsIn(set: number): number {
  let bits = 0;
  for (let rest = set; rest !== 0; rest &= rest - 1) bits += 1;
  return bits;
}
