import { blocksBy } from './blocks.ts';
import { newChains } from './chains.ts';
import type { Coded } from './coded.ts';
import { comparer } from './comparison.ts';
import { expected, newness, sharesOfStrangers, weightsOfPairs, weightsSeen } from './estimate.ts';
import { PRIOR_PAIRS } from './fields.ts';
import type { Ground } from './ground.ts';
import type { Learned } from './learned.ts';
import { likelyPairs, type Pairs, strangers } from './pairs.ts';
import { emptyProfiles } from './profile.ts';
import { noneSeen, type Seen, seenIn } from './seen.ts';
import { type Shares, sharesOf, surnameLevels } from './shares.ts';
import { solver } from './solve.ts';
import { stayingFrom } from './staying.ts';
import { startShares } from './weights.ts';
import { worthOf } from './worth.ts';

/** What was learned, with what was counted for it in the last round. */
export type LearnedFrom = Learned & {
  readonly seen: Seen;
  /** How many pairs of lines that may be one man's were weighed, and of any two men. */
  readonly likelyPairs: number;
  readonly strangerPairs: number;
};

/** Entries on which the weights are estimated at most; beyond it they no longer change. */
const SAMPLE_ENTRIES = 30_000;

/** A surname that is commoner than this is no good sample, and slow. */
const LARGEST_SAMPLED = 2000;

const PAIR_ROUNDS = 15;
const CAREER_ROUNDS = 3;

/** First guess of how many lines there are of one man. */
const LINES_A_MAN = 5;

/**
 * Estimates the weights from the ledger itself. First over pairs of lines that may be one man; then by putting the
 * careers of a sample together, learning from them and doing so anew.
 */
export function learn(ground: Ground): LearnedFrom {
  const { coded, near } = ground;
  const longest = coded.editions.sorted.length;
  const blocks = blocksBy(ground, (at) => coded.surname[at] as number);
  const sample = sampleOf(coded, blocks);
  const comparerFor = (shares: Shares) => comparer(ground, shares);
  const chains = newChains(coded.count, ground.extend);
  const singles = emptyProfiles(coded.count);
  for (let at = 0; at < coded.count; at++) ground.extend(singles, at, -1);

  let shares = sharesOf(coded, near, Float64Array.from(ground.surnameUses), coded.count / LINES_A_MAN);
  const firstComparer = comparerFor(shares);
  const anyTwo = strangers(coded, singles, firstComparer);
  const any = sharesOfStrangers(anyTwo, surnameLevels(shares));
  const pairs = likelyPairs(coded, blocks, sample, near, singles, firstComparer);
  let learned: Learned = {
    weights: weightsOfPairs(startShares(), any),
    staying: stayingFrom(undefined, longest, PRIOR_PAIRS),
    shares,
    comparer: firstComparer,
  };
  const prior = priorOf(pairs, worthOf(ground, learned, chains).gapBits);
  for (let round = 0; round < PAIR_ROUNDS; round++)
    learned = { ...learned, weights: weightsOfPairs(expected(pairs, learned.weights, prior), any) };

  let seen = noneSeen(longest);
  for (let round = 0; round < CAREER_ROUNDS; round++) {
    const solve = solver(coded, chains, worthOf(ground, learned, chains));
    const solved = sample.map((surname) => blocks.get(surname) as Int32Array);
    for (const block of solved) solve(block);
    seen = seenIn(ground, solved, chains, learned.comparer);
    const staying = stayingFrom(seen.staying, longest, PRIOR_PAIRS);
    shares = sharesOf(coded, near, bearers(ground, blocks, sample, chains.previous, seen), menIn(coded, seen));
    const next: Learned = { weights: learned.weights, staying, shares, comparer: comparerFor(shares) };
    const surname = expected(pairs, next.weights, priorOf(pairs, worthOf(ground, next, chains).gapBits));
    const firsts = firstLines(coded, solved, chains.previous);
    const fresh = strangers(coded, singles, next.comparer, (at) => firsts.has(at));
    learned = { ...next, weights: weightsSeen(seen, any, surname, newness(fresh, firsts.size, any)) };
  }
  return { ...learned, seen, likelyPairs: pairs.count, strangerPairs: anyTwo.count };
}

const priorOf = ({ tail, head }: Pairs, gapBits: (tail: number, head: number) => number): Float64Array =>
  Float64Array.from(tail, (at, pair) => gapBits(at, head[pair] as number));

/** The first lines of the men of these blocks, but for those who stand in the first edition that there is. */
function firstLines({ step, editions }: Coded, blocks: readonly Int32Array[], previous: Int32Array): Set<number> {
  const isNew = (at: number): boolean => (previous[at] as number) < 0 && editions.isFirst[step[at] as number] !== 1;
  return new Set(blocks.flatMap((block) => [...block].filter(isNew)));
}

/** Surnames in an order that their spelling alone decides, up to SAMPLE_ENTRIES. */
function sampleOf({ count, surnames }: Coded, blocks: ReadonlyMap<number, Int32Array>): readonly number[] {
  const places = new Map([...blocks.keys()].map((surname) => [surname, scattered(surnames[surname] ?? '')]));
  const order = [...blocks.keys()].sort((a, b) => (places.get(a) as number) - (places.get(b) as number));
  const sample: number[] = [];
  let entries = 0;
  for (const surname of order) {
    const size = blocks.get(surname)?.length ?? 0;
    if (count > SAMPLE_ENTRIES && size > LARGEST_SAMPLED) continue;
    if (entries > SAMPLE_ENTRIES) break;
    sample.push(surname);
    entries += size;
  }
  return sample;
}

/** A number for a text in which near texts lie far apart (Fowler, Noll and Vo, FNV-1a, with a last mixing). */
function scattered(text: string): number {
  let hash = 2_166_136_261;
  for (let at = 0; at < text.length; at++) hash = Math.imul(hash ^ text.charCodeAt(at), 16_777_619);
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  return (hash ^ (hash >>> 12)) >>> 0;
}

const menIn = ({ count }: Coded, { men, lines }: Seen): number => (lines === 0 ? 0 : (count * men) / lines);

/** How many men bear each surname: counted in the sample, for the rest in proportion to its entries. */
function bearers(
  { coded, surnameUses }: Ground,
  blocks: ReadonlyMap<number, Int32Array>,
  sample: readonly number[],
  previous: Int32Array,
  seen: Seen,
): Float64Array {
  const menALine = menIn(coded, seen) / Math.max(1, coded.count);
  const counts = Float64Array.from(surnameUses, (uses) => uses * menALine);
  for (const surname of sample) {
    const block = blocks.get(surname) ?? new Int32Array();
    counts[surname] = block.reduce((men, at) => men + ((previous[at] as number) < 0 ? 1 : 0), 0);
  }
  return counts;
}
