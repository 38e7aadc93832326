import type { PreparedMark } from './chain-marks.ts';
import type { ChainOrder } from './chain-order.ts';
import type { Relations } from './chain-relations.ts';
import { type Chain, sumsAreExact } from './chain-search.ts';
import type { ChainTable } from './chain-table.ts';
import { type OrderedTotals, orderedTotals } from './ordered-total.ts';

export type Totals = {
  /** The weight of all chains together. */
  readonly total: number;
  /** By number of holder: the weight of the chains in which the holder put on at least one mark. */
  readonly withHolder: Float64Array;
  /** The same for somebody unrecorded, whichever mark is theirs. */
  readonly withUnrecorded: number;
  /**
   * Share of the total in chains that were not looked at one by one, and whose sum is near but not exact; 0 where the
   * order of the marks bears on nothing, because then it is.
   */
  readonly notLookedAt: number;
};

/** A rest smaller than this part of the whole comes from rounding. */
const ROUNDING = 1e-9;
/** Of somebody who holds less than this share, counted once for each mark, what falls on any one of the marks is told: a mean. */
const LITTLE = 0.001;

/**
 * The weight of all chains. Those found are added up one by one. The others together are what all chains weigh in a
 * known order of their marks, less what those found weigh in it; where marks lie over each other, that is scaled as the
 * chains found are to theirs, so that what overlies what is taken to matter for the others as it does for them.
 */
export function totalsOf(
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  order: ChainOrder,
  chains: readonly Chain[],
  ordered: OrderedTotals = orderedTotals(table, marks, relations, order),
): Totals {
  const isUnrecorded = unrecordedNumbers(marks, relations);
  const found = addUp(chains, relations, isUnrecorded, ({ score }) => score);
  const inOrder = addUp(chains, relations, isUnrecorded, ({ assigned }) => ordered.weightOf(assigned));

  const rest = ordered.everything - inOrder.total;
  if (!(rest > ROUNDING * ordered.everything) || inOrder.total === 0) {
    return { ...found, notLookedAt: 0 };
  }
  const overlying = table.trees.length < marks.length;
  const scale = overlying ? found.total / inOrder.total : 1;
  const total = found.total + rest * scale;
  const add = (weight: number, inOrderWeight: number, share: number): number =>
    weight + Math.min(rest, Math.max(0, ordered.everything * share - inOrderWeight)) * scale;
  const shares = sharesInOrder(order, ordered, isUnrecorded);
  return {
    total,
    withHolder: found.withHolder.map((weight, number) =>
      add(weight, inOrder.withHolder[number] as number, shares.ofHolder[number] as number),
    ),
    withUnrecorded: add(found.withUnrecorded, inOrder.withUnrecorded, shares.ofUnrecorded),
    notLookedAt: sumsAreExact(table, order) ? 0 : (rest * scale) / total,
  };
}

/** The shares of chains with each holder. Who can have put on several marks is counted once, by what is left without them. */
function sharesInOrder(
  { options }: ChainOrder,
  { marked, sharesWithout, everything }: OrderedTotals,
  isUnrecorded: Uint8Array,
): { ofHolder: Float64Array; ofUnrecorded: number } {
  const marksWith = new Int32Array(marked.length);
  for (const { number } of options) marksWith[number] = (marksWith[number] as number) + 1;
  const several = [...marked.keys()].filter((number) => (marksWith[number] as number) > 1);
  const much = several.filter((number) => (marked[number] as number) > LITTLE);
  const [unrecorded = 0, ...without] =
    everything === 0
      ? []
      : sharesWithout([
          (number) => isUnrecorded[number] === 1,
          ...much.map((one) => (number: number) => number === one),
        ]);
  const ofHolder = marked.map((share, number) =>
    (marksWith[number] as number) > 1 ? share / (marksWith[number] as number) : share,
  );
  for (const [i, number] of much.entries()) ofHolder[number] = 1 - (without[i] as number);
  return { ofHolder, ofUnrecorded: 1 - unrecorded };
}

function unrecordedNumbers(marks: readonly PreparedMark[], { numberOf, count }: Relations): Uint8Array {
  const out = new Uint8Array(count);
  for (const { place, holders } of marks) {
    for (const [c, { person, isNobody }] of holders.entries()) {
      const number = numberOf[place]?.[c] ?? -1;
      if (person === undefined && !isNobody && number >= 0) out[number] = 1;
    }
  }
  return out;
}

/** A weight of every chain, summed over all, and over those in which each holder put on at least one mark. */
function addUp(
  chains: readonly Chain[],
  { count, numberOf }: Relations,
  isUnrecorded: Uint8Array,
  weightOf: (chain: Chain) => number,
): { total: number; withHolder: Float64Array; withUnrecorded: number } {
  const withHolder = new Float64Array(count);
  const countedIn = new Int32Array(count).fill(-1);
  let [total, withUnrecorded] = [0, 0];
  for (const [i, chain] of chains.entries()) {
    const weight = weightOf(chain);
    total += weight;
    let unrecorded = false;
    for (let place = 0; place < chain.assigned.length; place += 1) {
      const number = numberOf[place]?.[chain.assigned[place] as number] ?? -1;
      if (number < 0 || countedIn[number] === i) continue;
      countedIn[number] = i;
      withHolder[number] = (withHolder[number] as number) + weight;
      if (isUnrecorded[number] === 1) unrecorded = true;
    }
    if (unrecorded) withUnrecorded += weight;
  }
  return { total, withHolder, withUnrecorded };
}
