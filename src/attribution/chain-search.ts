import { multiplyInto } from '../dating/density.ts';
import { completionsOf } from './chain-completions.ts';
import { standIns } from './chain-dominance.ts';
import type { PreparedMark } from './chain-marks.ts';
import { AFTER, type ChainOrder, NEVER, type Option } from './chain-order.ts';
import type { Relations } from './chain-relations.ts';
import { scorerOf } from './chain-score.ts';
import type { ChainTable } from './chain-table.ts';

/** One holder for each mark: `assigned[place]` is the holder's place among the mark's holders. */
export type Chain = {
  readonly assigned: readonly number[];
  /** Its weight, with the factors of its links. Comparable between the chains of one object only. */
  readonly score: number;
};

export type Search = {
  /** Every chain found, the heaviest first. */
  readonly chains: readonly Chain[];
  /** No chain is heavier than the first `wanted`, as far as sums over nodes of makings tell. */
  readonly proved: boolean;
  /** The marks that name a holder in a chain, in the order of the days on which it lets them be expected. */
  orderOf(chain: Chain): readonly number[];
};

/** Multiplications that the search for the best may take, and the search for more after it: a part of a second. */
const MOST_STEPS_FOR_BEST = 1.2e8;
const MOST_STEPS_FOR_MORE = 4e7;
/** So many chains are kept; what the others weigh together is summed in another way. */
const MOST_CHAINS = 20_000;
/** Where the first so many come to less than this part of all, the others are left to the sum. */
const FIRST_CHAINS = 500;
const WORTH_FINDING = 0.05;
/** Chains lighter than this part of the heaviest are not looked for once the best are proved. */
const LIGHT = 1e-6;
/** So many sets of marks are kept with what their heaviest holders weigh. */
const MOST_KEPT = 1024;
/** What may be heavier by this part of itself is as heavy. */
const ROUNDING = 1e-11;

/**
 * The heaviest chains, by branch and bound: marks are given a holder one after another in the order of the days to be
 * expected, those first that can come to most, and a beginning is given up when the best way to go on would not bring it
 * up to what is asked for. An overlying mark is taken as free in the bound, which can only raise it. Where the order of
 * two marks hangs on the rest of the chain, both are tried.
 * First until the best `wanted` are proved, then on as far as room allows, for the sum over all chains.
 * @param everything what all chains weigh together, about: what comes to next to nothing of it is not worth finding.
 * @param isListed whether a chain with a holder may be among those found.
 * @see Land, A. H. and Doig, A. G., An automatic method of solving discrete programming problems, Econometrica 28
 *   (1960) 497–520.
 */
export function searchChains(
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  order: ChainOrder,
  wanted: number,
  everything: number,
  isListed: (place: number, holder: number) => boolean = () => true,
): Search {
  const { single, nodes } = table;
  const { options, relation } = order;
  const { factor, count } = relations;
  const size = nodes.weight.length;
  const free = nodes.weight.slice();
  const assigned: number[] = marks.map(() => 0);
  for (const { place, namesHolder } of marks) {
    const weight = namesHolder ? undefined : single[place]?.[0]?.weight;
    if (weight !== undefined) multiplyInto(free, weight);
  }
  const heaviest = Array.from({ length: order.marks }, () => new Float64Array(size));
  const listed = options.map(({ place, holder }) => isListed(place, holder));
  for (const [o, { mark, weight }] of options.entries()) {
    const most = heaviest[mark] as Float64Array;
    if (listed[o]) for (let k = 0; k < size; k += 1) most[k] = Math.max(most[k] as number, weight[k] as number);
  }
  const completions = completionsOf(order, relations, heaviest, (o) => listed[o] === true);
  const { count: groups, groupOf } = completions.groups;
  const alike = standIns(order, table, relations, listed);
  const scorer = scorerOf(table, marks, relations);

  const found = new Map<string, Chain>();
  let best: number[] = [];
  let steps = 0;
  let mostSteps = MOST_STEPS_FOR_BEST;
  let exhausted = false;
  let foundWeight = 0;
  let fewest = MOST_CHAINS;
  const mostChains = (): number => (foundWeight < WORTH_FINDING * everything ? fewest : MOST_CHAINS);
  let mostAsGood = wanted;
  // Of each set of holders and the last of them, the best way to have come there: the order of the others is no matter.
  let reached = new Map<string, number>();
  const taken: number[] = [];
  const hinders = factor.some((value) => value < 1);

  const complete = (): void => {
    const key = assigned.join();
    if (found.has(key)) return;
    const chain = { assigned: [...assigned], score: scorer.scoreOf(assigned) };
    steps += size * marks.length;
    found.set(key, chain);
    foundWeight += chain.score;
    if (best.length < wanted || chain.score > (best[wanted - 1] as number))
      best = [...best, chain.score].sort((a, b) => b - a).slice(0, wanted);
  };
  /** What weighs on each node if every mark of a set, as bits, has its heaviest holder; kept for the next beginning. */
  const heaviestOf = new Map<number, Float64Array>();
  const heaviestIn = (set: number, left: readonly number[]): Float64Array => {
    const known = heaviestOf.get(set);
    if (known !== undefined) return known;
    const product = new Float64Array(size).fill(1);
    for (const mark of left) multiplyInto(product, heaviest[mark] as Float64Array);
    if (heaviestOf.size < MOST_KEPT) heaviestOf.set(set, product);
    return product;
  };
  const rooms = Array.from({ length: order.marks + 1 }, () => ({
    before: new Float64Array(size),
    reach: new Float64Array(groups),
    barred: new Uint8Array(options.length),
  }));

  /** @param at how many marks have a holder: what they weigh, and who cannot come after them, lies in the room for so many. */
  const visit = (
    at: number,
    set: number,
    left: readonly number[],
    last: number,
    joined: number,
    { isFirst, isSwapped, asGood }: Entry,
    threshold: () => number,
  ): void => {
    if (left.length === 0) {
      if (!isSwapped) complete();
      return;
    }
    const { before, reach, barred } = rooms[at] as Room;
    const most = heaviestIn(set, left);
    reach.fill(0);
    for (let k = 0; k < size; k += 1) {
      const g = groupOf[k] as number;
      reach[g] = (reach[g] as number) + (before[k] as number) * (most[k] as number);
    }
    steps += size;
    const branches: Branch[] = [];
    const restOf = new Map(left.map((mark) => [mark, left.filter((other) => other !== mark)]));
    const lastNumber = last < 0 ? -1 : (options[last] as Option).number * count;
    const least = threshold();
    for (let o = 0; o < options.length; o += 1) {
      if (barred[o] === 1 || !listed[o]) continue;
      const { mark, number, isNobody } = options[o] as Option;
      const rest = restOf.get(mark);
      if (rest === undefined || asGood * ((alike[o] as number) + 1) > mostAsGood) continue;
      const link = isNobody || last < 0 ? 1 : (factor[lastNumber + number] as number);
      if (isSwapped && link === 1) continue;
      const next = isNobody ? last : o;
      const bound = joined * link * completions.atMost(set + 2 ** mark, rest, next, reach, o);
      steps += groups * 2;
      if (bound > least + least * ROUNDING) branches.push({ o, rest, next, link, bound });
    }
    branches.sort((a, b) => b.bound - a.bound || a.o - b.o);
    const after = rooms[at + 1] as Room;
    for (const branch of branches) {
      const limit = threshold();
      if (branch.bound <= limit + limit * ROUNDING) return;
      if (steps + scorer.steps() > mostSteps || found.size >= mostChains()) {
        exhausted = true;
        return;
      }
      const { o, link, next } = branch;
      const { place, mark, holder, weight } = options[o] as Option;
      taken.push(o);
      const isApart = link === 1;
      const entry = {
        isFirst: isApart,
        isSwapped: isApart && isFirst && o < last && !hinders,
        asGood: asGood * ((alike[o] as number) + 1),
      };
      const nowJoined = joined * link;
      const key = order.isSure ? '' : `${next}:${[...taken].sort((a, b) => a - b).join()}`;
      if (order.isSure || !((reached.get(key) ?? 0) >= nowJoined)) {
        if (!order.isSure && !entry.isSwapped) reached.set(key, nowJoined);
        for (let k = 0; k < size; k += 1) after.before[k] = (before[k] as number) * (weight[k] as number);
        for (let b = 0; b < options.length; b += 1) {
          const found = relation[o * options.length + b];
          after.barred[b] = barred[b] === 1 || found === AFTER || found === NEVER ? 1 : 0;
        }
        assigned[place] = holder;
        visit(at + 1, set + 2 ** mark, branch.rest, next, nowJoined, entry, threshold);
      }
      taken.pop();
    }
  };
  const start = rooms[0] as Room;
  start.before.set(free);
  const all = Array.from({ length: order.marks }, (_, mark) => mark);
  visit(0, 0, all, -1, 1, START, () => (best.length < wanted ? 0 : (best[wanted - 1] as number)));
  const proved = !exhausted;
  mostSteps = steps + scorer.steps() + MOST_STEPS_FOR_MORE;
  if (proved && !sumsAreExact(table, order)) {
    fewest = FIRST_CHAINS;
    reached = new Map();
    mostAsGood = Number.POSITIVE_INFINITY;
    visit(0, 0, all, -1, 1, START, () => (best[0] ?? 0) * LIGHT);
  }

  const chains = [...found.values()].sort((a, b) => b.score - a.score || compareAssigned(a.assigned, b.assigned));
  return { chains, proved, orderOf: ({ assigned: holders }) => scorer.orderOf(holders) };
}

/**
 * How the last holder came in: `isFirst`, joined to nobody before; `isSwapped`, so and earlier among the options than one
 * who is joined to nobody before either. The two may then as well stand the other way round, unless the next one is joined.
 */
type Entry = {
  readonly isFirst: boolean;
  readonly isSwapped: boolean;
  /** So many chains there are at least for each that goes on from here, itself one of them, of which none is lighter. */
  readonly asGood: number;
};
const START: Entry = { isFirst: true, isSwapped: false, asGood: 1 };

/** Of a beginning: what it weighs on each node, how much it can come to in each group, and who cannot come next. */
type Room = { readonly before: Float64Array; readonly reach: Float64Array; readonly barred: Uint8Array };

/** A holder for one more mark: `next` is the option assigned last then. */
type Branch = {
  readonly o: number;
  readonly rest: readonly number[];
  readonly next: number;
  readonly link: number;
  readonly bound: number;
};

/** What overlies what bears on no weight, and the order of marks is known beforehand: then all chains are summed at once. */
export const sumsAreExact = ({ trees, single }: ChainTable, { isSure }: ChainOrder): boolean =>
  trees.length === single.length && isSure;

const compareAssigned = (a: readonly number[], b: readonly number[]): number => {
  const at = a.findIndex((value, i) => value !== b[i]);
  return at < 0 ? 0 : (a[at] as number) - (b[at] as number);
};
