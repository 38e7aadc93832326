import { dayOf, monthName, type SolarCalendar, toGregorian } from './calendar.ts';
import { anyOf, dateError, severalReadings } from './date-error.ts';
import { monthsFrom } from './edtf-date.ts';
import { type Piece, pieceOf } from './piece.ts';
import { firstOfMonth, firstOfYear, placeOf } from './places.ts';
import type { DateOptions } from './reading-options.ts';
import { type Day, type Span, spanThrough } from './span.ts';
import { checkDoubleYear, doubleYear, LAST_LADY_DAY_YEAR, type NamedDay, settle, wordingOf } from './style.ts';

/** A calendar date as it stands on the page, complete, before a calendar is settled. */
export type WrittenDate = {
  readonly day?: number;
  /** The same day in New Style, and its month where that differs: `10/21 May`. */
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

/**
 * The days that a written date names.
 *
 * 1. A day: see `settle`; given in both styles (`10/21 May 1700`), both must be one day.
 * 2. A month or year without a style is Gregorian, from the first day of January or of the month. It is never refused:
 *    the days by which an older reckoning would differ are left aside, and O.S. or the days themselves are to be
 *    written where they matter.
 * 3. A month O.S. is Julian; from January to March up to 1751 it needs its double year.
 * 4. A year O.S. up to 1751 may have begun on 1 January or on 25 March: it reaches from 1 January to the 24 March after.
 * 5. A double year alone is its 1 January to 24 March, Old Style; after 1751 it is either year.
 * 6. `options.calendar` makes months and years its own, `options.country` those of the place, which may be short
 *    (September 1752 in England has 19 days) and begin on 25 March.
 */
export function daysOf(written: WrittenDate, text: string, options: DateOptions): Piece {
  const { day, month, year, at, length } = written;
  if (month !== undefined && (month < 1 || month > 12)) {
    throw dateError(text, at, length, `there is no month ${month}`, 'Months run from 1 to 12.');
  }
  if (day !== undefined && month !== undefined) return oneDay(written, day, month, text, options);
  const span = written.secondYear === undefined ? undefined : ofDoubleYear(written, text);
  if (span !== undefined) return span;
  const precision = month === undefined ? 'year' : 'month';
  if (written.style === undefined && options.calendar === undefined && options.country !== undefined) {
    const place = placeOf(options.country);
    const first = month === undefined ? firstOfYear(place, year) : monthIn(options.country, year, month);
    const next = month === undefined ? firstOfYear(place, year + 1) : monthIn(options.country, year, month, 1);
    const days: Span = { from: first, until: next };
    const plain = month === undefined ? dayOf(year, 1, 1, 'gregorian') : dayOf(year, month, 1, 'gregorian');
    if (plain === first) return pieceOf(days, precision);
    return pieceOf(days, precision, { calendar: 'julian', label: nameOf(written, options.country) });
  }
  const fromLadyDay = options.yearBegins === '25 March' && year <= LAST_LADY_DAY_YEAR;
  const old =
    written.style === 'julian' || (written.style === undefined && options.calendar === undefined && fromLadyDay);
  if (old && year <= LAST_LADY_DAY_YEAR) return oldMonthOrYear(written, text, options);
  const calendar = written.style ?? options.calendar ?? 'gregorian';
  const days = month === undefined ? monthsFrom(year, 1, 12, calendar) : monthsFrom(year, month, 1, calendar);
  const label = calendar === 'julian' ? { label: `${nameOf(written)} Old Style` } : {};
  return pieceOf(days, precision, { calendar, ...label });
}

const nameOf = ({ month, year }: WrittenDate, place?: string): string =>
  `${month === undefined ? '' : `${monthName(month)} `}${year}${place === undefined ? '' : ` as counted in ${place}`}`;

/** The first day of a month there (or `after` months later); the months before the place's first of the year follow it. */
function monthIn(country: string, year: number, month: number, after = 0): Day {
  const place = placeOf(country);
  const begins = place.yearBegins;
  const late = begins !== undefined && year <= begins.lastYear && month < Math.floor(begins.monthDay / 100);
  const count = (late ? year + 1 : year) * 12 + month - 1 + after;
  return firstOfMonth(place, Math.floor(count / 12), (count % 12) + 1);
}

function oneDay(written: WrittenDate, day: number, month: number, text: string, options: DateOptions): Piece {
  if (written.newStyle !== undefined) return bothStyles(written, day, month, text);
  const named: NamedDay = {
    ...written,
    dateIn: (_, year) => ({ year, month, day }),
    wording: (year, style) => `${day} ${monthName(month)} ${year}${style}`,
  };
  const settled = settle(named, text, options);
  const { day: found, calendar } = settled;
  const label = calendar === 'julian' ? { label: `${wordingOf(settled, named).replace(' O.S.', '')} Old Style` } : {};
  return pieceOf(spanThrough(found, found), 'day', { calendar, ...label });
}

/** `10/21 May 1700`: the New Style day with its year from 1 January settles both. */
function bothStyles(written: WrittenDate, day: number, month: number, text: string): Piece {
  const { newStyle, at, length } = written;
  const year = written.secondYear ?? written.year;
  const later = newStyle?.month ?? month;
  const fresh = dayOf(year, later, newStyle?.day ?? day, 'gregorian');
  const old = dayOf(later < month ? year - 1 : year, month, day, 'julian');
  if (fresh !== old) {
    const { day: due, month: dueMonth } = toGregorian(old);
    const reason = `${day} ${monthName(month)} Old Style was ${due} ${monthName(dueMonth)} New Style`;
    throw dateError(
      text,
      at,
      length,
      reason,
      'The New Style day is ten days on from 1582, eleven from 1700, twelve from 1800.',
    );
  }
  return pieceOf(spanThrough(fresh, fresh), 'day', { label: 'the day in both styles' });
}

function ofDoubleYear(written: WrittenDate, text: string): Piece | undefined {
  const { year, secondYear, month, at, length } = written;
  if (secondYear === undefined) return undefined;
  if (year > LAST_LADY_DAY_YEAR && month === undefined && secondYear === year + 1) {
    return pieceOf(monthsFrom(year, 1, 24, 'gregorian'), 'year', { label: `${year} or ${secondYear}` });
  }
  checkDoubleYear({ year, secondYear, at, length }, month === undefined || month <= 3, text);
  const ladyDay = dayOf(secondYear, 3, 25, 'julian');
  const whole = month === undefined || month === 3 ? undefined : monthsFrom(secondYear, month, 1, 'julian');
  const span = whole ?? { from: dayOf(secondYear, month ?? 1, 1, 'julian'), until: ladyDay };
  const name = month === undefined ? '' : `${monthName(month)} `;
  return pieceOf(span, 'month', { calendar: 'julian', label: `${name}${doubleYear(secondYear)} Old Style` });
}

function oldMonthOrYear(written: WrittenDate, text: string, options: DateOptions): Piece {
  const { year, month } = written;
  const label = `${nameOf(written)} Old Style`;
  const lady = options.yearBegins === '25 March';
  if (month === undefined) {
    const from = dayOf(year, lady ? 3 : 1, lady ? 25 : 1, 'julian');
    const short = options.yearBegins === '1 January' || year === LAST_LADY_DAY_YEAR;
    const until = short ? dayOf(year + 1, 1, 1, 'julian') : dayOf(year + 1, 3, 25, 'julian');
    return pieceOf({ from, until }, 'year', { calendar: 'julian', label });
  }
  if (month <= 3 && options.yearBegins === undefined) {
    const wordings = [year, year + 1].map((one) => `${monthName(month)} ${doubleYear(one)}`);
    throw severalReadings(text, 'the year may have begun on 1 January or on 25 March', `Write ${anyOf(wordings)}.`);
  }
  const shifted = lady && month < 3 ? year + 1 : year;
  return pieceOf(monthsFrom(shifted, month, 1, 'julian'), 'month', { calendar: 'julian', label });
}
