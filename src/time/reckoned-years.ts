import { HeldbyError } from '../errors.ts';
import { gregorianDay } from './calendar.ts';
import type { Day, Span } from './span.ts';

/** Evidence is summed day by day: years that are written with four figures, first day to the day after the last. */
const FIRST = gregorianDay(0, 1, 1);
const AFTER_LAST = gregorianDay(10_000, 1, 1);

const outside = (day: Day, least: number, most: number): boolean => Number.isFinite(day) && (day < least || day > most);

/**
 * @param span of the date as it is written; open sides are welcome.
 * @throws HeldbyError DATE for a year below 0 or above 9999.
 */
export function refuseUnreckoned(text: string, span: Span): void {
  if (outside(span.from, FIRST, AFTER_LAST - 1) || outside(span.until, FIRST + 1, AFTER_LAST))
    throw new HeldbyError(
      'DATE',
      `The date “${text}” lies outside the years 0000 to 9999, with which a ledger reckons.`,
      'Give a date in those years, or leave that side open: ../1850.',
    );
}
