import { describe, expect, test } from 'vitest';
import { bearing, markDays, weigh } from '../../src/attribution/candidate.ts';
import { uniform } from '../../src/dating/density.ts';
import type { Day } from '../../src/time/span.ts';
import { candidate, form, post, slope, span } from './made-up.ts';

describe('the days of a mark', () => {
  test('days without weight at either end are left out, those between are not', () => {
    const weights = Float64Array.of(0, 0, 0.5, 0, 0.5, 1e-15, 0);
    expect(markDays({ from: 100 as Day, weights }).days).toEqual(span(102, 105));
  });

  test('one day alone', () =>
    expect(markDays({ from: 5 as Day, weights: Float64Array.of(1) }).days).toEqual(span(5, 6)));
});

describe('what a candidate weighs', () => {
  const held = post(slope(10, 20, 60, 80), { corpsBits: 6 });
  const brevet = post(slope(50, 70, 90, 99), { standing: 'brevet', rankBits: 1 });
  const both = candidate('p1', [held, brevet], { forms: [form(6), form(0, 2, span(30, 75))], placeBits: 4 });
  const mark = markDays(uniform(span(0, 100)));

  test('is the sum of what they bear on each day of the mark', () => {
    const borne = bearing(both, mark.days);
    const sum = borne.weights.reduce((all, weight) => all + weight / 100, 0);
    expect(weigh(both, mark).weight).toBeCloseTo(sum, 14);
    expect(borne.from).toBe(10);
    expect(borne.weights.length).toBe(89);
  });

  test('names the post and name that weigh most', () =>
    expect(weigh(both, mark).best).toEqual({
      standing: 'brevet',
      bits: { surname: 0, forenames: 2, rank: 1, corps: 0, place: 4 },
    }));

  test('nothing where there is no common day', () => {
    const later = candidate('p2', [post(slope(500, 510, 520, 530))]);
    expect(weigh(later, mark)).toEqual({ weight: 0, best: undefined });
    expect(bearing(later, mark.days).weights.length).toBe(0);
  });
});
