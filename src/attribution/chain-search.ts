import { multiplyInto } from '../dating/density.ts';
import { completionsOf, roughCount } from './chain-completions.ts';
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
const FIRST_CHAINS = 100;
const WORTH_FINDING = 0.05;
/** Chains lighter than this part of the heaviest are not looked for once the best are proved. */
const LIGHT = 1e-6;
/** How much less is asked for when there were not enough chains that come to more. */
const LESS = 8;
const NEXT_TO_NOTHING = 1e-15;
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
    rough: new Float64Array(roughCount(completions.groups)),
    barred: Uint8Array.from(listed, (each) => (each ? 0 : 1)),
  }));
  const markOf = Int32Array.from(options, ({ mark }) => mark);
  const bitOf = Float64Array.from({ length: order.marks }, (_, mark) => 2 ** mark);
  const isLeft = new Uint8Array(order.marks).fill(1);
  const linkOf = (last: number, o: number): number => {
    const { number, isNobody } = options[o] as Option;
    return isNobody || last < 0 ? 1 : (factor[(options[last] as Option).number * count + number] as number);
  };

  /** Every way to go on that can come to more than `enough`, that to most first. A small loop by itself: V8 makes it fast soon. */
  const waysOn = (
    { reach, rough, barred }: Room,
    { set, left, last, joined }: Begun,
    { isSwapped, asGood }: Entry,
    enough: number,
  ): Branch[] => {
    const ways: Branch[] = [];
    for (let o = 0; o < markOf.length; o += 1) {
      const mark = markOf[o] as number;
      if (barred[o] === 1 || isLeft[mark] === 0 || asGood * ((alike[o] as number) + 1) > mostAsGood) continue;
      const link = linkOf(last, o);
      if (isSwapped && link === 1) continue;
      const then = set + (bitOf[mark] as number);
      steps += rough.length * 2;
      if (joined * link * completions.roughlyAtMost(then, o, rough) <= enough) continue;
      const next = (options[o] as Option).isNobody ? last : o;
      const bound = joined * link * completions.atMost(then, left, next, reach, o);
      steps += groups * 2;
      if (bound > enough) ways.push({ o, next, link, bound });
    }
    return ways.sort(byBound);
  };

  /** @param at how many marks have a holder: what they weigh, and who cannot come after them, lies in the room for so many. */
  const visit = (at: number, begun: Begun, entry: Entry, threshold: () => number): void => {
    const { set, left, last, joined } = begun;
    if (left.length === 0) {
      if (!entry.isSwapped) complete();
      return;
    }
    const room = rooms[at] as Room;
    addGroups(room.reach, room.before, heaviestIn(set, left), groupOf);
    completions.roughly(room.reach, room.rough);
    steps += size;
    for (const { o, next, link, bound } of waysOn(room, begun, entry, raised(threshold()))) {
      if (bound <= raised(threshold())) return;
      if (steps + scorer.steps() > mostSteps || found.size >= mostChains()) {
        exhausted = true;
        return;
      }
      const { place, mark, holder, weight } = options[o] as Option;
      taken.push(o);
      const isApart = link === 1;
      const then: Entry = {
        isFirst: isApart,
        isSwapped: isApart && entry.isFirst && o < last && !hinders,
        asGood: entry.asGood * ((alike[o] as number) + 1),
      };
      if (order.isSure || isNewWay(next, joined * link, then)) {
        const after = rooms[at + 1] as Room;
        after.before.set(room.before);
        multiplyInto(after.before, weight);
        bar(after.barred, room.barred, relation, o * options.length);
        assigned[place] = holder;
        isLeft[mark] = 0;
        const rest = left.filter((other) => other !== mark);
        visit(at + 1, { set: set + 2 ** mark, left: rest, last: next, joined: joined * link }, then, threshold);
        isLeft[mark] = 1;
      }
      taken.pop();
    }
  };
  /** Whether the holders taken have not been come to with the same of them last, joined as nearly. */
  const isNewWay = (last: number, joined: number, { isSwapped }: Entry): boolean => {
    const key = String.fromCharCode(last + 1, ...Uint16Array.from(taken).sort());
    if ((reached.get(key) ?? 0) >= joined) return false;
    if (!isSwapped) reached.set(key, joined);
    return true;
  };
  const start = rooms[0] as Room;
  start.before.set(free);
  const left = Array.from({ length: order.marks }, (_, mark) => mark);
  const nobody: Begun = { set: 0, left, last: -1, joined: 1 };
  const leastOfBest = (): number => (best.length < wanted ? 0 : (best[wanted - 1] as number));
  addGroups(start.reach, free, heaviestIn(0, left), groupOf);
  // Chains that come to much are looked for first, then those that come to less: until some are known, nothing can be given up.
  let asked = completions.atMost(0, left, -1, start.reach);
  do {
    asked = asked < everything * NEXT_TO_NOTHING ? 0 : asked / LESS;
    reached = new Map();
    visit(0, nobody, START, () => Math.max(asked, leastOfBest()));
  } while (asked > leastOfBest() && !exhausted);
  const proved = !exhausted;
  mostSteps = steps + scorer.steps() + MOST_STEPS_FOR_MORE;
  if (proved && !sumsAreExact(table, order)) {
    fewest = FIRST_CHAINS;
    reached = new Map();
    mostAsGood = Number.POSITIVE_INFINITY;
    visit(0, nobody, START, () => (best[0] ?? 0) * LIGHT);
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
type Room = {
  readonly before: Float64Array;
  readonly reach: Float64Array;
  readonly rough: Float64Array;
  readonly barred: Uint8Array;
};

/**
 * A beginning: the marks that have a holder, each as one bit, those that are left, the option assigned last (−1: none), and
 * the factors of its links.
 */
type Begun = {
  readonly set: number;
  readonly left: readonly number[];
  readonly last: number;
  readonly joined: number;
};

/** A holder for one more mark: `next` is the option assigned last then. */
type Branch = { readonly o: number; readonly next: number; readonly link: number; readonly bound: number };

const byBound = (a: Branch, b: Branch): number => b.bound - a.bound || a.o - b.o;

/** What may be as heavy as that by rounding alone is not heavier. */
const raised = (threshold: number): number => threshold + threshold * ROUNDING;

/** Writes what is reached in each group if every mark left has its heaviest holder. */
function addGroups(out: Float64Array, before: Float64Array, most: Float64Array, groupOf: Int32Array): void {
  out.fill(0);
  for (let k = 0; k < before.length; k += 1) {
    const g = groupOf[k] as number;
    out[g] = (out[g] as number) + (before[k] as number) * (most[k] as number);
  }
}

/** Who cannot come after: whoever could not before, and all that stand before the one at `from`, or never beside them. */
function bar(out: Uint8Array, before: Uint8Array, relation: Uint8Array, from: number): void {
  for (let b = 0; b < before.length; b += 1) {
    const found = relation[from + b];
    out[b] = before[b] === 1 || found === AFTER || found === NEVER ? 1 : 0;
  }
}

/** What overlies what bears on no weight, and the order of marks is known beforehand: then all chains are summed at once. */
export const sumsAreExact = ({ trees, single }: ChainTable, { isSure }: ChainOrder): boolean =>
  trees.length === single.length && isSure;

const compareAssigned = (a: readonly number[], b: readonly number[]): number => {
  const at = a.findIndex((value, i) => value !== b[i]);
  return at < 0 ? 0 : (a[at] as number) - (b[at] as number);
};
