import { HeldbyError } from '../../src/errors.ts';
import { isoDay } from '../../src/time/calendar.ts';
import { readDate } from '../../src/time/read-date.ts';
import type { DateOptions } from '../../src/time/reading-options.ts';
import { type Day, lastDay, type Span } from '../../src/time/span.ts';

const day = (one: Day): string => (Number.isFinite(one) ? isoDay(one) : '..');

/** First and last day of a span in ISO form, one where they are the same, `..` where it is open. */
export const shownSpan = (span: Span): string =>
  span.from === lastDay(span) ? day(span.from) : `${day(span.from)} ${day(lastDay(span))}`;

export const shown = (text: string, options?: DateOptions): string => shownSpan(readDate(text, options).span);

/** The error that a date is refused with. */
export function failure(text: string, options?: DateOptions): HeldbyError {
  try {
    readDate(text, options);
  } catch (error) {
    if (error instanceof HeldbyError) return error;
    throw error;
  }
  throw new Error(`“${text}” was read`);
}
