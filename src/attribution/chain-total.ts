import type { PreparedMark } from './chain-marks.ts';
import type { Relations } from './chain-relations.ts';
import { type Chain, linksOf, sumsAreExact } from './chain-search.ts';
import type { ChainTable, Part } from './chain-table.ts';

export type Totals = {
  /** The weight of all chains together. */
  readonly total: number;
  /** By number of holder: the weight of the chains in which the holder put on at least one mark. */
  readonly withHolder: Float64Array;
  /** The same for somebody unrecorded, whichever mark is theirs. */
  readonly withUnrecorded: number;
  /**
   * Share of the total in chains that were summed with their marks in one order, which may not be theirs; 0 where the
   * order bears on nothing.
   */
  readonly notLookedAt: number;
};

/** A rest smaller than this part of the whole comes from rounding. */
const ROUNDING = 1e-9;

/**
 * The weight of all chains. Those found are added up one by one. Of the others, the sum comes from one pass over the
 * marks in the order of the heaviest chain (transfer matrices: the sum over all holders of all marks is carried from
 * mark to mark), less what that pass gives for the chains found, and scaled as those are to theirs: their order, and
 * what overlies what, is then taken to matter for them as it does for the chains found.
 * @see Rabiner, L. R., A tutorial on hidden Markov models, Proceedings of the IEEE 77 (1989) 257–286: the forward pass.
 */
export function totalsOf(
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  chains: readonly Chain[],
): Totals {
  const { count, numberOf } = relations;
  const numbersIn = ({ assigned }: Chain): Set<number> =>
    new Set(assigned.flatMap((holder, place) => numberOf[place]?.[holder] ?? -1).filter((number) => number >= 0));
  const unrecorded = new Set(
    marks.flatMap(({ holders, place, namesHolder }) =>
      namesHolder ? holders.flatMap(({ person }, c) => (person === undefined ? [numberOf[place]?.[c] ?? -1] : [])) : [],
    ),
  );
  const order = chains[0]?.order ?? [];
  const inPass = chains.map(
    (chain) => passWeight(table, marks, chain.assigned) * linksOf(chain.assigned, order, relations),
  );

  const withHolder = new Float64Array(count);
  const passWithHolder = new Float64Array(count);
  let [found, passFound, withUnrecorded, passWithUnrecorded] = [0, 0, 0, 0];
  for (const [i, chain] of chains.entries()) {
    const pass = inPass[i] ?? 0;
    found += chain.score;
    passFound += pass;
    const numbers = numbersIn(chain);
    for (const number of numbers) {
      withHolder[number] = (withHolder[number] as number) + chain.score;
      passWithHolder[number] = (passWithHolder[number] as number) + pass;
    }
    if ([...numbers].some((number) => unrecorded.has(number))) {
      withUnrecorded += chain.score;
      passWithUnrecorded += pass;
    }
  }
  const everything = passTotal(table, marks, relations, order, () => false);
  const rest = everything - passFound;
  if (!(rest > ROUNDING * everything) || passFound === 0)
    return { total: found, withHolder, withUnrecorded, notLookedAt: 0 };
  const scale = found / passFound;
  for (let number = 0; number < count; number += 1) {
    const without = passTotal(table, marks, relations, order, (other) => other === number);
    const more = everything - without - (passWithHolder[number] as number);
    withHolder[number] = (withHolder[number] as number) + Math.max(0, more) * scale;
  }
  const named = passTotal(table, marks, relations, order, (number) => unrecorded.has(number));
  const total = found + rest * scale;
  return {
    total,
    withHolder,
    withUnrecorded: withUnrecorded + Math.max(0, everything - named - passWithUnrecorded) * scale,
    notLookedAt: sumsAreExact(table, relations) ? 0 : (rest * scale) / total,
  };
}

/** The weight of one chain without links, and with every mark on its own whatever it overlies. */
function passWeight(
  { nodes, single }: ChainTable,
  marks: readonly PreparedMark[],
  assigned: readonly number[],
): number {
  const parts = marks.flatMap(({ place }) => single[place]?.[assigned[place] as number] ?? []);
  let sum = 0;
  for (let k = 0; k < nodes.weight.length; k += 1) {
    let product = nodes.weight[k] as number;
    for (const { weight } of parts) product *= weight[k] as number;
    sum += product;
  }
  return sum;
}

/** The same for all chains together, links between successive marks of `order` counted, without some holders. */
function passTotal(
  { nodes, single }: ChainTable,
  marks: readonly PreparedMark[],
  { numberOf, factor, count, strangers }: Relations,
  order: readonly number[],
  leftOut: (number: number) => boolean,
): number {
  const size = nodes.weight.length;
  const free = nodes.weight.slice();
  for (const { place, namesHolder } of marks) {
    if (namesHolder) continue;
    const weight = single[place]?.[0]?.weight;
    if (weight !== undefined) for (let k = 0; k < size; k += 1) free[k] = (free[k] as number) * (weight[k] as number);
  }
  let before: { number: number; sums: Float64Array }[] = [];
  let all = free;
  for (const place of order) {
    const now: typeof before = [];
    const sum = new Float64Array(size);
    for (const [holder, { weight }] of ((single[place] ?? []) as readonly Part[]).entries()) {
      const number = numberOf[place]?.[holder] ?? -1;
      if (leftOut(number)) continue;
      const sums = all.slice();
      for (const earlier of strangers ? [] : before) {
        const more = (factor[earlier.number * count + number] as number) - 1;
        if (more === 0) continue;
        for (let k = 0; k < size; k += 1) sums[k] = (sums[k] as number) + more * (earlier.sums[k] as number);
      }
      for (let k = 0; k < size; k += 1) {
        const value = (sums[k] as number) * (weight[k] as number);
        sums[k] = value;
        sum[k] = (sum[k] as number) + value;
      }
      now.push({ number, sums });
    }
    before = now;
    all = sum;
  }
  let total = 0;
  for (let k = 0; k < size; k += 1) total += all[k] as number;
  return total;
}
