import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Assumptions, DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { memberships } from '../../src/careers/membership.ts';
import { solveCareer } from '../../src/careers/solve.ts';
import type { Day } from '../../src/time/span.ts';
import { assignments, holds, type Statement, type Window } from './brute-force.ts';
import { captain, condition, date, day, evidence, lieutenant, life, listed, major, notice } from './recorded.ts';

/** Time in post so short that a few days from the evidence nothing weighs any more. */
const brief = (days: number, captains: number): Assumptions => ({
  ...DEFAULTS,
  values: { ...DEFAULTS.values, 'tenure.mean': days / DAYS_PER_YEAR },
  perRank: new Map([['tenure.mean.captain', captains / DAYS_PER_YEAR]]),
});

const WORLD: Window = [-10, 24];
const RANKS = [lieutenant, captain, major] as const;

const anyCareer = fc
  .record({
    posts: fc.integer({ min: 1, max: 2 }),
    lists: fc.array(fc.tuple(fc.nat(1), fc.integer({ min: 0, max: 6 }), fc.nat(3), fc.nat(1)), {
      minLength: 2,
      maxLength: 5,
    }),
    leaving: fc.option(fc.integer({ min: 4, max: 9 })),
    lasting: fc.option(fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 5, max: 9 }))),
  })
  .map(({ posts, lists, leaving, lasting }) => {
    const statements: Statement[] = lists.map(([post, first, more, lag]) => {
      const held = Math.min(post, posts - 1);
      const from = first + 7 * held;
      return { says: 'listed', post: held, asAt: [from, from + more], lag, weight: 3 };
    });
    for (let post = 0; post < posts; post++) {
      statements.push({ says: 'listed', post, asAt: [3 + 7 * post, 3 + 7 * post], lag: 0, weight: 3 });
    }
    if (leaving !== null) statements.push({ says: 'end', post: 0, in: [leaving, leaving + 2], weight: 6 });
    if (lasting !== null) statements.push({ says: 'lasts', post: 0, least: lasting[0], most: lasting[1], weight: 6 });
    return { posts, statements };
  });

function recordsOf(statements: readonly Statement[]): CareerEvidence {
  return evidence({
    entries: statements.flatMap((one, k) =>
      one.says === 'listed'
        ? [listed(`e${k}`, one.asAt[0], RANKS[one.post] ?? lieutenant, { last: one.asAt[1], lag: one.lag })]
        : [],
    ),
    notices: statements.flatMap((one, k) =>
      one.says === 'end'
        ? [notice(`n${k}`, 'retired', one.in[0], { last: one.in[1], rank: lieutenant, corps: '2nd Fencibles' })]
        : [],
    ),
    conditions: statements.flatMap((one, k) =>
      one.says === 'lasts' ? [condition(`c${k}`, lieutenant, one.least, one.most)] : [],
    ),
  });
}

describe('memberships', () => {
  test('the chance of each day is its share of the weight of all careers', () => {
    let tried = 0;
    fc.assert(
      fc.property(anyCareer, ({ posts, statements }) => {
        const assumptions = brief(0.6, 0.45);
        const career = solveCareer(recordsOf(statements), assumptions);
        fc.pre(career.conflicts.length === 0 && career.tenures.length === posts);
        tried++;
        const apart = [statements.some(({ says }) => says === 'end')].slice(0, posts - 1);
        const all = assignments({ posts, apart }, WORLD).filter((one) => statements.every((each) => holds(each, one)));
        const weights = all.map((one) =>
          one.reduce((weight, [start, end], post) => weight * Math.exp((start - end) / (post === 1 ? 0.45 : 0.6)), 1),
        );
        const whole = weights.reduce((sum, weight) => sum + weight, 0);
        memberships(career, assumptions).forEach((membership, post) => {
          for (let t = -2; t <= 18; t++) {
            const inPost = all.reduce((sum, one, k) => {
              const [start, end] = one[post] as readonly [number, number];
              return start <= t && t < end ? sum + (weights[k] as number) : sum;
            }, 0);
            expect(membership.at(t as Day)).toBeCloseTo(inPost / whole, 5);
          }
        });
      }),
      { seed: 41, numRuns: 250 },
    );
    expect(tried).toBeGreaterThan(100);
  });

  const ferrand = solveCareer(
    evidence({
      entries: [
        listed('e1', '1834-01-01', lieutenant, { dated: date('1833-05-16'), lag: 60 }),
        listed('e2', '1838-01-01', lieutenant, { lag: 60 }),
        listed('e3', '1840-01-01', captain, { lag: 60 }),
        listed('e4', '1847-01-01', captain, { lag: 60 }),
      ],
      born: life('p1', '1812-01-01', '1812-12-31'),
    }),
    DEFAULTS,
  );

  test('it is 1 on the certain days and 0 outside the possible ones', () => {
    memberships(ferrand, DEFAULTS).forEach((membership, index) => {
      const { certain, possible } = ferrand.tenures[index] ?? expect.unreachable();
      expect(certain).toBeDefined();
      for (let t = certain?.from ?? 0; t < (certain?.until ?? 0); t++) expect(membership.at(t as Day)).toBe(1);
      expect(membership.at((possible.from - 1) as Day)).toBe(0);
      if (Number.isFinite(possible.until)) expect(membership.at(possible.until)).toBe(0);
    });
  });

  test('between two posts that touch one is held or the other', () => {
    const [first, second] = memberships(ferrand, DEFAULTS);
    for (let t = day('1838-01-02'); t < day('1839-12-31'); t++) {
      expect((first?.at(t) ?? 0) + (second?.at(t) ?? 0)).toBeCloseTo(1, 12);
    }
  });

  test('on an open side it falls by exp(−1/τ) a day, τ 8 years', () => {
    const last = memberships(ferrand, DEFAULTS)[1] ?? expect.unreachable();
    const after = day('1848-01-01');
    const years = 8 * DAYS_PER_YEAR;
    expect(last.at((after + years) as Day) / last.at(after)).toBeCloseTo(Math.exp(-1), 9);
    expect(last.at(day('1846-11-02'))).toBe(1);
    expect(last.support.from).toBe(ferrand.tenures[1]?.start.earliest);
    expect(last.at((last.support.until - 1) as Day)).toBeGreaterThan(1e-9);
    expect(last.at(last.support.until)).toBe(0);
  });

  test('filling days is the same as asking for each', () => {
    for (const membership of memberships(ferrand, DEFAULTS)) {
      const out = new Float64Array(12_000).fill(7);
      const from = day('1825-01-01');
      membership.fill(out, from);
      for (let at = 0; at < out.length; at += 11) expect(out[at]).toBeCloseTo(membership.at((from + at) as Day), 12);
    }
  });

  test('a concurrent appointment stands alone', () => {
    const beside = solveCareer(
      evidence({
        entries: [
          listed('e1', '1834-01-01', captain),
          listed('e2', '1840-01-01', captain),
          listed('e3', '1838-01-01', major, { kind: 'brevet' }),
        ],
      }),
      DEFAULTS,
    );
    const alone = solveCareer(evidence({ entries: [listed('e3', '1838-01-01', major, { kind: 'brevet' })] }), DEFAULTS);
    expect(beside.chains.map(({ tenures }) => tenures)).toEqual([[0], [1]]);
    const [, brevet] = memberships(beside, DEFAULTS);
    const [same] = memberships(alone, DEFAULTS);
    for (const t of ['1835-01-01', '1838-01-01', '1845-01-01']) expect(brevet?.at(day(t))).toBe(same?.at(day(t)));
  });
});
