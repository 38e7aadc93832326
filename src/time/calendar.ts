import { HeldbyError } from '../errors.ts';
import type { Day } from './span.ts';

/** A day as a calendar names it. Year 0 is 1 B.C.; months from 1; the year is counted from 1 January. */
export type CalendarDate = { readonly year: number; readonly month: number; readonly day: number };

/** The two calendars whose months and years have the same names, and so need a style beside them. */
export type SolarCalendar = 'gregorian' | 'julian';

/** Beyond this year the day would no longer be an exact integer. */
export const LAST_YEAR = 1_000_000_000_000;

const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

export const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

export const monthName = (month: number): string => MONTHS[month - 1] ?? '';

const isLeapYear = (year: number, calendar: SolarCalendar = 'gregorian'): boolean =>
  year % 4 === 0 && (calendar === 'julian' || year % 100 !== 0 || year % 400 === 0);

/** 28 to 31; 0 where there is no such month. */
export const daysInMonth = (year: number, month: number, calendar: SolarCalendar = 'gregorian'): number =>
  month === 2 && isLeapYear(year, calendar) ? 29 : (MONTH_DAYS[month - 1] ?? 0);

export const isDate = (year: number, month: number, day: number, calendar: SolarCalendar = 'gregorian'): boolean =>
  Number.isInteger(day) && Math.abs(year) <= LAST_YEAR && day >= 1 && day <= daysInMonth(year, month, calendar);

/**
 * Days before 1 March of the year in which March comes first (so that a leap day comes last), as in
 * Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 7; whole numbers only, and valid for negative years.
 */
function daysBefore(year: number, month: number): { shifted: number; days: number } {
  const shifted = month > 2 ? year : year - 1;
  return { shifted, days: 365 * shifted + Math.floor(shifted / 4) + Math.floor((153 * ((month + 9) % 12) + 2) / 5) };
}

/**
 * The day of a date in either calendar, carried backwards and forwards without end (proleptic).
 * @throws HeldbyError DATE when there is no such day, as 29 February 1900 in the Gregorian calendar.
 */
export function dayOf(year: number, month: number, day: number, calendar: SolarCalendar): Day {
  if (!isDate(year, month, day, calendar)) {
    const length = daysInMonth(year, month, calendar);
    const known =
      length === 0
        ? 'Months run from 1 to 12.'
        : `${monthName(month)} ${year} has ${length} days (${calendar} calendar).`;
    throw new HeldbyError('DATE', `There is no day ${year}-${month}-${day} in the ${calendar} calendar.`, known);
  }
  const { shifted, days } = daysBefore(year, month);
  const century = calendar === 'julian' ? -2 : Math.floor(shifted / 400) - Math.floor(shifted / 100);
  return (days + century + day + 1_721_119) as Day;
}

/** @example gregorianDay(2000, 1, 1) === 2451545 */
export const gregorianDay = (year: number, month: number, day: number): Day => dayOf(year, month, day, 'gregorian');

/** @example julianDay(1752, 9, 2) + 1 === gregorianDay(1752, 9, 14) */
export const julianDay = (year: number, month: number, day: number): Day => dayOf(year, month, day, 'julian');

function fromMarch(year: number, dayOfYear: number): CalendarDate {
  const month = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * month + 2) / 5) + 1;
  return month < 10 ? { year, month: month + 3, day } : { year: year + 1, month: month - 9, day };
}

/** The Gregorian date of a finite day. */
export function toGregorian(day: Day): CalendarDate {
  const since = day - 1_721_120; // 0000-03-01
  const cycle = Math.floor(since / 146_097); // days in 400 years
  const rest = since - cycle * 146_097;
  const year = Math.floor(
    (rest - Math.floor(rest / 1460) + Math.floor(rest / 36_524) - Math.floor(rest / 146_096)) / 365,
  );
  return fromMarch(year + cycle * 400, rest - (365 * year + Math.floor(year / 4) - Math.floor(year / 100)));
}

/** The Julian date of a finite day, the year counted from 1 January. */
export function toJulian(day: Day): CalendarDate {
  const since = day - 1_721_118; // 0000-03-01 Julian
  const cycle = Math.floor(since / 1461); // days in 4 years
  const rest = since - cycle * 1461;
  const year = Math.floor((rest - Math.floor(rest / 1460)) / 365);
  return fromMarch(year + cycle * 4, rest - 365 * year);
}

export const toCalendar = (day: Day, calendar: SolarCalendar): CalendarDate =>
  calendar === 'julian' ? toJulian(day) : toGregorian(day);

/** 0 Monday … 6 Sunday. */
export const weekday = (day: Day): number => ((day % 7) + 7) % 7;

export const two = (value: number): string => String(value).padStart(2, '0');

/** Four digits, `-` before a year before 0, `Y` where four digits do not hold it (EDTF levels 0 and 1). */
export function yearText(year: number): string {
  if (Math.abs(year) > 9999) return `Y${year}`;
  return `${year < 0 ? '-' : ''}${String(Math.abs(year)).padStart(4, '0')}`;
}

/** `YYYY-MM-DD`, proleptic Gregorian; years outside 0 to 9999 as in EDTF. The day must be finite. */
export function isoDay(day: Day): string {
  const { year, month, day: dayOfMonth } = toGregorian(day);
  return `${yearText(year)}-${two(month)}-${two(dayOfMonth)}`;
}

/** `16 May 1834`, without a style. */
export function plainDay(day: Day): string {
  const { year, month, day: dayOfMonth } = toGregorian(day);
  return year < 1 || year > 9999 ? isoDay(day) : `${dayOfMonth} ${monthName(month)} ${String(year).padStart(4, '0')}`;
}
