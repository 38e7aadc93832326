import { describe, expect, test } from 'vitest';
import { gregorianDay, isoDay, weekday } from '../../src/time/calendar.ts';
import { feastKey, feastNames, weekdayFrom } from '../../src/time/feast-days.ts';

test('every feast has a day in either calendar in every year of the lists', () => {
  for (const feast of feastNames().values()) {
    for (let year = 1760; year < 1960; year++) {
      for (const calendar of ['gregorian', 'julian'] as const)
        expect(Number.isInteger(feast.dayIn(calendar, year))).toBe(true);
    }
  }
});

test('Advent Sunday is the Sunday nearest to 30 November', () => {
  const advent = feastNames().get('advent sunday');
  for (let year = 1583; year < 2300; year++) {
    const day = advent?.dayIn('gregorian', year) ?? Number.NaN;
    expect(weekday(day as never)).toBe(6);
    expect(Math.abs(day - gregorianDay(year, 11, 30))).toBeLessThanOrEqual(3);
  }
});

describe('days of the week beside a day', () => {
  const friday = gregorianDay(1834, 5, 16);
  test.each<[wanted: number, count: number, day: string]>([
    [4, 1, '1834-05-23'],
    [4, -1, '1834-05-09'],
    [5, 1, '1834-05-17'],
    [3, -1, '1834-05-15'],
    [6, 3, '1834-06-01'],
    [0, -2, '1834-05-05'],
  ])('weekday %i, number %i', (wanted, count, day) => expect(isoDay(weekdayFrom(friday, wanted, count))).toBe(day));
});

test('names are folded', () => expect(feastKey('Saint John-Baptist')).toBe('st john baptist'));
