import type { Coded } from './coded.ts';
import { type Comparer, newComparison } from './comparison.ts';
import { FIELD_COUNT } from './fields.ts';
import type { NearSurnames } from './near-surnames.ts';
import type { Profiles } from './profile.ts';
import { fieldBits, type Weights } from './weights.ts';

/** Pairs of lines, the earlier one first, with what their comparison said; FIELD_COUNT values for each. */
export type Pairs = {
  readonly count: number;
  readonly tail: Int32Array;
  readonly head: Int32Array;
  readonly levels: Int8Array;
  readonly log2Chance: Float64Array;
};

/** Enough for shares of a thousandth; more would only take time. */
const STRANGERS = 20_000;
const MOST_PAIRS = 150_000;

/** Editions beyond a line in which the same man is looked for, to learn how his lines agree. */
const STEPS_ON = 2;

/**
 * Pairs of any two lines of editions near each other with different surnames: nearly all are two men.
 * @param isWanted whether a line may be the later of the two.
 */
export function strangers(
  coded: Coded,
  singles: Profiles,
  compare: Comparer,
  isWanted: (at: number) => boolean = () => true,
): Pairs {
  const starts = stepStarts(coded);
  const pick = seeded(20_011);
  const tail: number[] = [];
  const head: number[] = [];
  for (let tries = 0; tail.length < STRANGERS && tries < STRANGERS * 4 && coded.count > 0; tries++) {
    const one = pick(coded.count);
    const step = (coded.step[one] as number) + 1 + pick(STEPS_ON);
    const [from, until] = [starts[step], starts[step + 1]];
    if (from === undefined || until === undefined || from >= until) continue;
    const other = from + pick(until - from);
    if (coded.surname[one] === coded.surname[other] || !isWanted(other)) continue;
    tail.push(one);
    head.push(other);
  }
  return compared(tail, head, singles, compare);
}

/** The same numbers below `size` each time (Lehmer's generator, with the multiplier of Park and Miller, 1993). */
function seeded(seed: number): (size: number) => number {
  let state = seed;
  return (size) => {
    state = (state * 48_271) % 2_147_483_647;
    return Math.floor((state / 2_147_483_647) * size);
  };
}

/** Where the lines of each step begin among all entries, and the end. */
function stepStarts({ step, editions }: Coded): Int32Array {
  const starts = new Int32Array(editions.sorted.length + 1);
  for (const at of step) starts[at + 1] = (starts[at + 1] as number) + 1;
  for (let at = 1; at < starts.length; at++) starts[at] = (starts[at] as number) + (starts[at - 1] as number);
  return starts;
}

/** Pairs of lines in editions that follow each other, of the surnames of a sample and of those that are near them. */
export function likelyPairs(
  coded: Coded,
  blocks: ReadonlyMap<number, Int32Array>,
  sample: readonly number[],
  near: NearSurnames,
  singles: Profiles,
  compare: Comparer,
): Pairs {
  const tail: number[] = [];
  const head: number[] = [];
  const none = new Int32Array();
  for (const surname of sample) {
    const block = blocks.get(surname) ?? none;
    pairUp(coded, block, block, tail, head);
    for (let row = near.first[surname] as number; row < (near.first[surname + 1] as number); row++)
      pairUp(coded, block, blocks.get(near.other[row] as number) ?? none, tail, head);
  }
  return compared(tail, head, singles, compare);
}

/** Each line of the one block with those of the other in the next editions that have any. */
function pairUp({ step, lane }: Coded, one: Int32Array, other: Int32Array, tail: number[], head: number[]): void {
  let start = 0;
  for (const at of one) {
    const from = step[at] as number;
    while (start < other.length && (step[other[start] as number] as number) <= from) start++;
    let steps = 0;
    let last = from;
    for (let index = start; index < other.length && tail.length < MOST_PAIRS; index++) {
      const found = other[index] as number;
      const to = step[found] as number;
      if (to !== last && ++steps > STEPS_ON) break;
      last = to;
      if (lane[at] !== lane[found]) continue;
      tail.push(at);
      head.push(found);
    }
  }
}

function compared(tail: readonly number[], head: readonly number[], singles: Profiles, compare: Comparer): Pairs {
  const count = tail.length;
  const levels = new Int8Array(count * FIELD_COUNT);
  const log2Chance = new Float64Array(count * FIELD_COUNT);
  const comparison = newComparison();
  for (let at = 0; at < count; at++) {
    compare.all(singles, tail[at] as number, singles, head[at] as number, comparison);
    levels.set(comparison.levels, at * FIELD_COUNT);
    log2Chance.set(comparison.log2Chance, at * FIELD_COUNT);
  }
  return { count, tail: Int32Array.from(tail), head: Int32Array.from(head), levels, log2Chance };
}

/** Bits of the evidence of one pair. */
export function pairBits(pairs: Pairs, at: number, weights: Weights): number {
  const from = at * FIELD_COUNT;
  const comparison = {
    levels: pairs.levels.subarray(from, from + FIELD_COUNT),
    log2Chance: pairs.log2Chance.subarray(from, from + FIELD_COUNT),
  };
  let sum = 0;
  for (let field = 0; field < FIELD_COUNT; field++) sum += fieldBits(weights, comparison, field);
  return sum;
}
