import { isoDay } from '../time/calendar.ts';
import type { Day, Span } from '../time/span.ts';

/** A day as answers give it: `YYYY-MM-DD`, null where it is open. */
export const dayInAnswer = (day: Day): string | null => (Number.isFinite(day) ? isoDay(day) : null);

/** A span as answers give it: both days inclusive. */
export const spanInAnswer = ({ from, until }: Span): { from: string | null; to: string | null } => ({
  from: dayInAnswer(from),
  to: dayInAnswer((until - 1) as Day),
});
