import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addInto,
  cumulative,
  type Density,
  daysOf,
  multiplyInto,
  normalised,
  roomFor,
  scaleBy,
  shortestSpan,
  shortestSpans,
  stretched,
  sumOfProducts,
  uniform,
  within,
} from '../../src/dating/density.ts';
import { type Day, NO_END, NO_START, type Span } from '../../src/time/span.ts';

const span = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });
const density = (...weights: number[]): Density => ({ from: 100 as Day, weights: Float64Array.from(weights) });

/** Every span of days tried, shortest first, then earliest. */
function shortestByTrial({ from, weights }: Density, share: number): Span | undefined {
  const total = weights.reduce((a, b) => a + b, 0);
  for (let length = 1; length <= weights.length; length += 1) {
    for (let start = 0; start + length <= weights.length; start += 1) {
      const held = weights.slice(start, start + length).reduce((a, b) => a + b, 0);
      if (total > 0 && held >= share * total * (1 - 1e-11)) return span(from + start, from + start + length);
    }
  }
  return undefined;
}

describe('the shortest span', () => {
  test.each<[rule: string, given: Density, share: number, expected: Span | undefined]>([
    ['one day holds all', density(0, 0, 1, 0), 0.95, span(102, 103)],
    ['of spans equally short the earliest', density(1, 1, 1, 1), 0.5, span(100, 102)],
    ['it need not begin at the start', density(1, 5, 5, 1), 0.8, span(101, 103)],
    ['days without weight between two that are needed', density(1, 0, 1), 0.95, span(100, 103)],
    ['a share of 1 leaves out days without weight', density(0, 2, 3, 0), 1, span(101, 103)],
    ['no weight at all', density(0, 0), 0.95, undefined],
  ])('%s', (_rule, given, share, expected) => expect(shortestSpan(given, share)).toEqual(expected));

  test('agrees with a trial of every span', () =>
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 25 }),
        fc.constantFrom(0.5, 0.8, 0.95, 1),
        (weights, share) => {
          const given = density(...weights);
          expect(shortestSpan(given, share)).toEqual(shortestByTrial(given, share));
        },
      ),
      { seed: 7, numRuns: 300 },
    ));

  test('100,000 equal days: rounding does not shift it', () =>
    expect(shortestSpan(uniform(span(0, 100_000)), 0.95)).toEqual(span(0, 95_000)));
});

test('normalised weights add up to 1, and nothing cannot be normalised', () => {
  expect(normalised(density(1, 3))?.weights).toEqual(Float64Array.of(0.25, 0.75));
  expect(normalised(density(0, 0))).toBeUndefined();
});

test('cumulative sums stand before each day', () =>
  expect(cumulative(Float64Array.of(1, 2, 3))).toEqual(Float64Array.of(0, 1, 3, 6)));

test('loops over days', () => {
  const weights = Float64Array.of(1, 2, 3);
  multiplyInto(weights, Float64Array.of(9, 2, 3, 4), 1);
  expect(weights).toEqual(Float64Array.of(2, 6, 12));
  addInto(weights, Float64Array.of(1, 1), 1);
  scaleBy(weights, 2);
  expect(weights).toEqual(Float64Array.of(4, 14, 26));
  expect(sumOfProducts(Float64Array.of(1, 10), weights, 1)).toBe(274);
});

test('several spans of one density are those of each share, whatever stood in the room before', () => {
  roomFor(9).fill(7);
  const one = density(1, 5, 9, 5, 1);
  expect(shortestSpans(one, [0.95, 0.5, 0.95])).toEqual([0.95, 0.5, 0.95].map((share) => shortestSpan(one, share)));
  expect(shortestSpan(one, 0.5)).toEqual(span(101, 103));
  expect(roomFor(3)).toHaveLength(3);
});

test('the days of a density', () => expect(daysOf(density(4, 5))).toEqual(span(100, 102)));

describe('the horizon', () => {
  test.each<[rule: string, toHold: Span[], expected: Span]>([
    ['stays where it holds everything', [span(10, 20)], span(0, 100)],
    ['reaches a later date', [span(90, 130)], span(0, 130)],
    ['reaches an earlier date', [span(-5, 3)], span(-5, 100)],
    ['reaches the known side of an open date', [span(150, NO_END)], span(0, 151)],
    ['reaches the known end of an open date', [span(NO_START, -7)], span(-8, 100)],
  ])('%s', (_rule, toHold, expected) => expect(stretched(span(0, 100), toHold)).toEqual(expected));

  test('cuts a span to itself', () => {
    expect(within(span(NO_START, 5), span(0, 100))).toEqual(span(0, 5));
    expect(within(span(100, 120), span(0, 100))).toBeUndefined();
  });
});
