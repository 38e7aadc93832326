import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spanInAnswer } from '../../src/inquiry/days.ts';
import { saidDate } from '../../src/inquiry/report-dates.ts';
import { dateWords } from '../../src/report/dates.ts';
import { defaultStyle, type Style } from '../../src/report/style.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import { phrase } from '../../src/time/phrase.ts';
import type { Day } from '../../src/time/span.ts';

const words = (changes: Partial<Style> = {}) => dateWords({ ...defaultStyle(), ...changes });

describe('spans in words', () => {
  test.each<[rule: string, from: string | null, to: string | null, text: string]>([
    ['open on both sides', null, null, 'at any time'],
    ['open before a year', null, '1834-12-31', 'before 1835'],
    ['open before a day', null, '1834-05-15', 'until 15 May 1834'],
    ['open after a year', '1835-01-01', null, 'after 1834'],
    ['open from a month', '1834-05-01', null, 'from May 1834'],
    ['one day', '1834-05-16', '1834-05-16', '16 May 1834'],
    ['one month', '1836-02-01', '1836-02-29', 'February 1836'],
    ['one year', '1834-01-01', '1834-12-31', '1834'],
    ['a decade', '1830-01-01', '1839-12-31', 'the 1830s'],
    ['a century', '1800-01-01', '1899-12-31', 'the 19th century'],
    ['months of a year', '1834-05-01', '1834-07-31', 'May–July 1834'],
    ['years', '1834-01-01', '1836-12-31', '1834–36'],
    ['years of two centuries', '1898-01-01', '1902-12-31', '1898–1902'],
    ['anything else', '1834-05-03', '1839-02-08', 'between 3 May 1834 and 8 February 1839'],
    ['a day that needs its style', '1712-03-01', '1712-03-01', '1 March 1712 N.S.'],
    ['years of three figures stay as they are', '0950-01-01', '0951-12-31', '0950-01-01/0951-12-31'],
  ])('%s', (_rule, from, to, text) => expect(words().span({ from, to })).toBe(text));

  test('closed spans have the words that the answers have', () => {
    const day = fc.integer({ min: gregorianDay(1500, 1, 1), max: gregorianDay(1990, 1, 1) });
    const years = fc
      .integer({ min: 1500, max: 1990 })
      .chain((from) => fc.tuple(fc.constant(from), fc.integer({ min: from, max: from + 120 })));
    const check = (from: number, until: number) => {
      const span = { from: from as Day, until: until as Day };
      // The two differ in one thing: days of one month or year are not drawn together.
      const expected = phrase(span);
      if (/^\d+–\d+ |between \d+ [A-Z][a-z]+ and/.test(expected)) return;
      expect(words().span(spanInAnswer(span))).toBe(expected);
    };
    fc.assert(
      fc.property(day, fc.integer({ min: 1, max: 9000 }), (from, length) => check(from, from + length)),
      { seed: 1, numRuns: 300 },
    );
    fc.assert(
      fc.property(years, ([first, last]) => check(gregorianDay(first, 1, 1), gregorianDay(last + 1, 1, 1))),
      { seed: 2, numRuns: 300 },
    );
  });
});

describe('the form of a day', () => {
  test.each<[form: Style['dates'], text: string]>([
    ['day-month-year', '1 July 1881'],
    ['month-day-year', 'July 1, 1881'],
    ['numeric', '1.7.1881'],
    ['iso', '1881-07-01'],
  ])('%s', (dates, text) => expect(words({ dates }).day('1881-07-01')).toBe(text));
});

describe('dates as they were recorded', () => {
  test.each<[recorded: string, text: string]>([
    ['1812', '1812'],
    ['c. 1801', 'c. 1801'],
    ['1834?', '1834?'],
    ['16 May 1834', '16 May 1834'],
    ['by 1834', 'before 1835'],
  ])('%s', (recorded, text) => {
    const date = saidDate(recorded);
    expect(date && words().said(date)).toBe(text);
  });
  test('in the house’s word for about', () => {
    const date = saidDate('circa 1801');
    expect(date && words({ circa: 'about' }).said(date)).toBe('about 1801');
  });
});

test('whole years hold the days', () => {
  expect(words().years({ from: '1831-05-16', to: '1835-02-01' })).toBe('1831–35');
  expect(words().years({ from: null, to: '1835-02-01' })).toBe('before 1836');
});
