import type { Assumptions } from '../assumptions.ts';
import { daysInMonth, gregorianDay, toGregorian } from './calendar.ts';
import type { DatePart, DateReading, Edge } from './date-reading.ts';
import type { Day, Span } from './span.ts';

/**
 * The same day of the month so many calendar months later (earlier if negative); where that month is shorter, its last
 * day. Infinite days stay where they are.
 */
export function plusMonths(day: Day, months: number): Day {
  if (!Number.isFinite(day)) return day;
  const date = toGregorian(day);
  const count = date.year * 12 + date.month - 1 + months;
  const year = Math.floor(count / 12);
  const month = count - year * 12 + 1;
  return gregorianDay(year, month, Math.min(date.day, daysInMonth(year, month)));
}

/**
 * The same date so many calendar years later, as ages are counted. 29 February becomes 28 February where there is no
 * 29th, so that a bound "not before the tenth birthday" never shuts out a day that some would count.
 */
export const plusYears = (day: Day, years: number): Day => plusMonths(day, years * 12);

/**
 * The days that a date can vouch for: its own bounds, and around an approximate end the assumption `circa` (years, for
 * a year or anything coarser), `circa.month` (months) or `circa.day` (days). Each end is widened by the precision it
 * was given in. An uncertain date keeps its bounds. A part of a year is taken to the nearest month, a part of a month
 * to the nearest day of a month of 30.4375.
 */
export function asEvidence(reading: DateReading, assumptions: Assumptions): Span {
  const widened = reading.parts.map((part) => widen(part, assumptions));
  return {
    from: Math.min(...widened.map((span) => span.from)) as Day,
    until: Math.max(...widened.map((span) => span.until)) as Day,
  };
}

const widen = ({ span, from, until }: DatePart, assumptions: Assumptions): Span => ({
  from: from.approximate ? moved(span.from, from, -1, assumptions) : span.from,
  until: until.approximate ? moved(span.until, until, 1, assumptions) : span.until,
});

function moved(day: Day, edge: Edge, direction: 1 | -1, { values }: Assumptions): Day {
  if (!Number.isFinite(day)) return day;
  if (edge.precision === 'day') return (day + direction * Math.round(values['circa.day'])) as Day;
  if (edge.precision === 'year') return plusMonths(day, direction * Math.round(values.circa * 12));
  const months = values['circa.month'];
  const whole = Math.floor(months);
  return (plusMonths(day, direction * whole) + direction * Math.round((months - whole) * 30.4375)) as Day;
}
