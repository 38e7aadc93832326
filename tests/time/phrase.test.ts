import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gregorianDay } from '../../src/time/calendar.ts';
import { longDay, phrase } from '../../src/time/phrase.ts';
import { readDate } from '../../src/time/read-date.ts';
import { ALL_TIME, type Day, NO_END, NO_START, type Span, spanThrough } from '../../src/time/span.ts';

type Ymd = readonly [year: number, month: number, day: number];
const days = (first: Ymd, last: Ymd): Span => spanThrough(gregorianDay(...first), gregorianDay(...last));

describe('phrase', () => {
  test.each<[rule: string, span: Span, wording: string]>([
    ['open on both sides', ALL_TIME, 'at any time'],
    ['open at the end, from a first of January', { from: gregorianDay(1834, 1, 1), until: NO_END }, 'after 1833'],
    ['open at the end, from a first of the month', { from: gregorianDay(1834, 5, 1), until: NO_END }, 'from May 1834'],
    ['open at the end, from a day', { from: gregorianDay(1834, 5, 16), until: NO_END }, 'from 16 May 1834'],
    ['open at the start, to a year', { from: NO_START, until: gregorianDay(1834, 1, 1) }, 'before 1834'],
    ['open at the start, to a day', { from: NO_START, until: gregorianDay(1834, 5, 16) }, 'before 16 May 1834'],
    ['one day', days([1834, 5, 16], [1834, 5, 16]), '16 May 1834'],
    ['one day in Old Style times', days([1700, 5, 16], [1700, 5, 16]), '16 May 1700 N.S.'],
    ['one month', days([1834, 5, 1], [1834, 5, 31]), 'May 1834'],
    ['January', days([1834, 1, 1], [1834, 1, 31]), 'January 1834'],
    ['one year', days([1834, 1, 1], [1834, 12, 31]), '1834'],
    ['one decade', days([1830, 1, 1], [1839, 12, 31]), 'the 1830s'],
    ['one century', days([1800, 1, 1], [1899, 12, 31]), 'the 19th century'],
    ['years of one century', days([1834, 1, 1], [1836, 12, 31]), '1834–36'],
    ['years of two centuries', days([1898, 1, 1], [1902, 12, 31]), '1898–1902'],
    ['days of one month', days([1834, 5, 3], [1834, 5, 8]), '3–8 May 1834'],
    ['months of one year', days([1834, 5, 1], [1834, 7, 31]), 'May–July 1834'],
    ['days of one year', days([1834, 5, 3], [1834, 7, 8]), 'between 3 May and 8 July 1834'],
    ['days of two years', days([1834, 5, 3], [1839, 2, 8]), 'between 3 May 1834 and 8 February 1839'],
    ['a year to a day', days([1834, 1, 1], [1836, 5, 16]), 'between 1834 and 16 May 1836'],
    ['years before 1000', days([44, 3, 15], [814, 1, 28]), '0044-03-15/0814-01-28'],
  ])('%s', (_rule, span, wording) => {
    expect(phrase(span)).toBe(wording);
    expect(readDate(wording).span).toEqual(span);
  });

  test('a wording read again gives the same span, 10,000 times', () => {
    const [least, most] = [gregorianDay(-200, 1, 1), gregorianDay(10_500, 1, 1)];
    const anyDay = fc.oneof(
      fc.integer({ min: gregorianDay(1500, 1, 1), max: gregorianDay(2000, 1, 1) }),
      fc.integer({ min: least, max: most }),
      fc
        .tuple(fc.integer({ min: -9, max: 10_400 }), fc.integer({ min: 1, max: 12 }))
        .map(([y, m]) => gregorianDay(y, m, 1)),
      fc
        .tuple(fc.integer({ min: 1500, max: 2000 }), fc.constantFrom(1, 2, 3, 12))
        .map(([y, m]) => gregorianDay(y, m, 1)),
      fc.integer({ min: 90, max: 250 }).map((decade) => gregorianDay(decade * 10, 1, 1)),
    ) as fc.Arbitrary<Day>;
    const length = fc.oneof(
      fc.integer({ min: 1, max: 40 }),
      fc.integer({ min: 1, max: 40_000 }),
      fc.constantFrom(365, 366),
    );
    const span = fc.oneof(
      fc
        .tuple(anyDay, anyDay)
        .filter(([a, b]) => a !== b)
        .map(([a, b]): Span => ({ from: Math.min(a, b) as Day, until: Math.max(a, b) as Day })),
      fc.tuple(anyDay, length).map(([from, more]): Span => ({ from, until: (from + more) as Day })),
      anyDay.map((from): Span => ({ from, until: NO_END })),
      anyDay.map((until): Span => ({ from: NO_START, until })),
    );
    fc.assert(
      fc.property(span, (one) => {
        expect(readDate(phrase(one)).span).toEqual(one);
      }),
      { numRuns: 10_000, seed: 1834 },
    );
  });
});

test('longDay: the day, the month in full and the year', () => {
  expect(longDay(gregorianDay(1834, 5, 16))).toBe('16 May 1834');
  expect(longDay(gregorianDay(1752, 9, 13))).toBe('13 September 1752 N.S.');
});
