import { describe, expect, test } from 'vitest';
import { markDays } from '../../src/attribution/candidate.ts';
import { type Borne, fewDays, nearness, weightIfListed, weightOf } from '../../src/attribution/lookup-estimate.ts';
import { uniform } from '../../src/dating/density.ts';
import { span } from './made-up.ts';

const few = fewDays(markDays(uniform(span(0, 10_000))));
/** Begins on any day of the first span alike, ends on any of the second. */
const stretch = (b0: number, b1: number, e0: number, e1: number) => ({
  begun: (day: number) => Math.min(1, Math.max(0, (day - b0) / (b1 - b0))),
  ended: (day: number) => Math.min(1, Math.max(0, (day - e0) / (e1 - e0))),
});
const own: Borne = { ...stretch(1000, 3000, 5000, 9000), succession: 0, place: 1, factor: 0.5, factorIfSeen: 0.5 };
const listed = (place: number, given: ReturnType<typeof stretch>, succession = 0) => ({ ...given, succession, place });

test('a few days hold all of the weight', () => {
  expect(few.weight.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
  expect(few.day.length).toBeLessThanOrEqual(240);
  expect(few.day.every(Number.isInteger)).toBe(true);
  // Half of 2,000 days on the way in, 2,000 certain, half of 4,000 on the way out.
  expect(weightOf([own], few)).toBeCloseTo(0.5 * 0.5, 3);
});

describe('if a list shows him', () => {
  const on = (day: number, at: Parameters<typeof weightIfListed>[1]) => weightIfListed([own], at, day, few);
  test('1. in the post itself: it had begun by then, and had not ended', () => {
    expect(on(7000, listed(1, own))).toBeCloseTo(0.5 * (0.1 + 0.4 + 0.1), 3);
    expect(on(2000, listed(1, own))).toBeCloseTo(0.5 * (0.05 + 0.3 + 0.2), 3);
  });
  test('2. in the post after it: it had ended by then', () =>
    expect(on(7000, listed(2, stretch(5000, 9000, 9500, 9600)))).toBeCloseTo(0.5 * (0.1 + 0.2 + 0.1), 3));
  test('3. in the post before it: it had not begun', () =>
    expect(on(2000, listed(0, stretch(0, 1, 1000, 3000)))).toBeCloseTo(0.5 * (0.05 + 0.2 + 0.2), 3));
  test('a post that was only implied counts in full once it has been seen', () => {
    const implied = { ...own, factor: 0.25 };
    expect(weightIfListed([implied], listed(1, own), 7000, few)).toBeCloseTo(on(7000, listed(1, own)), 12);
    expect(weightIfListed([implied], listed(1, own, 1), 7000, few)).toBeCloseTo(weightOf([own], few) / 2, 12);
  });
  test('4. in another succession: nothing is changed', () =>
    expect(on(7000, listed(1, own, 1))).toBeCloseTo(weightOf([own], few), 12));
  test('whatever is shown, on the whole it weighs what it did', () => {
    const day = 7000;
    const chance = own.begun(day) * (1 - own.ended(day));
    const after = listed(2, stretch(5000, 9000, 9999, 10_000));
    const left = 1 - chance;
    expect(chance * on(day, listed(1, own)) + left * on(day, after)).toBeCloseTo(weightOf([own], few), 3);
  });
});

test('nearness is the sum over all days, each by its distance', () => {
  const weights = Float64Array.from([0.1, 0, 0.4, 0.5]);
  const slow = [0, 1, 2, 3].map((day) => weights.reduce((sum, w, t) => sum + w * Math.exp(-Math.abs(t - day) / 2), 0));
  expect([...nearness({ from: span(0, 4).from, weights }, 2, 2)].map((value) => value.toFixed(12))).toEqual(
    slow.map((value) => value.toFixed(12)),
  );
});
