import {
  type CalendarDate,
  dayOf,
  daysInMonth,
  isDate,
  monthName,
  plainDay,
  type SolarCalendar,
  weekday,
} from './calendar.ts';
import { anyOf, dateError, severalReadings } from './date-error.ts';
import { calendarAt, label, placeOf } from './places.ts';
import type { DateOptions } from './reading-options.ts';
import type { Day } from './span.ts';

/** One day as a source names it, before it is known in which calendar and from which first day of the year it counts. */
export type NamedDay = {
  /** The year as written. */
  readonly year: number;
  /** The second year of `1708/9`. */
  readonly secondYear?: number;
  readonly style?: SolarCalendar;
  /** 0 Monday … 6 Sunday, where the source gives it. */
  readonly weekday?: number;
  /** Its date in a calendar and a year from 1 January; a movable feast has another in each. */
  dateIn(calendar: SolarCalendar, year: number): CalendarDate;
  /** The wording with another year or style, for hints. */
  wording(year: string, style: string): string;
  readonly at: number;
  readonly length: number;
};

/** What the name of a day comes to: the year is counted from 1 January. */
export type SettledDay = { readonly day: Day; readonly calendar: SolarCalendar; readonly year: number };

/** The last year that began on 25 March anywhere in Britain. */
export const LAST_LADY_DAY_YEAR = 1751;

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'] as const;

/** `1708/9`, `1709/10`, `1699/1700`: the second year as short as it is clear. */
export function doubleYear(secondYear: number): string {
  const [a, b] = [String(secondYear - 1), String(secondYear)];
  const same = [...b].findIndex((digit, place) => digit !== a[place]);
  return `${a}/${same < 2 ? b : b.slice(same)}`;
}

const beforeLadyDay = ({ month, day }: CalendarDate): boolean => month < 3 || (month === 3 && day < 25);

/**
 * The one day that is meant.
 *
 * 1. A double year (`1708/9`) is Old Style, for the days from 1 January to 24 March, and its year is the second.
 * 2. O.S. is Julian, N.S. Gregorian with the year from 1 January.
 * 3. `options.calendar` settles the calendar, and the year from 1 January; `options.yearBegins` the year, and that the
 *    calendar is Julian where that is 25 March; `options.country` both, by the law of the place.
 * 4. Else a day after 13 September 1752 is Gregorian, one before 15 October 1582 Julian, and one in between may be
 *    either; a Julian day from 1 January to 24 March up to 1751 may be of the year written or of the next.
 * 5. The day of the week, where it is given, leaves only the readings that fell on it.
 * Source for 1 and 4: Calendar (New Style) Act 1750, 24 Geo. 2 c. 23, and the bull Inter gravissimas, 1582.
 * @throws HeldbyError DATE where no day or more than one is left.
 */
export function settle(named: NamedDay, text: string, options: DateOptions): SettledDay {
  const candidates = candidatesOf(named, text, options);
  const existing = candidates.flatMap(({ calendar, year }): SettledDay[] => {
    const date = named.dateIn(calendar, year);
    return isDate(date.year, date.month, date.day, calendar)
      ? [{ day: dayOf(date.year, date.month, date.day, calendar), calendar, year: date.year }]
      : [];
  });
  const first = candidates[0];
  if (existing.length === 0 && first !== undefined)
    throw noSuchDay(named.dateIn(first.calendar, first.year), first.calendar, named, text);
  const fitting = existing.filter((one) => named.weekday === undefined || weekday(one.day) === named.weekday);
  if (fitting.length === 0) throw wrongWeekday(existing, named, text);
  const [only, other] = fitting;
  if (only === undefined || other !== undefined) throw undecided(fitting, named, text);
  return only;
}

type Candidate = { readonly calendar: SolarCalendar; readonly year: number };

function candidatesOf(named: NamedDay, text: string, options: DateOptions): Candidate[] {
  const { year, secondYear, style } = named;
  if (secondYear !== undefined) return [fromDoubleYear(named, secondYear, text)];
  if (style === 'gregorian') return [{ calendar: style, year }];
  if (style === undefined && options.calendar !== undefined) {
    return [{ calendar: options.calendar, year: shifted(named, year, options) }];
  }
  if (options.country !== undefined) return [inPlace(named, options.country, options, text)];
  const date = named.dateIn('gregorian', year);
  const written = label(date.year, date.month, date.day);
  const julian = julianYears(named, options).map((one): Candidate => ({ calendar: 'julian', year: one }));
  if (style === 'julian' || written < 1582_10_15) return julian;
  if (written >= 1752_09_14) return [{ calendar: 'gregorian', year }];
  return options.yearBegins === '25 March' ? julian : [{ calendar: 'gregorian', year }, ...julian];
}

/** The year from 1 January under a stated first day of the year. */
const shifted = (named: NamedDay, year: number, options: DateOptions): number =>
  options.yearBegins === '25 March' && beforeLadyDay(named.dateIn('julian', year)) ? year + 1 : year;

function julianYears(named: NamedDay, options: DateOptions): number[] {
  const { year } = named;
  if (options.yearBegins !== undefined) return [shifted(named, year, options)];
  const doubtful = year <= LAST_LADY_DAY_YEAR && beforeLadyDay(named.dateIn('julian', year));
  return doubtful ? [year, year + 1] : [year];
}

/** @throws HeldbyError DATE for a double year that no day can have. */
export function checkDoubleYear(
  { year, secondYear, at, length }: { year: number; secondYear: number; at: number; length: number },
  hadTwoYears: boolean,
  text: string,
): void {
  const fail = (reason: string, hint: string) => dateError(text, at, length, reason, hint);
  const either = `Write the one year, ${year} or ${secondYear}.`;
  if (secondYear !== year + 1) {
    const years = `For all the years write ${year}–${secondYear}; a double year is ${doubleYear(year + 1)}.`;
    throw fail('a double year names two that follow each other', years);
  }
  if (year > LAST_LADY_DAY_YEAR) throw fail('after 1751 a year has one number', either);
  if (!hadTwoYears) throw fail('only the days from 1 January to 24 March had two years', either);
}

function fromDoubleYear(named: NamedDay, secondYear: number, text: string): Candidate {
  const { year, style, at, length } = named;
  checkDoubleYear({ year, secondYear, at, length }, beforeLadyDay(named.dateIn('julian', secondYear)), text);
  if (style === 'gregorian')
    throw dateError(text, at, length, 'a double year is Old Style', 'Leave N.S. out, or write one year.');
  return { calendar: 'julian', year: secondYear };
}

function inPlace(named: NamedDay, country: string, options: DateOptions, text: string): Candidate {
  const place = placeOf(country);
  const date = named.dateIn('julian', named.year);
  const byLaw =
    place.yearBegins !== undefined &&
    named.year <= place.yearBegins.lastYear &&
    date.month * 100 + date.day < place.yearBegins.monthDay;
  const year = options.yearBegins === undefined ? named.year + (byLaw ? 1 : 0) : shifted(named, named.year, options);
  if (named.style !== undefined) return { calendar: named.style, year };
  const old = named.dateIn('julian', year);
  const calendar = calendarAt(place, label(year, old.month, old.day));
  if (calendar === 'julian') return { calendar, year };
  const fresh = named.dateIn('gregorian', year);
  if (calendarAt(place, label(year, fresh.month, fresh.day)) === 'gregorian') return { calendar: 'gregorian', year };
  if (place.own !== undefined && old.year * 10_000 < place.own[1] && place.own[0] < (old.year + 1) * 10_000) {
    const own = `${country} then kept a calendar of its own, which was neither`;
    throw dateError(text, named.at, named.length, own, 'Work out the day, and write it with O.S. or N.S.');
  }
  const hint = 'Add O.S. or N.S. if the date comes from elsewhere, or look at the source again.';
  throw dateError(
    text,
    named.at,
    named.length,
    `there was no such day in ${country}, where the calendar changed`,
    hint,
  );
}

function noSuchDay(date: CalendarDate, calendar: SolarCalendar, { at, length }: NamedDay, text: string): Error {
  const { year, month } = date;
  const last = daysInMonth(year, month, calendar);
  const reason = `${monthName(month)} ${year} has ${last} days${calendar === 'julian' ? ' (Old Style)' : ''}`;
  return dateError(
    text,
    at,
    length,
    reason,
    `The last is ${last} ${monthName(month)} ${year}; look at the source again.`,
  );
}

function wrongWeekday(existing: readonly SettledDay[], named: NamedDay, text: string): Error {
  const fell = existing.map((one) => `${wordingOf(one, named)} was a ${WEEKDAYS[weekday(one.day)]}`);
  const hint = 'Leave the day of the week out, or look at the source again.';
  return dateError(text, named.at, named.length, `${fell.join(', ')}, not a ${WEEKDAYS[named.weekday ?? 0]}`, hint);
}

/** The wording with its style, and a double year where the year alone would leave a doubt. */
export function wordingOf({ calendar, year, day }: SettledDay, named: NamedDay): string {
  if (calendar === 'gregorian') return named.wording(String(year), day >= 2_361_222 ? '' : ' N.S.');
  const doubtful = year - 1 <= LAST_LADY_DAY_YEAR && beforeLadyDay(named.dateIn('julian', year));
  return doubtful ? named.wording(doubleYear(year), '') : named.wording(String(year), ' O.S.');
}

function undecided(readings: readonly SettledDay[], named: NamedDay, text: string): Error {
  const wordings = readings.map((one) => wordingOf(one, named));
  const meanings = readings.map((one, index) => `“${wordings[index]}” is ${plainDay(one.day)} (Gregorian)`);
  const hint = `Write ${anyOf(wordings)}; an ISO date is Gregorian, as ${readings[0] ? isoOf(readings[0], named) : ''}.`;
  return severalReadings(text, meanings.join(', '), hint, readings.length);
}

function isoOf({ calendar, year }: SettledDay, named: NamedDay): string {
  const date = named.dateIn(calendar, year);
  return [date.year, date.month, date.day].map((part) => String(part).padStart(2, '0')).join('-');
}
