import { isoDay } from '../time/calendar.ts';
import { phrase } from '../time/phrase.ts';
import { type Day, isClosed, type Span } from '../time/span.ts';

/** A day as answers give it: `YYYY-MM-DD`, null where it is open. */
export const dayInAnswer = (day: Day): string | null => (Number.isFinite(day) ? isoDay(day) : null);

/** A span as answers give it: both days inclusive. */
export const spanInAnswer = ({ from, until }: Span): { from: string | null; to: string | null } => ({
  from: dayInAnswer(from),
  to: dayInAnswer((until - 1) as Day),
});

/** Days in which something was made or written, as a sentence has them. */
export function whenInWords(days: Span | undefined): string {
  if (days === undefined) return 'at any time';
  const words = phrase(days);
  return isClosed(days) && /^\d/.test(words) ? `in ${words}` : words;
}
