import { describe, expect, test } from 'vitest';
import { type Assumptions, DEFAULTS } from '../../src/assumptions.ts';
import { gregorianDay, isoDay } from '../../src/time/calendar.ts';
import { asEvidence, plusMonths, plusYears } from '../../src/time/evidence-date.ts';
import { readDate } from '../../src/time/read-date.ts';
import { NO_END, NO_START } from '../../src/time/span.ts';
import { shownSpan } from './reading.ts';

describe('asEvidence', () => {
  test.each<[text: string, days: string]>([
    ['1834', '1834-01-01 1834-12-31'],
    ['1834?', '1834-01-01 1834-12-31'],
    ['c. 1834', '1829-01-01 1839-12-31'],
    ['1834~', '1829-01-01 1839-12-31'],
    ['1834%', '1829-01-01 1839-12-31'],
    ['c. May 1834', '1834-03-01 1834-07-31'],
    ['c. February 1834', '1833-12-01 1834-04-30'],
    ['c. 16 May 1834', '1834-05-02 1834-05-30'],
    ['c. 1830s', '1825-01-01 1844-12-31'],
    ['c. 1834–36', '1829-01-01 1841-12-31'],
    ['between c. 1834 and 1836', '1829-01-01 1836-12-31'],
    ['c. 1834 to c. May 1836', '1829-01-01 1836-07-31'],
    ['before c. 1834', '.. 1838-12-31'],
    ['after c. 1834', '1830-01-01 ..'],
    ['1834-05-16~', '1834-05-02 1834-05-30'],
    ['1834-05~-16', '1834-03-16 1834-07-16'],
    ['1834~-05-16', '1829-05-16 1839-05-16'],
    ['2004-06-~01/2004-06-~20', '2004-05-18 2004-07-04'],
    ['[1834~,1836]', '1829-01-01 1839-12-31'],
    ['1834~/..', '1829-01-01 ..'],
  ])('%s', (text, days) => expect(shownSpan(asEvidence(readDate(text), DEFAULTS))).toBe(days));

  test('the assumptions in force count, parts of a year to the month', () => {
    const given: Assumptions = {
      ...DEFAULTS,
      values: { ...DEFAULTS.values, circa: 2.5, 'circa.month': 0.5, 'circa.day': 3 },
    };
    expect(shownSpan(asEvidence(readDate('c. 1834'), given))).toBe('1831-07-01 1837-06-30');
    expect(shownSpan(asEvidence(readDate('c. May 1834'), given))).toBe('1834-04-16 1834-06-15');
    expect(shownSpan(asEvidence(readDate('c. 16 May 1834'), given))).toBe('1834-05-13 1834-05-19');
  });
});

describe('calendar steps', () => {
  test('29 February comes to 28 February where there is no 29th', () => {
    expect(isoDay(plusYears(gregorianDay(1812, 2, 29), 10))).toBe('1822-02-28');
    expect(isoDay(plusYears(gregorianDay(1812, 2, 29), 12))).toBe('1824-02-29');
  });
  test('a month that is too short gives its last day', () => {
    expect(isoDay(plusMonths(gregorianDay(1834, 1, 31), 1))).toBe('1834-02-28');
    expect(isoDay(plusMonths(gregorianDay(1834, 3, 31), -13))).toBe('1833-02-28');
  });
  test('open sides stay open', () => {
    expect(plusYears(NO_START, 10)).toBe(NO_START);
    expect(plusMonths(NO_END, -5)).toBe(NO_END);
  });
});
