import { DAYS_PER_YEAR } from '../assumptions.ts';
import type { Span } from '../time/span.ts';

/** A date of rank further back than this is sooner a slip of the century. */
const LONGEST_SERVICE_YEARS = 70;

/**
 * Why a date of rank looks wrong beside the day as at which its edition stands: it lies `after` that, or so many whole
 * `yearsBefore` it, 70 or more (our choice), that the century is doubtful.
 */
export function doubtfulDate(dated: Span, asAt: Span): 'after' | { readonly yearsBefore: number } | undefined {
  if (dated.from >= asAt.until) return 'after';
  const yearsBefore = Math.floor((asAt.from - dated.until) / DAYS_PER_YEAR);
  return yearsBefore >= LONGEST_SERVICE_YEARS && Number.isFinite(yearsBefore) ? { yearsBefore } : undefined;
}
