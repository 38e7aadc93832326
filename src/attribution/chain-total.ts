import type { PreparedMark } from './chain-marks.ts';
import type { Relations } from './chain-relations.ts';
import { type Chain, sumsAreExact } from './chain-search.ts';
import type { ChainTable } from './chain-table.ts';
import { orderedTotals } from './ordered-total.ts';

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
/** Of so many holders, those with most in the chains found, the part in the others is summed for each alone. */
const MOST_HOLDERS = 24;

/**
 * The weight of all chains. Those found are added up one by one. The others together are what all chains weigh in a
 * known order of their marks, less what those found weigh in it; where marks lie over each other, that is scaled as the
 * chains found are to theirs, so that what overlies what is taken to matter for the others as it does for them.
 */
export function totalsOf(
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  chains: readonly Chain[],
): Totals {
  const { count } = relations;
  const isUnrecorded = unrecordedNumbers(marks, relations);
  const ordered = orderedTotals(table, marks, relations, Math.min(count, MOST_HOLDERS) + 2);
  const found = addUp(chains, relations, isUnrecorded, ({ score }) => score);
  const inOrder = addUp(chains, relations, isUnrecorded, ({ assigned }) => ordered.weightOf(assigned));

  const rest = ordered.everything - inOrder.total;
  if (!(rest > ROUNDING * ordered.everything) || inOrder.total === 0) {
    return { ...found, notLookedAt: 0 };
  }
  const overlying = table.trees.length < marks.length;
  const scale = overlying ? found.total / inOrder.total : 1;
  const total = found.total + rest * scale;
  const add = (weight: number, inOrderWeight: number, leftOut: (number: number) => boolean): number => {
    const all = ordered.everything * (1 - ordered.shareWithout(leftOut));
    return weight + Math.min(rest, Math.max(0, all - inOrderWeight)) * scale;
  };
  const byWeight = Array.from({ length: count }, (_, number) => number)
    .filter((number) => isUnrecorded[number] === 0)
    .sort((a, b) => (found.withHolder[b] as number) - (found.withHolder[a] as number));
  const exact = sumsAreExact(table, relations);
  const withHolder = found.withHolder.map((weight) => (weight / found.total) * total);
  for (const number of exact ? byWeight : byWeight.slice(0, MOST_HOLDERS)) {
    const [weight, inOrderWeight] = [found.withHolder[number] as number, inOrder.withHolder[number] as number];
    withHolder[number] = add(weight, inOrderWeight, (other) => other === number);
  }
  return {
    total,
    withHolder,
    withUnrecorded: add(found.withUnrecorded, inOrder.withUnrecorded, (number) => isUnrecorded[number] === 1),
    notLookedAt: exact ? 0 : (rest * scale) / total,
  };
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
