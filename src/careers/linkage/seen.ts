import type { Chains } from './chains.ts';
import type { Coded } from './coded.ts';
import { type Comparer, newComparison } from './comparison.ts';
import { FORENAMES, FORENAMES_FIELD, LEVELS, SUFFIX, SUFFIX_FIELD } from './fields.ts';
import { AGREE_SO_FAR } from './forename-table.ts';
import type { Ground } from './ground.ts';
import { byEdition } from './solve.ts';
import { emptyCounts, gapClass, type StayingCounts } from './staying.ts';

/** What careers show that were found so far. */
export type Seen = {
  /** Levels between successive lines of one man. */
  readonly same: Float64Array;
  /** Levels between lines of two men who stand in one edition together, and so are certainly two. */
  readonly different: Float64Array;
  readonly staying: StayingCounts;
  /** Number of men, and of their lines. */
  men: number;
  lines: number;
};

export const noneSeen = (longest: number): Seen => ({
  same: new Float64Array(LEVELS),
  different: new Float64Array(LEVELS),
  staying: emptyCounts(longest),
  men: 0,
  lines: 0,
});

/** @param blocks entries whose careers are solved, with the rows of their profiles up to date. */
export function seenIn(
  { coded, looked }: Pick<Ground, 'coded' | 'looked'>,
  blocks: Iterable<Int32Array>,
  chains: Chains,
  compare: Comparer,
): Seen {
  const seen = noneSeen(coded.editions.sorted.length);
  for (const block of blocks) {
    seen.lines += block.length;
    for (const at of block) {
      if ((chains.previous[at] as number) < 0) seen.men++;
      if (coded.lane[at] === 0) countStaying(coded, looked, at, chains, seen.staying);
    }
    countSame(block, chains, compare, seen.same);
    countDifferent(coded, block, chains, compare, seen.different);
  }
  return seen;
}

function countStaying(
  coded: Coded,
  looked: Ground['looked'],
  at: number,
  { previous, next }: Chains,
  staying: StayingCounts,
): void {
  const [surname, step, after] = [coded.surname[at] as number, coded.step[at] as number, next[at] as number];
  const gap = after < 0 ? Number.POSITIVE_INFINITY : looked.gap(surname, step, coded.step[after] as number);
  const looks = Math.min(gap, looked.after(surname, step));
  for (let look = 1; look <= looks; look++) staying.open[gapClass(look)] = (staying.open[gapClass(look)] as number) + 1;
  // A man found in a list of another service has not been looked for in that many of his own.
  if (gap <= looks) staying.found[gapClass(gap)] = (staying.found[gapClass(gap)] as number) + 1;
  if (coded.editions.isFirst[step] === 1) return;
  staying.entries++;
  if ((previous[at] as number) < 0) staying.newMen++;
}

/** What a man keeps. */
const NAME_FIELDS: readonly number[] = [FORENAMES_FIELD, SUFFIX_FIELD];

/**
 * A man keeps his forenames and suffix, so a line that differs there is a slip if the lines before and after it agree.
 * Where they change for good, it may as well be his widow, his son or a stranger, and tells nothing of how often slips
 * occur. All else may change from one line to the next.
 */
function countSame(block: Int32Array, chains: Chains, compare: Comparer, same: Float64Array): void {
  const { previous, next, tails, heads } = chains;
  const across = newComparison();
  const comparison = newComparison();
  const count = (level: number): void => {
    if (level >= 0) same[level] = (same[level] as number) + 1;
  };
  for (const at of block) {
    const [before, after] = [previous[at] as number, next[at] as number];
    if (after < 0) continue;
    compare.all(tails, at, heads, after, comparison);
    for (const [field, level] of comparison.levels.entries()) if (!NAME_FIELDS.includes(field)) count(level);
    if (before < 0) continue;
    compare.all(tails, before, heads, after, across);
    chains.refreshLoneHead(at);
    compare.all(tails, before, heads, at, comparison);
    chains.refreshHead(at);
    for (const field of NAME_FIELDS)
      if (isAgreement(across.levels[field] as number)) count(comparison.levels[field] as number);
  }
}

const isAgreement = (level: number): boolean =>
  (level >= FORENAMES && level <= FORENAMES + AGREE_SO_FAR) || level === SUFFIX || level === SUFFIX + 1;

/** Pairs of each line with the next line of every other man who stands in the same edition. */
function countDifferent(
  coded: Coded,
  block: Int32Array,
  { next, tails, heads }: Chains,
  compare: Comparer,
  different: Float64Array,
): void {
  const comparison = newComparison();
  for (const lines of byEdition(coded, block))
    for (const one of lines)
      for (const other of lines) {
        const after = next[other] as number;
        if (one === other || after < 0 || coded.lane[one] !== coded.lane[other]) continue;
        compare.all(tails, one, heads, after, comparison);
        for (const level of comparison.levels) if (level >= 0) different[level] = (different[level] as number) + 1;
      }
}
