import { monthName, plainDay, toGregorian, yearText } from './calendar.ts';
import { ordinal } from './ordinals.ts';
import { type Day, lastDay, type Span } from './span.ts';

/** 14 September 1752, the first Gregorian day in Britain: a day before it needs its style beside it. */
const STYLE_STATED_BEFORE = 2_361_222;

const styled = (day: Day): boolean => day < STYLE_STATED_BEFORE;

/** `16 May 1834`; before 14 September 1752 with `N.S.`, since the day meant is the Gregorian one. */
export function longDay(day: Day): string {
  const { year } = toGregorian(day);
  return styled(day) && year > 0 ? `${plainDay(day)} N.S.` : plainDay(day);
}

/** An end of a span, no finer than it must be: a whole year or month where the span begins (or ends) with one. */
type End = { readonly year: number; readonly month?: number; readonly day?: number; readonly at: Day };

function endOf(at: Day, beginsPeriod: Day): End {
  const { year, month, day } = toGregorian(at);
  const next = toGregorian(beginsPeriod);
  if (next.day !== 1) return { year, month, day, at };
  return next.month === 1 ? { year, at } : { year, month, at };
}

const isPlain = (year: number): boolean => year >= 1000 && year <= 9999;

function endText({ year, month, day, at }: End): string {
  if (day !== undefined) return longDay(at);
  return month === undefined ? String(year) : `${monthName(month)} ${year}`;
}

/**
 * The shortest true wording of a span for print; reading it again gives the same span, to the day.
 * 1. open: `at any time`, `after 1833`, `before 16 May 1834`, `from May 1834`;
 * 2. one day, month, year, decade or century: `16 May 1834`, `May 1834`, `1834`, `the 1830s`, `the 19th century`;
 * 3. days of one month, months of one year, years: `3–8 May 1834`, `May–July 1834`, `1834–36`, `1898–1902`;
 * 4. anything else: `between 3 May 1834 and 8 February 1839`, both ends inside.
 */
export function phrase(span: Span): string {
  const { from, until } = span;
  if (from === -Infinity) return until === Infinity ? 'at any time' : openStart(until);
  if (until === Infinity) return openEnd(from);
  const first = endOf(from, from);
  const last = endOf(lastDay(span), until);
  if (!isPlain(first.year) || !isPlain(last.year)) return distant(first, last);
  return roundPeriod(first, last) ?? shortRange(first, last) ?? `between ${betweenEnds(first, last)}`;
}

function openStart(until: Day): string {
  const first = endOf(until, until); // the period that begins on the first day outside
  if (!isPlain(first.year)) return `../${edtf(endOf((until - 1) as Day, until))}`;
  return `before ${endText(first)}`;
}

function openEnd(from: Day): string {
  const first = endOf(from, from);
  if (!isPlain(first.year) || first.year === 1000) return `${edtf(first)}/..`;
  return first.month === undefined ? `after ${yearText(first.year - 1)}` : `from ${endText(first)}`;
}

/** Years outside 1000 to 9999 are written as in EDTF, where the whole range has its place. */
function distant(first: End, last: End): string {
  const [a, b] = [edtf(first), edtf(last)];
  return a === b ? a : `${a}/${b}`;
}

function edtf({ year, month, day }: End): string {
  const parts = [month, day].filter((part) => part !== undefined).map((part) => `-${String(part).padStart(2, '0')}`);
  return yearText(year) + parts.join('');
}

/** A day, month, year, decade or century. */
function roundPeriod(first: End, last: End): string | undefined {
  if (first.at === last.at) return longDay(first.at);
  if (first.day !== undefined || last.day !== undefined) return undefined;
  const years = last.year - first.year + 1;
  if (first.month === undefined && last.month === undefined) {
    if (years === 1) return String(first.year);
    if (years === 10 && first.year % 10 === 0) return `the ${first.year}s`;
    return years === 100 && first.year % 100 === 0 ? `the ${ordinal(first.year / 100 + 1)} century` : undefined;
  }
  const [a, b] = [first.month ?? 1, last.month ?? 12];
  return years === 1 && a === b ? `${monthName(a)} ${first.year}` : undefined;
}

/** `3–8 May 1834`, `May–July 1834`, `1834–36`. */
function shortRange(first: End, last: End): string | undefined {
  const whole = first.month === undefined && last.month === undefined;
  if (whole) {
    const century = Math.floor(first.year / 100) === Math.floor(last.year / 100);
    return `${first.year}–${century ? String(last.year).slice(-2) : last.year}`;
  }
  if (first.year !== last.year) return undefined;
  if (first.day === undefined && last.day === undefined) {
    return `${monthName(first.month ?? 1)}–${monthName(last.month ?? 12)} ${first.year}`;
  }
  const [a, b] = [toGregorian(first.at), toGregorian(last.at)];
  return a.month === b.month && styled(first.at) === styled(last.at) ? `${a.day}–${longDay(last.at)}` : undefined;
}

/** Both ends of a range; within one year both as days, the year then standing once unless their styles differ. */
function betweenEnds(first: End, last: End): string {
  if (first.year !== last.year) return `${endText(first)} and ${endText(last)}`;
  const alike = styled(first.at) === styled(last.at);
  const { month, day } = toGregorian(first.at);
  return `${alike ? `${day} ${monthName(month)}` : longDay(first.at)} and ${longDay(last.at)}`;
}

/** The days of a span in words: `16 May 1834`, `3 May 1834 – 8 February 1839`, `from …`, `until …`. */
export function daysInWords({ from, until }: Span): string {
  const last = (until - 1) as Day;
  if (from === -Infinity && until === Infinity) return 'any day';
  if (from === -Infinity) return `until ${longDay(last)}`;
  if (until === Infinity) return `from ${longDay(from)}`;
  return from === last ? longDay(from) : `${longDay(from)} – ${longDay(last)}`;
}
