import { expect, test } from 'vitest';
import { isoDay } from '../../src/time/calendar.ts';
import { calendarAt, firstOfMonth, firstOfYear, label, placeOf } from '../../src/time/places.ts';

test('the calendar of a day follows the place', () => {
  const [england, france, sweden] = ['England', 'france', 'sweden'].map(placeOf);
  if (!england || !france || !sweden) throw new Error('a place is missing');
  expect(calendarAt(england, label(1700, 5, 16))).toBe('julian');
  expect(calendarAt(france, label(1700, 5, 16))).toBe('gregorian');
  expect(calendarAt(sweden, label(1705, 5, 16))).toBeUndefined(); // a calendar of its own
  expect(calendarAt(sweden, label(1720, 5, 16))).toBe('julian');
});

test.each<[country: string, year: number, first: string]>([
  ['england', 1700, '1700-04-05'],
  ['england', 1752, '1752-01-12'],
  ['england', 1753, '1753-01-01'],
  ['scotland', 1600, '1600-01-11'],
  ['scotland', 1599, '1599-04-04'],
  ['france', 1700, '1700-01-01'],
  ['venice', 1700, '1700-03-01'],
])('in %s the year %i began on %s', (country, year, first) =>
  expect(isoDay(firstOfYear(placeOf(country), year))).toBe(first),
);

test('a month across the change is short', () => {
  const england = placeOf('england');
  expect(firstOfMonth(england, 1752, 10) - firstOfMonth(england, 1752, 9)).toBe(19);
});

test('an unknown place is refused with those known', () => {
  expect(() => placeOf('atlantis')).toThrow('The calendar of “atlantis” is not known.');
});
