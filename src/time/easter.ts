import { type CalendarDate, dayOf, type SolarCalendar } from './calendar.ts';
import type { Day } from './span.ts';

/**
 * Easter Day in either calendar, for years from 1 January.
 * Gregorian: the anonymous rule sent to Nature 13 (20 April 1876), p. 487, as in Meeus, Astronomical Algorithms,
 * 2nd ed. 1998, ch. 8; Julian: Meeus, the same chapter. Whole years from 326 on, in which the rule was in use.
 */
export function easterDay(year: number, calendar: SolarCalendar): Day {
  const { month, day } = calendar === 'julian' ? julianEaster(year) : gregorianEaster(year);
  return dayOf(year, month, day, calendar);
}

function gregorianEaster(year: number): CalendarDate {
  const a = year % 19;
  const b = Math.floor(year / 100);
  const c = year % 100;
  const d = Math.floor(b / 4);
  const e = b % 4;
  const f = Math.floor((b + 8) / 25);
  const g = Math.floor((b - f + 1) / 3);
  const h = (19 * a + b - d - g + 15) % 30;
  const i = Math.floor(c / 4);
  const k = c % 4;
  const l = (32 + 2 * e + 2 * i - h - k) % 7;
  const m = Math.floor((a + 11 * h + 22 * l) / 451);
  const count = h + l - 7 * m + 114;
  return { year, month: Math.floor(count / 31), day: (count % 31) + 1 };
}

function julianEaster(year: number): CalendarDate {
  const d = (19 * (year % 19) + 15) % 30;
  const e = (2 * (year % 4) + 4 * (year % 7) - d + 34) % 7;
  const count = d + e + 114;
  return { year, month: Math.floor(count / 31), day: (count % 31) + 1 };
}
