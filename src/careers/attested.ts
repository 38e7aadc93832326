import type { ListedEntry, Notice, NoticeEvent } from './evidence.ts';

/** A record that shows somebody in a post: `first` and `last` are the days, both inclusive, that it can speak of. */
export type Attested = {
  readonly record: ListedEntry | Notice;
  readonly first: number;
  readonly last: number;
  /** Middle of the days stated, before any lag; Infinity where both sides are open. */
  readonly middle: number;
};

/** Middle of the days [first, last]; the closed side where one is open, Infinity where both are. */
export function middleOf(first: number, last: number): number {
  if (first === -Infinity) return last;
  return last === Infinity ? first : (first + last) / 2;
}

/** A list may be behind by its lag, so it speaks of some day from so many days before. */
export function attestedByEntry(record: ListedEntry): Attested {
  const { asAt, lagDays } = record.edition;
  const last = asAt.span.until - 1;
  return { record, first: asAt.span.from - lagDays, last, middle: middleOf(asAt.span.from, last) };
}

export function attestedByNotice(record: Notice): Attested {
  const first = record.date.span.from;
  const last = record.date.span.until - 1;
  return { record, first, last, middle: middleOf(first, last) };
}

export const isEntry = (record: ListedEntry | Notice): record is ListedEntry => 'edition' in record;

export const statesStart = (event: NoticeEvent): boolean =>
  event === 'appointed' || event === 'promoted' || event === 'exchanged';

export const statesEnd = (event: NoticeEvent): boolean =>
  event === 'half-pay' ||
  event === 'retired' ||
  event === 'resigned' ||
  event === 'dismissed' ||
  event === 'superseded';

/** By the middle of the days stated, then by the first of them; records come in the order of their ids. */
export const byMiddle = (a: Attested, b: Attested): number => a.middle - b.middle || a.first - b.first || 0;
