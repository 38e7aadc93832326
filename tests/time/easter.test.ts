import { expect, test } from 'vitest';
import { isoDay } from '../../src/time/calendar.ts';
import { easterDay } from '../../src/time/easter.ts';

test.each<[year: number, gregorian: string, julian: string]>([
  [1690, '1690-03-26', '1690-04-30'],
  [1700, '1700-04-11', '1700-04-11'],
  [1834, '1834-03-30', '1834-05-04'],
  [2025, '2025-04-20', '2025-04-20'],
])('Easter %i in both calendars', (year, gregorian, julian) => {
  expect(isoDay(easterDay(year, 'gregorian'))).toBe(gregorian);
  expect(isoDay(easterDay(year, 'julian'))).toBe(julian);
});
