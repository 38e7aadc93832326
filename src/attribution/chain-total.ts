import type { PreparedMark } from './chain-marks.ts';
import type { ChainOrder } from './chain-order.ts';
import type { Relations } from './chain-relations.ts';
import { type Sample, sampleOf } from './chain-sample.ts';
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
  /**
   * No share of a holder or of a chain is out by more than this, as far as a sample of those others tells, each of which
   * was weighed by itself; 0 where all is exact.
   */
  readonly within: number;
};

/** A rest smaller than this part of the whole comes from rounding. */
const ROUNDING = 1e-9;
/** Of somebody who holds less than this share, counted once for each mark, what falls on any one of the marks is told: a mean. */
const LITTLE = 0.001;

/** A normal variable lies within so many standard deviations of its mean 999 times of 1,000; from memory. */
const DEVIATIONS = 3.29;
/** A sample smaller than this tells nothing. */
const FEWEST = 30;

/**
 * The weight of all chains. Those found are added up one by one. The others together are what all chains weigh in a
 * known order of their marks, less what those found weigh in it. Some of these others are drawn and weighed by themselves:
 * that tells how far the sum is out, and mends it where it is out by more than the sample may be.
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
    return { ...found, notLookedAt: 0, within: 0 };
  }
  const shares = sharesInOrder(order, ordered, isUnrecorded);
  const left = (share: number, weight: number): number =>
    Math.min(rest, Math.max(0, ordered.everything * share - weight));
  const others: Weights = {
    total: rest,
    withHolder: inOrder.withHolder.map((weight, number) => left(shares.ofHolder[number] as number, weight)),
    withUnrecorded: left(shares.ofUnrecorded, inOrder.withUnrecorded),
  };
  if (sumsAreExact(table, order)) return { ...together(found, others, 1), notLookedAt: 0, within: 0 };
  const keys = new Set(chains.map(({ assigned }) => assigned.join()));
  const sample = sampleOf(table, marks, relations, ordered, (assigned) => keys.has(assigned.join()));
  return inSample(found, others, sample, chains[0]?.score ?? 0, columnsIn(relations, isUnrecorded));
}

/** What chains weigh: all of them, by number of holder those with the holder, those with somebody unrecorded. */
type Weights = Pick<Totals, 'total' | 'withHolder' | 'withUnrecorded'>;

const together = (a: Weights, b: Weights, times: number): Weights => ({
  total: a.total + times * b.total,
  withHolder: a.withHolder.map((weight, number) => weight + times * (b.withHolder[number] as number)),
  withUnrecorded: a.withUnrecorded + times * b.withUnrecorded,
});
const columnsOf = ({ withHolder, withUnrecorded }: Weights): number[] => [...withHolder, withUnrecorded];

/**
 * The chains found and the others, which are known in an order of their own, with a sample of these. If each of those
 * drawn weighs r times what it does in that order, the others weigh mean(r) times as much; those with a holder besides by
 * how much r is above its mean where the holder is in (a control variate, for what they weigh in the order is known).
 * @see Cochran, W. G., Sampling Techniques (3rd edition, New York, 1977) chapters 6 and 7: ratio and regression estimates
 *   with their variances.
 */
function inSample(
  found: Weights,
  others: Weights,
  { chains, ratios }: Sample,
  best: number,
  columnsWith: (assigned: readonly number[]) => readonly number[],
): Totals {
  const size = ratios.length;
  if (size < FEWEST) {
    const all = together(found, others, 1);
    return { ...all, notLookedAt: others.total / all.total, within: others.total / all.total };
  }
  const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / size;
  const plain = together(found, others, mean);
  const shares = columnsOf(plain).map((weight) => weight / plain.total);
  const part = others.total / plain.total;
  // Of the chains drawn with each holder, the sums of what they are above the mean and of its squares.
  const [above, squares] = [new Float64Array(shares.length), new Float64Array(shares.length)];
  let allSquares = 0;
  for (const [i, ratio] of ratios.entries()) {
    const [more, square] = [ratio - mean, (ratio - mean) ** 2];
    allSquares += square;
    for (const column of columnsWith(chains[i] as readonly number[])) {
      above[column] = (above[column] as number) + more;
      squares[column] = (squares[column] as number) + square;
    }
  }
  // One more chain than were drawn, which weighs nothing or twice as much: what is rare need not have been drawn.
  const spreadOf = (sum: number): number => Math.sqrt(sum + mean ** 2) / size;
  const off = shares.map((share, column) => {
    const own = squares[column] as number;
    const error = part * spreadOf(own * (1 - share) ** 2 + (allSquares - own) * share ** 2);
    return { more: (above[column] as number) / size, error: DEVIATIONS * error };
  });
  const ofChains = (DEVIATIONS * part * spreadOf(allSquares) * best) / plain.total;
  const isOut = off.some(({ more, error }) => part * Math.abs(more) > error);
  const all: Weights = isOut
    ? {
        total: plain.total,
        withHolder: plain.withHolder.map((weight, number) =>
          Math.max(0, weight + others.total * (off[number] as (typeof off)[number]).more),
        ),
        withUnrecorded: Math.max(0, plain.withUnrecorded + others.total * (off.at(-1) as (typeof off)[number]).more),
      }
    : plain;
  const left = off.map(({ more, error }) => error + (isOut ? 0 : part * Math.abs(more)));
  return {
    ...all,
    notLookedAt: (others.total * mean) / plain.total,
    within: Math.min(1, Math.max(ofChains, ...left)),
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

/** The columns of a chain: the numbers of its holders, each once, and the last of all where somebody unrecorded is one. */
function columnsIn({ count, numberOf }: Relations, isUnrecorded: Uint8Array) {
  return (assigned: readonly number[]): number[] => {
    const columns: number[] = [];
    for (let place = 0; place < assigned.length; place += 1) {
      const number = numberOf[place]?.[assigned[place] as number] ?? -1;
      if (number >= 0 && !columns.includes(number)) columns.push(number);
    }
    return columns.some((number) => isUnrecorded[number] === 1) ? [...columns, count] : columns;
  };
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
