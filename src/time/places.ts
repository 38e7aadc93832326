import { HeldbyError } from '../errors.ts';
import { dayOf, type SolarCalendar } from './calendar.ts';
import data from './places.json' with { type: 'json' };
import type { Day } from './span.ts';
import { foldedText } from './tokens.ts';

/** How one place reckoned its days. Dates are labels as numbers: 1752-09-14 is 17520914. */
export type Place = {
  readonly name: string;
  readonly lastOldLabel: number;
  readonly firstNewLabel: number;
  /** A calendar of its own, which is neither: Sweden 1700 to 1712. */
  readonly own: readonly [first: number, last: number] | undefined;
  /** Until `lastYear` the year began on this day, as 325 for 25 March. */
  readonly yearBegins: { readonly monthDay: number; readonly lastYear: number } | undefined;
  /** `3/4` is 4 March. */
  readonly monthBeforeDay: boolean;
};

export const label = (year: number, month: number, day: number): number => year * 10_000 + month * 100 + day;

const labelOf = (iso: string): number => Number(iso.replaceAll('-', ''));

/** @throws HeldbyError DATE for a place whose calendar is not known. */
export function placeOf(country: string): Place {
  const name = foldedText(country);
  const change = data.changes.find((one) => one.names.includes(name));
  if (change === undefined) {
    const known = data.changes.flatMap((one) => one.names).sort();
    throw new HeldbyError('DATE', `The calendar of “${country}” is not known.`, `Known are ${known.join(', ')}.`);
  }
  const begins = data.yearBegins.find((one) => one.names.includes(name));
  const own = 'ownCalendar' in change ? change.ownCalendar : undefined;
  return {
    name: change.names.includes(name) ? country : name,
    lastOldLabel: labelOf(change.lastOldDay),
    firstNewLabel: labelOf(change.firstNewDay),
    own: own && [labelOf(own.from), labelOf(own.until)],
    yearBegins: begins && { monthDay: labelOf(begins.day), lastYear: begins.lastYear },
    monthBeforeDay: data.monthBeforeDay.names.includes(name),
  };
}

/** Which calendar a label belongs to there; nothing for a day that was left out, or one of a calendar of its own. */
export function calendarAt(place: Place, date: number): SolarCalendar | undefined {
  if (place.own && date >= place.own[0] && date <= place.own[1]) return undefined;
  if (date <= place.lastOldLabel) return 'julian';
  return date >= place.firstNewLabel ? 'gregorian' : undefined;
}

/** The first day of a month there, the year counted from 1 January; where days were left out, the next that was. */
export const firstOfMonth = (place: Place, year: number, month: number): Day =>
  dayOf(year, month, 1, label(year, month, 1) > place.lastOldLabel ? 'gregorian' : 'julian');

/** The first day of the year of that number, as counted there. */
export function firstOfYear(place: Place, year: number): Day {
  if (place.yearBegins === undefined || year > place.yearBegins.lastYear) return firstOfMonth(place, year, 1);
  const { monthDay } = place.yearBegins;
  return dayOf(
    year,
    Math.floor(monthDay / 100),
    monthDay % 100,
    label(year, 0, monthDay) > place.lastOldLabel ? 'gregorian' : 'julian',
  );
}
