import { describe, expect, test } from 'vitest';
import { isPartOfYear, partOfYear, readEdtfDate } from '../../src/time/edtf-date.ts';
import { shownSpan } from './reading.ts';

const read = (date: string) => readEdtfDate(date, date, 0, 'gregorian');

describe('one date', () => {
  test.each<[rule: string, date: string, days: string]>([
    ['a digit unknown within', '1X34', '1034-01-01 1934-12-31'],
    ['the only months that fit', '1834-0X', '1834-01-01 1834-09-30'],
    ['the only leap years that fit', '18XX-02-29', '1804-02-29 1896-02-29'],
    ['a day in an unknown month', '1834-XX-31', '1834-01-31 1834-12-31'],
    ['significant digits', '1950S1', '1000-01-01 1999-12-31'],
    ['significant digits of a year before 0', '-1950S2', '-1999-01-01 -1900-12-31'],
    ['a leap day within significant digits', '1950S2-02-29', '1904-02-29 1996-02-29'],
    ['unknown digits of a year before 0', '-019X', '-0199-01-01 -0190-12-31'],
    ['a long year', 'Y12000', 'Y12000-01-01 Y12000-12-31'],
    ['an exponent', 'Y3E4', 'Y30000-01-01 Y30000-12-31'],
    ['a time of day is cut off', '1834-05-16T23:59:60Z', '1834-05-16'],
    ['year 0', '0000', '0000-01-01 0000-12-31'],
  ])('%s: %s', (_rule, date, days) => expect(shownSpan(read(date).span)).toBe(days));

  test('a pattern that no day fits is refused', () => expect(() => read('1834-02-3X')).toThrow('has no day 3X'));
});

describe('seasons and other parts of a year', () => {
  test.each<[code: number, days: string]>([
    [21, '1834-03-01 1834-05-31'],
    [22, '1834-06-01 1834-08-31'],
    [23, '1834-09-01 1834-11-30'],
    [24, '1834-12-01 1835-02-28'],
    [25, '1834-03-01 1834-05-31'],
    [28, '1834-12-01 1835-02-28'],
    [29, '1834-09-01 1834-11-30'],
    [30, '1834-12-01 1835-02-28'],
    [32, '1834-06-01 1834-08-31'],
    [33, '1834-01-01 1834-03-31'],
    [36, '1834-10-01 1834-12-31'],
    [37, '1834-01-01 1834-04-30'],
    [39, '1834-09-01 1834-12-31'],
    [40, '1834-01-01 1834-06-30'],
    [41, '1834-07-01 1834-12-31'],
  ])('%i', (code, days) => {
    expect(shownSpan(read(`1834-${code}`).span)).toBe(days);
    expect(shownSpan(partOfYear(1834, code))).toBe(days);
  });
  test('the codes are 21 to 41', () => {
    expect([20, 21, 41, 42].map(isPartOfYear)).toEqual([false, true, true, false]);
  });
});

describe('qualifiers count at the part they stand at', () => {
  test.each<[date: string, precision: string, approximate: boolean, uncertain: boolean]>([
    ['1834', 'year', false, false],
    ['1834-05~', 'month', true, false],
    ['1834-05-16~', 'day', true, false],
    ['1834-05~-16', 'month', true, false],
    ['1834~-05-16', 'year', true, false],
    ['1834-~05-16', 'month', true, false],
    ['?1834-05-~16', 'day', true, true],
    ['1834-05-16%', 'day', true, true],
    ['1834?-05-16', 'day', false, true],
  ])('%s', (date, precision, approximate, uncertain) => {
    expect(read(date).from).toEqual({ precision, approximate, uncertain });
  });
});
