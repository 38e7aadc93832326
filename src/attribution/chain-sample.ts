import type { PreparedMark } from './chain-marks.ts';
import type { Relations } from './chain-relations.ts';
import { scorerOf } from './chain-score.ts';
import type { ChainTable } from './chain-table.ts';
import type { OrderedTotals } from './ordered-total.ts';

/** Some chains of those that are summed together, drawn by what they weigh in a known order. */
export type Sample = {
  readonly chains: readonly (readonly number[])[];
  /** By chain: what it weighs by itself over what it weighs in the known order. */
  readonly ratios: readonly number[];
};

/** So many chains are drawn; fewer where to weigh each takes more multiplications than there is room for. */
const DRAWN = 2000;
const MOST_STEPS = 4e7;
/** What a chain costs for each node and mark: its weight and its days. */
const STEPS_A_NODE = 3;
const SEED = 20_011;

/**
 * Draws chains of which none is among those found, and weighs each of them exactly.
 * @see Kahn, H. and Marshall, A. W., Methods of reducing sample size in Monte Carlo computations, Journal of the
 *   Operations Research Society of America 1 (1953) 263–278: weights of what is drawn by those of another law.
 */
export function sampleOf(
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  ordered: OrderedTotals,
  isFound: (assigned: readonly number[]) => boolean,
): Sample {
  const random = randomFrom(SEED);
  const aChain = table.nodes.weight.length * marks.length * STEPS_A_NODE;
  const drawn = shuffled(ordered.draw(Math.min(DRAWN, Math.ceil(MOST_STEPS / aChain)), random), random);
  const scorer = scorerOf(table, marks, relations);
  const chains: (readonly number[])[] = [];
  const ratios: number[] = [];
  for (const assigned of drawn) {
    if (scorer.steps() > MOST_STEPS) break;
    const inOrder = ordered.weightOf(assigned);
    if (isFound(assigned) || inOrder === 0) continue;
    chains.push(assigned);
    ratios.push(scorer.scoreOf(assigned) / inOrder);
  }
  return { chains, ratios };
}

/** Drawn node by node: any beginning of them is to be a sample too. */
function shuffled<T>(given: readonly T[], random: () => number): T[] {
  const out = [...given];
  for (let i = out.length - 1; i > 0; i -= 1) {
    const j = Math.floor(random() * (i + 1));
    [out[i], out[j]] = [out[j] as T, out[i] as T];
  }
  return out;
}

/**
 * The same numbers from 0 to 1 each time, so that the same ledger gives the same answer.
 * @see Marsaglia, G., Xorshift RNGs, Journal of Statistical Software 8 (2003) no. 14.
 */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}
