import type { Direction } from './letter-costs.ts';
import type { EarlyLimit } from './letter-rows.ts';
import type { Pattern } from './pattern.ts';

/** One walk through a list: the columns of its first states may be given a lower limit. */
export type Walk = { readonly direction: Direction; readonly early: EarlyLimit };

/**
 * Which walks find every name within the limit, at the least expected work.
 *
 * 1. One walk from the end at which more is read before the first gap, for behind a gap any letters follow.
 * 2. Or two walks: either the part of the reading before some place, or the part behind it, costs at most half the limit.
 * One walk from each end that holds its own part to half the limit leaves out most branches at their first letters, and
 * together they find all that one walk finds. Costs are whole numbers: if the first part costs more than `half`, at most
 * `limit - half - 1` is left for the other. Steps across the place, and letters missing at it, belong to the walk from the
 * end.
 * @param limit in half bits.
 * @see Navarro and Baeza-Yates, "A Hybrid Indexing Method for Approximate String Matching", Journal of Discrete Algorithms 1
 * (2000): parts of which one has few errors (from memory).
 */
export function plannedWalks(pattern: Pattern, limit: number): readonly Walk[] {
  const size = pattern.length;
  const reversed = [...pattern].reverse();
  const whole = { states: 0, limit };
  const [forward, backward] = [expectedWork(pattern, limit), expectedWork(reversed, limit)];
  let best: readonly Walk[] = [{ direction: forward <= backward ? 'forward' : 'backward', early: whole }];
  let least = Math.min(forward, backward);
  const half = Math.floor(limit / 2);
  const rest = limit - half - 1;
  for (let place = 1; place < size && rest >= 0; place++) {
    const work = expectedWork(pattern.slice(0, place - 1), half) + expectedWork(reversed.slice(0, size - place), rest);
    if (work >= least) continue;
    least = work;
    best = [
      { direction: 'forward', early: { states: place, limit: half } },
      { direction: 'backward', early: { states: size - place + 1, limit: rest } },
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

/** Roughly how many beginnings of names are looked at, where these units must be within the limit. */
function expectedWork(units: Pattern, limit: number): number {
  let work = 0;
  let held = 0;
  let isOpen = false;
  for (let depth = 1; depth <= USUAL_LENGTH; depth++) {
    const unit = units[depth - 1];
    isOpen ||= unit === undefined || unit.kind === 'run';
    if (!isOpen && unit?.kind === 'letter') held += unit.dotted ? 0.5 : 1;
    const share = Math.min(1, (1 + WAYS * held) ** (limit / HALF_BITS_OF_ERROR) / LETTERS ** held);
    work += Math.min(LETTERS ** depth, NAMES) * share;
  }
  return work;
}
