import type { PreparedMark } from './chain-marks.ts';
import type { Relations } from './chain-relations.ts';
import { assignedSums, type ChainTable, NO_DAYS, type Part, treePart } from './chain-table.ts';

/** One holder for each mark: `assigned[place]` is the holder's place among the mark's holders. */
export type Chain = {
  readonly assigned: readonly number[];
  /** Its weight, with the factors of its links. Comparable between the chains of one object only. */
  readonly score: number;
};

export type Search = {
  /** Every chain found, the heaviest first. */
  readonly chains: readonly Chain[];
  /** The first `wanted` are the heaviest of all chains, as far as sums over nodes of makings tell. */
  readonly proved: boolean;
  /** The marks that name a holder in a chain, in the order of the days on which it lets them be expected. */
  orderOf(chain: Chain): readonly number[];
};

/** Multiplications that the search for the best may take, and the search for more after it: well under a second. */
const MOST_STEPS_FOR_BEST = 1.5e8;
const MOST_STEPS_FOR_MORE = 6e7;
/** What a day of overlying marks costs, for each of the rates that their delays have together. */
const STEPS_A_DAY = 10;
/** So many chains are kept; what the others weigh together is summed in another way. */
const MOST_CHAINS = 20_000;
/** Chains lighter than this part of the heaviest are not looked for once the best are proved. */
const LIGHT = 1e-6;

/**
 * The heaviest chains, by branch and bound: marks are assigned one after another, likelier holders first, and a
 * beginning is given up when even the best holder for each mark left, each joined as well as anybody can be, would not
 * bring it up to what is asked for. An overlying mark is taken as free in the bound, which can only raise it.
 * First until the best `wanted` are proved, then on as far as room allows, for the sum over all chains.
 * @see Land, A. H. and Doig, A. G., An automatic method of solving discrete programming problems, Econometrica 28
 *   (1960) 497–520.
 */
export function searchChains(
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  wanted: number,
): Search {
  const { single, nodes } = table;
  const size = nodes.weight.length;
  const sequence = marks
    .map(({ place }) => place)
    .sort((a, b) => (single[a]?.length ?? 0) - (single[b]?.length ?? 0) || a - b);
  const joinedBest = bestJoins(marks, relations);
  const rest = restBounds(table, sequence, joinedBest);
  const partial = sequence.map(() => new Float64Array(size));
  const scorer = scorerOf(table, marks, relations);

  const found = new Map<string, Chain>();
  let best: number[] = [];
  let steps = 0;
  let mostSteps = MOST_STEPS_FOR_BEST;
  let exhausted = false;
  const assigned: number[] = marks.map(() => -1);

  const visit = (depth: number, before: Float64Array, joined: number, threshold: () => number): void => {
    const place = sequence[depth];
    if (place === undefined) {
      const key = assigned.join();
      if (found.has(key)) return;
      const chain = { assigned: [...assigned], score: scorer.scoreOf(assigned) };
      steps += size * marks.length;
      found.set(key, chain);
      best = [...best, chain.score].sort((a, b) => b - a).slice(0, wanted);
      return;
    }
    const after = rest[depth + 1] as Float64Array;
    const options = (single[place] as readonly Part[]).map(({ weight }, holder) => {
      let sum = 0;
      for (let k = 0; k < size; k += 1) sum += (before[k] as number) * (weight[k] as number) * (after[k] as number);
      const join = joinTo(place, holder, sequence, depth, assigned, relations);
      return { holder, join, bound: sum * joined * join };
    });
    steps += options.length * size;
    options.sort((a, b) => b.bound - a.bound || a.holder - b.holder);
    for (const { holder, join, bound } of options) {
      if (bound <= threshold() || bound === 0) return;
      if (steps + scorer.steps() > mostSteps || found.size >= MOST_CHAINS) {
        exhausted = true;
        return;
      }
      const product = partial[depth] as Float64Array;
      const { weight } = (single[place] as readonly Part[])[holder] as Part;
      for (let k = 0; k < size; k += 1) product[k] = (before[k] as number) * (weight[k] as number);
      assigned[place] = holder;
      visit(depth + 1, product, joined * join, threshold);
    }
  };
  // A chain as heavy as the last of the best by rounding alone must not hide one of them.
  visit(0, nodes.weight, 1, () => (best.length < wanted ? 0 : (best[wanted - 1] as number) * (1 - 1e-9)));
  const proved = !exhausted;
  mostSteps = Math.min(mostSteps, steps + scorer.steps() + MOST_STEPS_FOR_MORE);
  if (proved && !sumsAreExact(table, relations)) visit(0, nodes.weight, 1, () => (best[0] ?? 0) * LIGHT);

  const chains = [...found.values()].sort((a, b) => b.score - a.score || compareAssigned(a.assigned, b.assigned));
  return { chains, proved, orderOf: ({ assigned: holders }) => scorer.orderOf(holders) };
}

/** Neither the order of marks nor what overlies what bears on any weight: then all chains can be summed at once. */
export const sumsAreExact = ({ trees, single }: ChainTable, { strangers }: Relations): boolean =>
  strangers && trees.length === single.length;

const compareAssigned = (a: readonly number[], b: readonly number[]): number => {
  const at = a.findIndex((value, i) => value !== b[i]);
  return at < 0 ? 0 : (a[at] as number) - (b[at] as number);
};

/** The best factor by which a holder can be joined to any holder assigned so far; 1 for the first that names one. */
function joinTo(
  place: number,
  holder: number,
  sequence: readonly number[],
  depth: number,
  assigned: readonly number[],
  { numberOf, bound, count }: Relations,
): number {
  const own = numberOf[place]?.[holder] ?? -1;
  if (own < 0) return 1;
  let best = 0;
  for (let d = 0; d < depth; d += 1) {
    const other = numberOf[sequence[d] as number]?.[assigned[sequence[d] as number] as number] ?? -1;
    if (other >= 0) best = Math.max(best, bound[own * count + other] as number);
  }
  return best || 1;
}

/** The best factor by which each holder can be joined to any possible holder of another mark. */
const bestJoins = (marks: readonly PreparedMark[], { numberOf, bound, count }: Relations): number[][] =>
  marks.map((_, place) =>
    (numberOf[place] ?? []).map((own) => {
      let best = 1;
      if (own < 0) return best;
      for (const [other, numbers] of numberOf.entries()) {
        if (other === place) continue;
        for (const number of numbers) if (number >= 0) best = Math.max(best, bound[own * count + number] as number);
      }
      return best;
    }),
  );

/** For each depth of the search: the most that the marks still to be assigned can weigh, node by node. */
function restBounds(
  { single, nodes }: ChainTable,
  sequence: readonly number[],
  joins: readonly (readonly number[])[],
): Float64Array[] {
  const size = nodes.weight.length;
  const rest = sequence.map(() => new Float64Array(size));
  rest.push(new Float64Array(size).fill(1));
  for (let depth = sequence.length - 1; depth >= 0; depth -= 1) {
    const place = sequence[depth] as number;
    const out = rest[depth] as Float64Array;
    for (const [holder, { weight }] of (single[place] ?? []).entries()) {
      const join = joins[place]?.[holder] ?? 1;
      for (let k = 0; k < size; k += 1) out[k] = Math.max(out[k] as number, (weight[k] as number) * join);
    }
    const after = rest[depth + 1] as Float64Array;
    for (let k = 0; k < size; k += 1) out[k] = (out[k] as number) * (after[k] as number);
  }
  return rest;
}

type Scorer = {
  scoreOf(assigned: readonly number[]): number;
  orderOf(assigned: readonly number[]): number[];
  /** Multiplications taken so far by marks that lie over each other. */
  steps(): number;
};

/** The exact weight of a whole chain: overlying marks in their order, and the factors of its links. */
function scorerOf(table: ChainTable, marks: readonly PreparedMark[], relations: Relations): Scorer {
  const { nodes, single, trees, placesOf } = table;
  const size = nodes.weight.length;
  const naming = marks.filter(({ namesHolder }) => namesHolder).map(({ place }) => place);
  const remembered = new Map<string, Part>();
  const sums = assignedSums((place, holder) => marks[place]?.holders[holder]?.held ?? NO_DAYS);
  const partFor = (t: number, assigned: readonly number[], withDays: boolean): Part | undefined => {
    const tree = trees[t];
    const places = placesOf[t] ?? [];
    if (tree === undefined) return undefined;
    if (places.length === 1) return single[tree.place]?.[assigned[tree.place] as number];
    const key = `${t}:${withDays}:${places.map((place) => assigned[place]).join()}`;
    const known = remembered.get(key);
    if (known !== undefined) return known;
    const holderOf = (place: number): number => assigned[place] as number;
    const part = treePart(tree, withDays ? places : [], (timed) => sums.sumsOf(tree, holderOf, timed), table);
    remembered.set(key, part);
    return part;
  };
  const product = new Float64Array(size);
  const weigh = (parts: readonly (Part | undefined)[]): number => {
    product.set(nodes.weight);
    for (const part of parts) {
      if (part === undefined) continue;
      const { weight } = part;
      for (let k = 0; k < size; k += 1) product[k] = (product[k] as number) * (weight[k] as number);
    }
    let sum = 0;
    for (let k = 0; k < size; k += 1) sum += product[k] as number;
    return sum;
  };
  const orderOf = (assigned: readonly number[]): number[] => {
    const parts = trees.map((_, t) => partFor(t, assigned, true));
    const sum = weigh(parts);
    const day = new Float64Array(marks.length);
    const named = naming.filter((place) => marks[place]?.holders[assigned[place] as number]?.isNobody === false);
    for (const [t, part] of parts.entries()) {
      for (const [i, place] of (placesOf[t] ?? []).entries()) {
        const days = part?.expected[i];
        if (days === undefined || !marks[place]?.namesHolder) continue;
        let mean = 0;
        for (let k = 0; k < size; k += 1) mean += (product[k] as number) * (days[k] as number);
        day[place] = sum === 0 ? 0 : mean / sum;
      }
    }
    return named.sort((a, b) => (day[a] as number) - (day[b] as number) || a - b);
  };
  return {
    orderOf,
    steps: () => sums.days() * STEPS_A_DAY,
    scoreOf: (assigned) => {
      if (!anyLinked(assigned, naming, relations)) return weigh(trees.map((_, t) => partFor(t, assigned, false)));
      const order = orderOf(assigned);
      let sum = 0;
      for (let k = 0; k < size; k += 1) sum += product[k] as number;
      return sum * linksOf(assigned, order, relations);
    },
  };
}

/** Whether any two of the holders are joined: if none are, their order does not matter. */
function anyLinked(assigned: readonly number[], naming: readonly number[], relations: Relations): boolean {
  if (relations.strangers) return false;
  const { numberOf, factor, count } = relations;
  for (let i = 1; i < naming.length; i += 1) {
    const own = numberOf[naming[i] as number]?.[assigned[naming[i] as number] as number] ?? 0;
    for (let j = 0; j < i; j += 1) {
      const other = numberOf[naming[j] as number]?.[assigned[naming[j] as number] as number] ?? 0;
      if (factor[own * count + other] !== 1) return true;
    }
  }
  return false;
}

/** The product of the factors between successive holders; a mark that names none stands between nobody. */
export function linksOf(
  assigned: readonly number[],
  order: readonly number[],
  { numberOf, isNobody, factor, count, strangers }: Relations,
): number {
  if (strangers) return 1;
  let product = 1;
  let before = -1;
  for (const place of order) {
    const holder = numberOf[place]?.[assigned[place] as number] ?? 0;
    if (isNobody[holder] === 1) continue;
    if (before >= 0) product *= factor[before * count + holder] as number;
    before = holder;
  }
  return product;
}
