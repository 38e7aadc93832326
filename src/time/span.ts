/** Julian Day Number: whole days, whatever the calendar a date was written in; 2000-01-01 Gregorian is 2451545. */
export type Day = number & { readonly __unit: 'Day' };

/** The open sides of a span. IEEE infinities: a large finite stand-in gives wrong sums with negative weights. */
export const NO_START = -Infinity as Day;
export const NO_END = Infinity as Day;

/**
 * From `from` up to, not including, `until`, so that successive tenures meet without sharing a day.
 * `from` may be NO_START, `until` may be NO_END. A span is never empty: from < until.
 * Answers in JSON and on the screen are inclusive; they are converted in the faces of the program only.
 */
export type Span = { readonly from: Day; readonly until: Day };

export const ALL_TIME: Span = { from: NO_START, until: NO_END };

/** The span of both days and all between them; `lastDay` is still inside. */
export const spanThrough = (firstDay: Day, lastDay: Day): Span => ({ from: firstDay, until: (lastDay + 1) as Day });

/** The last day inside the span; NO_END where it is open. */
export const lastDay = (span: Span): Day => (span.until - 1) as Day;

/** What two spans share, if they share a day. */
export function intersection(a: Span, b: Span): Span | undefined {
  const from = Math.max(a.from, b.from) as Day;
  const until = Math.min(a.until, b.until) as Day;
  return from < until ? { from, until } : undefined;
}

/** Days in the span; Infinity where a side is open. */
export const daysIn = (span: Span): number => span.until - span.from;

export const isClosed = (span: Span): boolean => Number.isFinite(span.from) && Number.isFinite(span.until);
