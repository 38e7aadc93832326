import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import { ANY_DAY, delayed } from '../../src/dating/delay.ts';
import { daysOf, totalOf, uniform } from '../../src/dating/density.ts';
import type { MarkRole } from '../../src/dating/mark-roles.ts';
import { type MarkClue, type MarkDating, markBetween, markDensity } from '../../src/dating/marking.ts';
import { type Day, NO_END, NO_START, type Span } from '../../src/time/span.ts';

const span = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });
const horizon = span(0, 1500);
const OWNER = [{ role: 'owner', weight: 1 }] as const;
const EITHER = [
  { role: 'owner', weight: 0.7 },
  { role: 'sale', weight: 0.3 },
] as const;
const mark = (role: MarkRole, stated?: Span, ...clues: MarkClue[]): MarkDating => ({
  id: 'm1',
  roles: [{ role, weight: 1 }],
  stated,
  clues,
});
const clue = (id: string, window: Span, rest: Partial<MarkClue> = {}): MarkClue => ({
  id,
  window,
  force: 'hard',
  weight: 'strong',
  recorded: Number(id.slice(1)),
  ...rest,
});

/** f(t) as the sum over every making, written out. */
function byTheRule(
  role: MarkRole,
  made: readonly number[],
  w: (t: number) => number,
  firstDayOfDate: number,
): number[] {
  const exponential = (k: number, years: number): number =>
    (1 - Math.exp(-1 / (years * DAYS_PER_YEAR))) * Math.exp(-k / (years * DAYS_PER_YEAR));
  const values = made.map((_, t) => {
    let sum = 0;
    for (let y = 0; y <= t; y += 1) {
      const k = t - y;
      let d = 1;
      if (role === 'maker' || role === 'retailer') d = exponential(k, 1);
      else if (role === 'owner') d = 0.6 * exponential(k, 3) + 0.4 * exponential(k, 40);
      else d = Math.exp(-(t - firstDayOfDate) / (40 * DAYS_PER_YEAR));
      sum += (made[y] ?? 0) * d;
    }
    return sum * w(t);
  });
  const total = values.reduce((a, b) => a + b, 0);
  return values.map((value) => value / total);
}

describe('when the mark was put on', () => {
  const roles: MarkRole[] = ['maker', 'retailer', 'owner', 'depository', 'carrier', 'sale', 'other'];

  test('agrees with the sum over every day, for every role', () =>
    fc.assert(
      fc.property(
        fc.constantFrom(...roles),
        fc.integer({ min: 0, max: 1400 }),
        fc.integer({ min: 1, max: 400 }),
        fc.integer({ min: 0, max: 1499 }),
        fc.integer({ min: 0, max: 600 }),
        (role, from, length, clueFrom, madeFrom) => {
          const stated = span(from, Math.min(from + length, 1500));
          fc.pre(madeFrom < stated.until);
          const usual = clue('c1', span(clueFrom, 1500), { force: 'usual', weight: 'moderate' });
          const making = uniform(horizon);
          making.weights.fill(0, 0, madeFrom);
          const shoulder = 5 * DAYS_PER_YEAR;
          const w = (t: number): number => {
            if (t < stated.from || t >= stated.until) return 0;
            return t >= clueFrom ? 1 : 1 - (0.9 * (clueFrom - t)) / shoulder;
          };
          const expected = byTheRule(role, [...making.weights], w, stated.from);
          const { weights } = markDensity(mark(role, stated, usual), making, DEFAULTS).density;
          let worst = 0;
          for (const [t, value] of expected.entries())
            worst = Math.max(worst, Math.abs(value - (weights[t] ?? Number.NaN)));
          expect(worst).toBeLessThan(1e-12);
        },
      ),
      { seed: 21, numRuns: 40 },
    ));

  const early = uniform(horizon);
  early.weights.fill(0, 100);

  test.each<[rule: string, given: MarkDating, windowIs: string, window: Span]>([
    [
      '1. a stated date closed on both sides is the window shown',
      mark('owner', span(300, 400)),
      'stated',
      span(300, 400),
    ],
    ['2. a date open at the end: the shortest 95 %', mark('sale', span(300, NO_END)), 'reckoned', span(300, 1438)],
    [
      '3. a hard clue alone is not a stated date',
      mark('sale', undefined, clue('c1', span(300, 500))),
      'reckoned',
      span(300, 490),
    ],
  ])('%s', (_rule, given, windowIs, window) => {
    const marking = markDensity(given, early, DEFAULTS);
    expect(marking.windowIs).toBe(windowIs);
    expect(marking.window).toEqual(window);
  });

  test('a clue that excludes the stated date is set aside and told', () => {
    const marking = markDensity(mark('owner', span(300, 400), clue('c1', span(NO_START, 200))), early, DEFAULTS);
    expect(marking.conflicts).toEqual([{ members: ['m1', 'c1'], setAside: ['c1'] }]);
    expect(marking.own[350]).toBe(1);
  });

  test('a mark dated before the object can have been made keeps its own date, and says so', () => {
    const late = uniform(horizon);
    late.weights.fill(0, 0, 800);
    const marking = markDensity(mark('owner', span(300, 400)), late, DEFAULTS);
    expect(marking.beforeMaking).toBe(true);
    expect(marking.density.weights[350]).toBeCloseTo(0.01, 12);
    expect(marking.roles.map(({ law }) => law)).toEqual([ANY_DAY]);
  });

  test('of several roles the mean by their weights, each by itself adding up to 1', () => {
    const either = { ...mark('owner', span(300, NO_END)), roles: [...EITHER] } as MarkDating;
    const marking = markDensity(either, early, DEFAULTS);
    const [owner, sale] = [mark('owner', span(300, NO_END)), mark('sale', span(300, NO_END))].map(
      (one) => markDensity(one, early, DEFAULTS).density.weights,
    );
    for (let t = 0; t < 1500; t += 1)
      expect(marking.density.weights[t]).toBeCloseTo(0.7 * (owner?.[t] ?? 0) + 0.3 * (sale?.[t] ?? 0), 14);
    for (const { law, weight } of marking.roles) {
      const days = delayed(early.weights, law).map((value, t) => value * (marking.own[t] ?? 0));
      expect(totalOf(days)).toBeCloseTo(weight, 12);
    }
  });

  test('a role that a mark of its date cannot have leaves its weight to the others', () => {
    const shortly = { ...DEFAULTS, values: { ...DEFAULTS.values, 'delay.trade': 1e-3 } };
    const either = {
      ...mark('owner', span(1400, NO_END)),
      roles: [
        { role: 'maker', weight: 0.5 },
        { role: 'owner', weight: 0.5 },
      ],
    } as MarkDating;
    const first = uniform(horizon);
    first.weights.fill(0, 1);
    const marking = markDensity(either, first, shortly);
    expect(marking.roles.map(({ role }) => role)).toEqual(['owner']);
    expect(totalOf(marking.density.weights)).toBeCloseTo(1, 12);
  });

  test('a span given with the question: every day alike', () => {
    const marking = markBetween(span(10, 20), OWNER, horizon, DEFAULTS);
    expect(marking?.window).toEqual(span(10, 20));
    expect(marking && daysOf(marking.density)).toEqual(span(10, 20));
    expect(marking?.density.weights[0]).toBeCloseTo(0.1, 12);
    expect(markBetween(span(2000, 2010), OWNER, horizon, DEFAULTS)).toBeUndefined();
  });
});
