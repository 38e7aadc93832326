import { gregorianDay } from '../time/calendar.ts';
import { longDay } from '../time/phrase.ts';
import { type Day, NO_END, NO_START, type Span } from '../time/span.ts';

/** A day of an answer (`1834-05-16`) as a page prints it; `open` where there is none. */
export function dayInWords(day: string | null): string {
  return day === null ? 'open' : longDay(dayOfAnswer(day));
}

export function dayOfAnswer(day: string): Day {
  const match = /^([Yy]?-?\d+)-(\d\d)-(\d\d)$/.exec(day);
  return gregorianDay(Number((match?.[1] ?? '').replace(/^Y/i, '')), Number(match?.[2]), Number(match?.[3]));
}

/** The days of an answer, whose ends are both inside and null where open. */
export const daysOfAnswer = ({ from, to }: { readonly from: string | null; readonly to: string | null }): Span => ({
  from: from === null ? NO_START : dayOfAnswer(from),
  until: to === null ? NO_END : ((dayOfAnswer(to) + 1) as Day),
});

export function spanInWords({ from, to }: { readonly from: string | null; readonly to: string | null }): string {
  if (from === null && to === null) return 'open';
  if (from === null) return `until ${dayInWords(to)}`;
  if (to === null) return `from ${dayInWords(from)}`;
  return `${dayInWords(from)} – ${dayInWords(to)}`;
}

export function boundsInWords({
  earliest,
  latest,
}: {
  readonly earliest: string | null;
  readonly latest: string | null;
}): string {
  if (earliest === null && latest === null) return 'not known';
  if (earliest === latest) return dayInWords(earliest);
  if (earliest === null) return `by ${dayInWords(latest)}`;
  if (latest === null) return `not before ${dayInWords(earliest)}`;
  return `${dayInWords(earliest)} – ${dayInWords(latest)}`;
}
