import { describe, expect, test } from 'vitest';
import {
  ALL_TIME,
  type Day,
  daysIn,
  intersection,
  isClosed,
  lastDay,
  type Span,
  spanThrough,
} from '../../src/time/span.ts';

const span = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });

describe('what two spans share', () => {
  test.each<[rule: string, a: Span, b: Span, shared: Span | undefined]>([
    ['one inside the other', span(0, 9), span(2, 4), span(2, 4)],
    ['overlapping', span(0, 4), span(2, 9), span(2, 4)],
    ['meeting is not sharing', span(0, 4), span(4, 9), undefined],
    ['apart', span(0, 2), span(4, 9), undefined],
    ['an open side', ALL_TIME, span(4, 9), span(4, 9)],
  ])('%s', (_rule, a, b, shared) => {
    expect(intersection(a, b)).toEqual(shared);
    expect(intersection(b, a)).toEqual(shared);
  });
});

test('both days of a span are inside it', () => {
  const two = spanThrough(3 as Day, 4 as Day);
  expect([two.from, lastDay(two), daysIn(two)]).toEqual([3, 4, 2]);
  expect([isClosed(two), isClosed(ALL_TIME), daysIn(ALL_TIME)]).toEqual([true, false, Infinity]);
});
