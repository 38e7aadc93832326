import { type CalendarDate, dayOf, daysInMonth, isDate, monthName, type SolarCalendar, two } from './calendar.ts';
import { dateError, twoReadings } from './date-error.ts';
import { monthsFrom } from './edtf-date.ts';
import { type Piece, pieceOf } from './piece.ts';
import type { DateOptions } from './reading-options.ts';
import { spanThrough } from './span.ts';

/** A calendar date as it stands on the page, complete, before a calendar is settled. */
export type WrittenDate = {
  readonly day?: number;
  /** The day, and month where it differs, in the other style: `10/21 May`. */
  readonly newStyle?: { readonly day: number; readonly month?: number };
  readonly month?: number;
  readonly year: number;
  /** The second year of `1708/9`. */
  readonly secondYear?: number;
  readonly style?: SolarCalendar;
  /** 0 Monday … 6 Sunday. */
  readonly weekday?: number;
  /** Where it stands in the expression, for messages. */
  readonly at: number;
  readonly length: number;
};

const name = (day: number, month: number, year: number | string): string => `${day} ${monthName(month)} ${year}`;

/**
 * The days that a written date names.
 *
 * 1. A year alone runs from 1 January to 31 December, Gregorian; so does a month. Neither is refused: the days by which
 *    an older reckoning may differ are left to the reader, who writes `O.S.`, or the days themselves, where they matter.
 * 2. A day marked O.S. or N.S. is Julian or Gregorian.
 * 3. A double year (`1708/9`) is Old Style, for the days from 1 January to 24 March, and its year is the second.
 * 4. A day after 13 September 1752 is Gregorian, one before 15 October 1582 Julian.
 * 5. A day in between without a style has two readings and is refused.
 */
export function daysOf(written: WrittenDate, text: string, options: DateOptions): Piece {
  const { day, month, at, length } = written;
  if (month !== undefined && (month < 1 || month > 12)) {
    throw dateError(text, at, length, `there is no month ${month}`, 'Months run from 1 to 12.');
  }
  if (written.secondYear !== undefined) return doubleYear(written, text);
  const style = written.style ?? options.calendar;
  if (day === undefined || month === undefined) {
    const calendar = style ?? 'gregorian';
    const span =
      month === undefined ? monthsFrom(written.year, 1, 12, calendar) : monthsFrom(written.year, month, 1, calendar);
    return pieceOf(span, month === undefined ? 'year' : 'month', { calendar });
  }
  const calendar = style ?? calendarOf({ year: written.year, month, day }, written, text);
  return oneDay(written.year, month, day, calendar, written, text);
}

function oneDay(
  year: number,
  month: number,
  day: number,
  calendar: SolarCalendar,
  { at, length }: WrittenDate,
  text: string,
): Piece {
  if (!isDate(year, month, day, calendar)) {
    const last = daysInMonth(year, month, calendar);
    const reason = `${monthName(month)} ${year} has ${last} days${calendar === 'julian' ? ' (Old Style)' : ''}`;
    throw dateError(text, at, length, reason, `The last is ${name(last, month, year)}; look at the source again.`);
  }
  const found = dayOf(year, month, day, calendar);
  const label = calendar === 'julian' ? `${name(day, month, year)} Old Style` : undefined;
  return pieceOf(spanThrough(found, found), 'day', { calendar, ...(label === undefined ? {} : { label }) });
}

/** Before 15 October 1582 there was one calendar, after 13 September 1752 Britain kept the other. */
function calendarOf({ year, month, day }: CalendarDate, written: WrittenDate, text: string): SolarCalendar {
  const label = year * 10_000 + month * 100 + day;
  if (label >= 1752_09_14) return 'gregorian';
  if (label < 1582_10_15 || !isDate(year, month, day, 'gregorian')) return 'julian';
  const plain = name(day, month, year);
  throw twoReadings(
    text,
    `from 1582 to 1752 ${plain} was one day in New Style and another, ten or eleven days later, in Old Style`,
    `Write “${plain} O.S.” or “${plain} N.S.”; ${written.year}-${two(month)}-${two(day)} is New Style.`,
  );
}

function doubleYear(written: WrittenDate, text: string): Piece {
  const { year, secondYear, month, day, at, length } = written;
  if (secondYear !== year + 1) {
    throw dateError(
      text,
      at,
      length,
      `a double year names two that follow each other`,
      `Write ${year}/${String(year + 1).slice(-2)}.`,
    );
  }
  if (year > 1751) {
    if (month === undefined)
      return pieceOf(monthsFrom(year, 1, 24, 'gregorian'), 'year', { label: `${year} or ${secondYear}` });
    throw dateError(text, at, length, 'after 1751 a year has one number', `Write ${year} or ${secondYear}.`);
  }
  if (month === undefined || (month === 3 && day === undefined)) {
    const days = spanThrough(dayOf(secondYear, month ?? 1, 1, 'julian'), dayOf(secondYear, 3, 24, 'julian'));
    return pieceOf(days, 'month', { calendar: 'julian' });
  }
  if (month > 3 || (month === 3 && (day ?? 1) > 24)) {
    throw dateError(
      text,
      at,
      length,
      'only days from 1 January to 24 March had two years',
      `Write the one year, ${year} or ${secondYear}.`,
    );
  }
  if (day === undefined) return pieceOf(monthsFrom(secondYear, month, 1, 'julian'), 'month', { calendar: 'julian' });
  return oneDay(secondYear, month, day, 'julian', written, text);
}
