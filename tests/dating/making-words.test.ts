import { describe, expect, test } from 'vitest';
import { byYear, makingInWords, makingPhrase, printedYears } from '../../src/dating/making-words.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import type { Day, Span } from '../../src/time/span.ts';

const years = (first: number, last: number): Span => ({
  from: gregorianDay(first, 1, 1),
  until: gregorianDay(last + 1, 1, 1),
});
const days = (a: readonly [number, number, number], b: readonly [number, number, number]): Span => ({
  from: gregorianDay(...a),
  until: (gregorianDay(...b) + 1) as Day,
});
const NONE = { start: false, end: false };

test.each<[rule: string, span: Span, open: typeof NONE, expected: string]>([
  ['1. nothing ends it: not determined', years(1600, 1959), { start: true, end: true }, 'date not determined'],
  ['2. the horizon alone ends it: open', years(1846, 1954), { start: false, end: true }, 'after 1845'],
  ['2. the horizon alone begins it: open', years(1605, 1850), { start: true, end: false }, 'before 1851'],
  ['3. whole years hold a reckoned span', days([1834, 3, 5], [1838, 2, 1]), NONE, '1834–38'],
  ['3. a span within one year is that year', days([1834, 3, 5], [1834, 9, 1]), NONE, '1834'],
  ['3. the last day of a year is inside it', days([1834, 12, 31], [1835, 12, 31]), NONE, '1834–35'],
])('%s', (_rule, span, open, expected) => expect(makingPhrase(printedYears(span, open))).toBe(expected));

describe('a density at the edge of its horizon', () => {
  const flat = (span: Span) => ({ from: span.from, weights: new Float64Array(span.until - span.from).fill(1) });
  test('is open there', () => expect(makingInWords(flat(years(1800, 1849)), []).phrase).toBe('date not determined'));
  test('is closed where evidence ends it', () =>
    expect(makingInWords(flat(years(1800, 1849)), [years(1700, 1849)]).phrase).toBe('before 1850'));
  test('half of an even density is half its days', () => {
    const { half, span } = makingInWords(flat(years(1800, 1899)), []);
    expect((half.until - half.from) / (span.until - span.from)).toBeCloseTo(0.5 / 0.95, 4);
  });
});

test('years share out the whole, the first and last cut by the horizon', () => {
  const span = days([1834, 7, 1], [1836, 1, 31]);
  const { firstYear, shares } = byYear({
    from: span.from,
    weights: new Float64Array(span.until - span.from).fill(1 / (span.until - span.from)),
  });
  expect(firstYear).toBe(1834);
  expect(shares).toHaveLength(3);
  expect(shares.reduce((a, b) => a + b)).toBeCloseTo(1, 9);
  expect((shares[1] ?? 0) / (shares[2] ?? 1)).toBeCloseTo(365 / 31, 9);
});
