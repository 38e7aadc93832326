import type { Direction } from './letter-costs.ts';
import type { EarlyLimit } from './letter-rows.ts';
import type { Pattern } from './pattern.ts';

/** One walk through a list: the columns of its first states may be given a lower limit. */
export type Walk = { readonly direction: Direction; readonly early: EarlyLimit };

/**
 * Which walks find every name within the limit, at the least expected work.
 *
 * Either the part of the reading before some place or the part behind it costs at most half the limit. So two walks, one
 * from each end, that hold their own half to half the limit, find together all that one walk finds, and each leaves out most
 * branches at the first letters. Costs are whole numbers: where the first half may cost `limit / 2` rounded down, the other
 * has the rest, less one. Steps that cross the place, and letters missing at it, are left to the walk from the end.
 *
 * A gap stops this: behind it any letters follow. So a reading that begins or ends with one is walked from the other end.
 * @see Navarro and Baeza-Yates, "A Hybrid Indexing Method for Approximate String Matching", Journal of Discrete Algorithms 1
 * (2000): partitioning into parts of which one has few errors (from memory).
 */
export function plannedWalks(pattern: Pattern, limit: number): readonly Walk[] {
  const size = pattern.length;
  const gaps = pattern.map((unit) => unit.kind === 'run' || unit.kind === 'lost');
  const leading = gaps.includes(true) ? gaps.indexOf(true) : size;
  const trailing = gaps.includes(true) ? size - 1 - gaps.lastIndexOf(true) : size;
  const whole = { states: 0, limit };
  let best: readonly Walk[] =
    leading >= trailing ? [{ direction: 'forward', early: whole }] : [{ direction: 'backward', early: whole }];
  let least = expectedWork(Math.max(leading, trailing), limit);
  const half = Math.floor(limit / 2);
  for (let place = 1; place < size; place++) {
    const work =
      expectedWork(Math.min(leading, place - 1), half) +
      expectedWork(Math.min(trailing, size - place), limit - half - 1);
    if (work >= least) continue;
    least = work;
    best = [
      { direction: 'forward', early: { states: place, limit: half } },
      { direction: 'backward', early: { states: size - place + 1, limit: limit - half - 1 } },
    ];
  }
  return best;
}

/** For expectedWork only: half bits of a usual error, ways in which one letter can be mistaken, letters, names. */
const HALF_BITS_OF_ERROR = 16;
const WAYS = 6;
const LETTERS = 14;
const NAMES = 35_000;
const USUAL_LENGTH = 9;

/** Roughly how many beginnings of names are looked at, where the first letters must be within the limit. */
function expectedWork(letters: number, limit: number): number {
  let work = 0;
  for (let depth = 1; depth <= USUAL_LENGTH; depth++) {
    const held = Math.min(letters, depth);
    const share = Math.min(1, (1 + WAYS * held) ** (limit / HALF_BITS_OF_ERROR) / LETTERS ** held);
    work += Math.min(LETTERS ** depth, NAMES) * share;
  }
  return work;
}
