import { dayOf, daysInMonth, LAST_YEAR, monthName, type SolarCalendar, two } from './calendar.ts';
import { dateError } from './date-error.ts';
import type { DatePart, Edge, Precision } from './date-reading.ts';
import { type Day, type Span, spanThrough } from './span.ts';

/** The shape of one date of any level; what the shape lets through is checked with a message of its own. */
export const EDTF_DATE =
  '[?~%]?(?:Y-?\\d+(?:E\\d+)?|-?[\\dX]{4})(?:S\\d+)?[?~%]?(?:-[?~%]?[\\dX]{2}[?~%]?(?:-[?~%]?[\\dX]{2}[?~%]?)?)?(?:T[\\d:.]*(?:Z|[+-][\\d:]*)?)?';

const PARTS =
  /^([?~%]?)(?:Y(-?\d+)(?:E(\d+))?|(-?)([\dX]{4}))(?:S(\d+))?([?~%]?)(?:-([?~%]?)([\dX]{2})([?~%]?)(?:-([?~%]?)([\dX]{2})([?~%]?))?)?(T.*)?$/;

const TIME =
  /^T(?:[01]\d|2[0-3])(?::[0-5]\d(?::(?:[0-5]\d|60)(?:\.\d+)?)?)?(?:Z|[+-](?:[01]\d|2[0-3])(?::?[0-5]\d)?)?$/;

/**
 * Seasons and other parts of a year (ISO 8601-2, codes 21 to 41) as first month and number of months. The
 * specification ties 21 to 24 to no place; here they are the northern seasons of three whole months. A winter belongs
 * to the year in whose December it begins (a southern summer likewise).
 */
const PARTS_OF_YEAR: Readonly<Record<number, readonly [month: number, months: number]>> = {
  21: [3, 3],
  22: [6, 3],
  23: [9, 3],
  24: [12, 3], // independent of place
  25: [3, 3],
  26: [6, 3],
  27: [9, 3],
  28: [12, 3], // north
  29: [9, 3],
  30: [12, 3],
  31: [3, 3],
  32: [6, 3], // south
  33: [1, 3],
  34: [4, 3],
  35: [7, 3],
  36: [10, 3], // quarters
  37: [1, 4],
  38: [5, 4],
  39: [9, 4],
  40: [1, 6],
  41: [7, 6], // thirds and halves
};

export const isPartOfYear = (code: number): boolean => code in PARTS_OF_YEAR;

/** The days of a season, quarter, third or half of a Gregorian year by its code. */
export const partOfYear = (year: number, code: number): Span =>
  monthsFrom(year, ...(PARTS_OF_YEAR[code] ?? [1, 12]), 'gregorian');

/** Whole months from one on, in either calendar. */
export function monthsFrom(year: number, month: number, months: number, calendar: SolarCalendar): Span {
  const next = year * 12 + month - 1 + months;
  const nextYear = Math.floor(next / 12);
  return { from: dayOf(year, month, 1, calendar), until: dayOf(nextYear, next - nextYear * 12 + 1, 1, calendar) };
}

/** The numbers that a pattern of digits and X stands for, lowest first. */
function numbersOf(pattern: string): number[] {
  let found = [0];
  for (const sign of pattern) {
    const digits = sign === 'X' ? [0, 1, 2, 3, 4, 5, 6, 7, 8, 9] : [Number(sign)];
    found = found.flatMap((start) => digits.map((digit) => start * 10 + digit));
  }
  return found;
}

/**
 * One EDTF date, upper case, without spaces. A time of day is cut off: the day is the one written, in its own zone.
 * A qualifier after a part counts for the date down to that part, one before it for that part alone; what is
 * approximate is taken at the coarsest part that is so marked.
 * @param text the whole expression, for messages; `at` where this date begins in it.
 * @throws HeldbyError DATE when there is no such date.
 */
export function readEdtfDate(date: string, text: string, at: number, calendar: SolarCalendar): DatePart {
  const match = PARTS.exec(date);
  const fail = (fault: string, reason: string, hint: string) => {
    const offset = Math.max(0, date.lastIndexOf(fault));
    return dateError(text, at + offset, fault.length, reason, hint);
  };
  if (!match) throw fail(date, 'this is no date of EDTF', 'Write for example 1834, 1834-05 or 1834-05-16.');
  const [, q1, yDigits, exponent, sign, pattern, significant, q2, q3, month, q4, q5, day, q6, time] = match;
  if (time !== undefined && !TIME.test(time))
    throw fail(time, 'there is no such time of day', 'Leave the time out: only the day counts.');
  if (time !== undefined && day === undefined)
    throw fail(time, 'a time needs a day', 'Write the day before the time, as in 1834-05-16T10:00.');
  const years = yearsOf(yDigits, exponent, sign, pattern, significant);
  if (years === undefined || Math.abs(years.high) > LAST_YEAR || Math.abs(years.low) > LAST_YEAR) {
    throw fail(
      date,
      'this year cannot be counted',
      'Years reach to 1,000,000,000,000; S gives at most as many digits as the year has.',
    );
  }
  const edge = edgeOf([q1, q2, q3, q4, q5, q6], day !== undefined ? 'day' : month !== undefined ? 'month' : 'year');
  const span = boundsOf(years, month, day, calendar);
  if (span === undefined) throw noSuchDate(years.low, month ?? '', day, calendar, fail);
  return { span, from: edge, until: edge };
}

type Years = { readonly low: number; readonly high: number; readonly listed?: readonly number[] };

function yearsOf(
  yDigits: string | undefined,
  exponent: string | undefined,
  sign: string | undefined,
  pattern: string | undefined,
  significant: string | undefined,
): Years | undefined {
  if (yDigits !== undefined) return rounded(Number(yDigits) * 10 ** Number(exponent ?? 0), significant);
  if (pattern === undefined) return undefined;
  const negative = sign === '-';
  const listed = numbersOf(pattern).map((year) => (negative ? -year : year));
  if (negative) listed.reverse();
  if (significant !== undefined) return pattern.includes('X') ? undefined : rounded(listed[0] ?? 0, significant);
  return { low: listed[0] ?? 0, high: listed.at(-1) ?? 0, listed };
}

/** Only the first digits are sure: 1950S2 is some year from 1900 to 1999. */
function rounded(year: number, significant: string | undefined): Years | undefined {
  if (significant === undefined) return { low: year, high: year };
  const length = Math.max(4, String(Math.abs(year)).length);
  const kept = Number(significant);
  if (kept < 1 || kept > length || !Number.isSafeInteger(year)) return undefined;
  const size = 10 ** (length - kept);
  const least = Math.floor(Math.abs(year) / size) * size;
  return year < 0 ? { low: -(least + size - 1), high: -least } : { low: least, high: least + size - 1 };
}

/** From the first day that fits the pattern to the last; nothing where none does. */
function boundsOf(
  years: Years,
  month: string | undefined,
  day: string | undefined,
  calendar: SolarCalendar,
): Span | undefined {
  if (month === undefined) {
    return { from: dayOf(years.low, 1, 1, calendar), until: dayOf(years.high + 1, 1, 1, calendar) };
  }
  const part = PARTS_OF_YEAR[Number(month)];
  if (part !== undefined) {
    if (day !== undefined) return undefined;
    return {
      from: monthsFrom(years.low, ...part, calendar).from,
      until: monthsFrom(years.high, ...part, calendar).until,
    };
  }
  const months = numbersOf(month).filter((value) => value >= 1 && value <= 12);
  const days = day === undefined ? undefined : numbersOf(day);
  const ascending = years.listed ?? someYears(years);
  const first = firstFit(ascending, months, days, calendar);
  const last = firstFit([...ascending].reverse(), [...months].reverse(), days && [...days].reverse(), calendar, true);
  return first === undefined || last === undefined ? undefined : spanThrough(first, last);
}

/** The years at either end; a 29 February that fits is found among them, since none is further than 8 years away. */
function someYears({ low, high }: Years): number[] {
  const near = Array.from({ length: 9 }, (_, step) => [low + step, high - step]).flat();
  return [...new Set(near)].filter((year) => year >= low && year <= high).sort((a, b) => a - b);
}

/** The first day that fits, trying years, months and days in the order given. */
function firstFit(
  years: readonly number[],
  months: readonly number[],
  days: readonly number[] | undefined,
  calendar: SolarCalendar,
  fromEnd = false,
): Day | undefined {
  for (const year of years) {
    for (const month of months) {
      const length = daysInMonth(year, month, calendar);
      const wholeMonth = fromEnd ? length : 1;
      const day = days === undefined ? wholeMonth : days.find((value) => value >= 1 && value <= length);
      if (day !== undefined) return dayOf(year, month, day, calendar);
    }
  }
  return undefined;
}

function noSuchDate(
  year: number,
  month: string,
  day: string | undefined,
  calendar: SolarCalendar,
  fail: (fault: string, reason: string, hint: string) => Error,
): Error {
  const known = Number(month);
  if (PARTS_OF_YEAR[known] !== undefined)
    return fail(day ?? '', 'a season has no days', 'Write the month and the day, or the season alone.');
  if (day === undefined || (!month.includes('X') && (known < 1 || known > 12))) {
    const months = 'Months are 01 to 12; 21 to 41 are seasons and other parts of the year.';
    return fail(month, `there is no month ${month}`, months);
  }
  if (month.includes('X')) return fail(`${month}-${day}`, 'there is no such day', 'Look at the source again.');
  const length = daysInMonth(year, known, calendar);
  return fail(day, `${monthName(known)} ${year} has no day ${day}`, `The last day of that month is ${two(length)}.`);
}

const PRECISIONS: readonly Precision[] = ['year', 'year', 'month', 'month', 'day', 'day'];
const COARSENESS: readonly Precision[] = ['year', 'month', 'day'];

function edgeOf(qualifiers: readonly (string | undefined)[], finest: Precision): Edge {
  const marked = qualifiers.flatMap((sign, place) =>
    sign === '~' || sign === '%' ? [PRECISIONS[place] ?? finest] : [],
  );
  return {
    precision: COARSENESS.find((precision) => marked.includes(precision)) ?? finest,
    approximate: marked.length > 0,
    uncertain: qualifiers.some((sign) => sign === '?' || sign === '%'),
  };
}
