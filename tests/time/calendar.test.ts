import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { gregorianDay, isDate, isoDay, julianDay, toGregorian, toJulian, weekday } from '../../src/time/calendar.ts';
import type { Day } from '../../src/time/span.ts';

test.each<[name: string, day: number, expected: number]>([
  ['1 January 2000', gregorianDay(2000, 1, 1), 2451545],
  ['the first Gregorian day, 15 October 1582', gregorianDay(1582, 10, 15), 2299161],
  ['a year below 100 stays what it is', gregorianDay(50, 1, 1), 1739323],
  ['the first Julian day', julianDay(-4712, 1, 1), 0],
])('days are counted: %s', (_name, day, expected) => expect(day).toBe(expected));

test('the day after 2 September 1752 Old Style is 14 September New Style', () => {
  expect(julianDay(1752, 9, 2) + 1).toBe(gregorianDay(1752, 9, 14));
});

describe('days that do not exist are refused', () => {
  test.each<[year: number, month: number, day: number]>([
    [1900, 2, 29],
    [1834, 2, 31],
    [1834, 4, 31],
    [1834, 13, 1],
    [1834, 0, 1],
    [1834, 1, 0],
    [1834, 1, 1.5],
  ])('%i-%i-%f', (year, month, day) => {
    expect(isDate(year, month, day)).toBe(false);
    expect(() => gregorianDay(year, month, day)).toThrow(HeldbyError);
  });
  test('29 February 1900 is a Julian day', () => expect(isoDay(julianDay(1900, 2, 29))).toBe('1900-03-13'));
  test('29 February 2000 is a Gregorian day', () => expect(isoDay(gregorianDay(2000, 2, 29))).toBe('2000-02-29'));
});

test.each<[rule: string, day: Day, expected: string]>([
  ['four digits', gregorianDay(1834, 5, 16), '1834-05-16'],
  ['a year below 1000', gregorianDay(44, 3, 15), '0044-03-15'],
  ['year 0', gregorianDay(0, 1, 1), '0000-01-01'],
  ['a year before 0', gregorianDay(-44, 3, 15), '-0044-03-15'],
  ['a year beyond 9999', gregorianDay(12_000, 1, 1), 'Y12000-01-01'],
])('isoDay: %s', (_rule, day, expected) => expect(isoDay(day)).toBe(expected));

test('weekdays: 2 September 1752 Old Style was a Wednesday, 14 September New Style a Thursday', () => {
  expect(weekday(julianDay(1752, 9, 2))).toBe(2);
  expect(weekday(gregorianDay(1752, 9, 14))).toBe(3);
});

test('every day comes back from both calendars, and the next day is another date', () =>
  fc.assert(
    fc.property(fc.integer({ min: -10_000_000, max: 10_000_000 }), (number) => {
      const day = number as Day;
      const [g, j, next] = [toGregorian(day), toJulian(day), toGregorian((day + 1) as Day)];
      expect(gregorianDay(g.year, g.month, g.day)).toBe(day);
      expect(julianDay(j.year, j.month, j.day)).toBe(day);
      expect(next.day === 1 || (next.day === g.day + 1 && next.month === g.month)).toBe(true);
    }),
    { seed: 1582, numRuns: 2000 },
  ));
