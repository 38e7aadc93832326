import { describe, expect, test } from 'vitest';
import { DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import type { Passed } from '../../src/careers/boundaries.ts';
import { adultLife, styleKept } from '../../src/careers/life-membership.ts';
import { ALL_TIME, type Day } from '../../src/time/span.ts';

const yearly = (years: number) => 1 / (years * DAYS_PER_YEAR);
const at = (day: number) => day as Day;

describe('adultLife', () => {
  const life = adultLife(1000, 2000, ALL_TIME, DEFAULTS);

  test.each<[rule: string, day: number, chance: number]>([
    ['the first day known', 1000, 1],
    ['a day between', 1500, 1],
    ['the last day known', 2000, 1],
    ['before: a mean of 10 years', 700, Math.exp(-300 * yearly(10))],
    ['after: a mean of 20 years', 2700, Math.exp(-700 * yearly(20))],
  ])('%s', (_rule, day, chance) => expect(life.at(at(day))).toBeCloseTo(chance, 12));

  test('it is followed to where it is below one in a thousand million', () => {
    const { from, until } = life.support;
    expect(Math.exp((from - 1000) * yearly(10))).toBeGreaterThan(0.9e-9);
    expect(Math.exp((2000 - until) * yearly(20))).toBeLessThan(1.1e-9);
    expect([life.at(at(from - 1)), life.at(until)]).toEqual([0, 0]);
  });

  test.each<[rule: string, from: number, length: number]>([
    ['before it', -50_000, 10],
    ['its rise', 200, 500],
    ['its rise and fall', 900, 1200],
    ['its fall', 2500, 500],
    ['after it', 900_000, 10],
  ])('filling the days: %s', (_rule, from, length) => {
    const out = new Float64Array(length).fill(5);
    life.fill(out, at(from));
    out.forEach((chance, place) => {
      expect(chance).toBeCloseTo(life.at(at(from + place)), 12);
    });
  });
});

describe('styleKept', () => {
  /** The post ended on one of three days. */
  const ended: Passed = { first: 100, table: Float64Array.from([0.25, 0.5, 1]), ratioBefore: 0, ratioAfter: 0 };
  const day = Math.exp(-yearly(20)); // chance of living another day

  test.each<[rule: string, earliest: number, latest: number, chances: readonly number[]]>([
    ['death on a known day', 103, 103, [0, 0.25, 0.5, 1, 1, 0]],
    ['death on one of two days', 101, 102, [0, 0.25, 0.5, 0.5, 0, 0]],
    [
      'death unknown',
      -Infinity,
      Infinity,
      [0, 0.25, 0.25 + 0.25 * day, 0.5 + 0.25 * day + 0.25 * day ** 2].slice(0, 3),
    ],
    ['death after a day', 101, Infinity, [0, 0.25, 0.5, 0.5 + 0.5 * day, day * (0.5 + 0.5 * day)]],
    ['death before a day', -Infinity, 101, [0, 0.25, 0.25 + 0.25 * day, 0, 0]],
  ])('%s', (_rule, earliest, latest, chances) => {
    const kept = styleKept(() => ended, { earliest: at(earliest), latest: at(latest) }, DEFAULTS);
    chances.forEach((chance, place) => {
      expect(kept.at(at(99 + place))).toBeCloseTo(chance, 12);
    });
    const out = new Float64Array(chances.length);
    kept.fill(out, at(99));
    chances.forEach((chance, place) => {
      expect(out[place]).toBeCloseTo(chance, 12);
    });
  });

  test('an end of the post that is open as long as the style lasts', () => {
    const open: Passed = { first: 100, table: Float64Array.from([0.4]), ratioBefore: 0, ratioAfter: day };
    const kept = styleKept(() => open, { earliest: at(-Infinity), latest: at(Infinity) }, DEFAULTS);
    let chance = 0.4;
    for (let t = 101; t < 140; t++) {
      chance = chance * day + 0.6 * (1 - day) * day ** (t - 101);
      expect(kept.at(at(t))).toBeCloseTo(chance, 12);
    }
    expect(kept.at(kept.support.until)).toBe(0);
  });
});
