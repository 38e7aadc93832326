import { multiplyInto, sumOfProducts, totalOf } from '../dating/density.ts';
import type { PreparedMark } from './chain-marks.ts';
import type { Relations } from './chain-relations.ts';
import { assignedSums, type ChainTable, NO_DAYS, type Part, treePart } from './chain-table.ts';

/** What a day of overlying marks costs, for each of the rates that their delays have together. */
const STEPS_A_DAY = 10;

type Scorer = {
  scoreOf(assigned: readonly number[]): number;
  orderOf(assigned: readonly number[]): number[];
  /** Multiplications taken so far by marks that lie over each other. */
  steps(): number;
};

/** The exact weight of a whole chain: overlying marks in their order, and the factors of its links. */
export function scorerOf(table: ChainTable, marks: readonly PreparedMark[], relations: Relations): Scorer {
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
  const partsOf = (assigned: readonly number[], withDays: boolean): (Part | undefined)[] =>
    trees.map((_, t) => partFor(t, assigned, withDays));
  const weigh = (parts: readonly (Part | undefined)[]): number => {
    product.set(nodes.weight);
    for (const part of parts) if (part !== undefined) multiplyInto(product, part.weight);
    return totalOf(product);
  };
  const days = new Float64Array(marks.length);
  /** The order of the marks of a chain that weighs so much, as `product` has it. */
  const inOrder = (assigned: readonly number[], parts: readonly (Part | undefined)[], sum: number): number[] => {
    for (const [t, part] of parts.entries()) {
      for (const [i, place] of (placesOf[t] ?? []).entries()) {
        const expected = part?.expected[i];
        if (expected !== undefined && marks[place]?.namesHolder)
          days[place] = sum === 0 ? 0 : sumOfProducts(product, expected, 0) / sum;
      }
    }
    return naming
      .filter((place) => marks[place]?.holders[assigned[place] as number]?.isNobody === false)
      .sort((a, b) => (days[a] as number) - (days[b] as number) || a - b);
  };
  const orderOf = (assigned: readonly number[]): number[] => {
    const parts = partsOf(assigned, true);
    return inOrder(assigned, parts, weigh(parts));
  };
  return {
    orderOf,
    steps: () => sums.days() * STEPS_A_DAY,
    scoreOf: (assigned) => {
      if (!anyLinked(assigned, naming, relations)) return weigh(partsOf(assigned, false));
      const parts = partsOf(assigned, true);
      const sum = weigh(parts);
      return sum * linksOf(assigned, inOrder(assigned, parts, sum), relations);
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
