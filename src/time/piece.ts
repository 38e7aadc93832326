import { isoDay, toGregorian, two, yearText } from './calendar.ts';
import type { Calendar, DatePart, Edge, Precision } from './date-reading.ts';
import { type Day, lastDay, type Span } from './span.ts';

/** One date of a wording, before it is put into a range or a relation. */
export type Piece = {
  readonly span: Span;
  /** What "about" means for it. */
  readonly precision: Precision;
  readonly calendar: Calendar;
  /** What it is, in words, where that is more than its days. */
  readonly label?: string;
  /** An EDTF date for the whole of it, where it is not one year, month, day, decade or century. */
  readonly edtf?: string;
  readonly approximate: boolean;
  readonly uncertain: boolean;
};

export type Flags = { readonly approximate: boolean; readonly uncertain: boolean };

export const SURE: Flags = { approximate: false, uncertain: false };

export const pieceOf = (span: Span, precision: Precision, more: Partial<Piece> = {}): Piece => ({
  span,
  precision,
  calendar: 'gregorian',
  ...SURE,
  ...more,
});

export const flagged = (piece: Piece, flags: Flags): Piece => ({
  ...piece,
  approximate: piece.approximate || flags.approximate,
  uncertain: piece.uncertain || flags.uncertain,
});

export const edgeOfPiece = ({ precision, approximate, uncertain }: Piece): Edge => ({
  precision,
  approximate,
  uncertain,
});

export const partOf = (from: Piece, until: Piece = from): DatePart => ({
  span: { from: from.span.from, until: until.span.until },
  from: edgeOfPiece(from),
  until: edgeOfPiece(until),
});

/** The side of a stretch that has no date: nothing is known of it that could be approximate. */
export const OPEN_EDGE: Edge = { precision: 'day', ...SURE };

/** What a whole wording means, before it is put beside its text. */
export type Meaning = {
  readonly parts: readonly DatePart[];
  readonly edtf: string;
  readonly calendar: Calendar;
  readonly label?: string;
};

const QUALIFIERS = ['', '?', '~', '%'] as const;

const qualifier = ({ approximate, uncertain }: Flags): string =>
  QUALIFIERS[(approximate ? 2 : 0) + (uncertain ? 1 : 0)] ?? '';

/** The EDTF date that begins (or ends) on this day and is no finer than it was given: `1834` for its first of January. */
function edtfEnd(day: Day, side: 'from' | 'until', edge: Edge): string {
  const { year, month } = toGregorian(day);
  const beyond = toGregorian((side === 'from' ? day : day + 1) as Day);
  const wholeMonth = beyond.day === 1;
  const wholeYear = wholeMonth && beyond.month === 1;
  const date =
    edge.precision === 'year' && wholeYear
      ? yearText(year)
      : edge.precision !== 'day' && wholeMonth
        ? `${yearText(year)}-${two(month)}`
        : isoDay(day);
  return date + qualifier(edge);
}

/** The EDTF date of one piece: a day, month, year, decade or century where it is one, else an interval. */
export function edtfOfPiece(piece: Piece): string {
  if (piece.edtf !== undefined) return piece.edtf + qualifier(piece);
  const round = roundYears(piece.span);
  if (round !== undefined && piece.precision === 'year') return round + qualifier(piece);
  return edtfOfPart(partOf(piece));
}

/** A stretch of days as an EDTF date, or as an interval of two. */
export function edtfOfPart({ span, from, until }: DatePart): string {
  const first = Number.isFinite(span.from) ? edtfEnd(span.from, 'from', from) : '..';
  const last = Number.isFinite(span.until) ? edtfEnd(lastDay(span), 'until', until) : '..';
  return first === last && first !== '..' ? first : `${first}/${last}`;
}

/** `[1834,1836..1838]`, one of them, or `{…}`, all of them. */
export function edtfSet(members: readonly string[], all: boolean): string {
  const inner = members.map((member) => member.replace(/^\.\.\/|\/\.\.$|\//, '..')).join(',');
  return all ? `{${inner}}` : `[${inner}]`;
}

/** `183X` or `18XX` where the span is exactly that decade or century. */
function roundYears({ from, until }: Span): string | undefined {
  if (!Number.isFinite(from) || !Number.isFinite(until)) return undefined;
  const first = toGregorian(from);
  const next = toGregorian(until);
  const years = next.year - first.year;
  const whole = first.month === 1 && first.day === 1 && next.month === 1 && next.day === 1;
  if (!whole || first.year < 0 || first.year > 9999 || first.year % years !== 0) return undefined;
  const digits = yearText(first.year);
  return years === 10 ? `${digits.slice(0, 3)}X` : years === 100 ? `${digits.slice(0, 2)}XX` : undefined;
}
