import { describe, expect, test } from 'vitest';
import { type Assumptions, DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import { courtesyTenure, impliedBelow, lifeTenure } from '../../src/careers/candidate-tenures.ts';
import type { Career, Membership } from '../../src/careers/career.ts';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { memberships, type PostMembership } from '../../src/careers/membership.ts';
import { solveCareer } from '../../src/careers/solve.ts';
import type { Day } from '../../src/time/span.ts';
import {
  captain,
  captainLieutenant,
  date,
  day,
  ensign,
  evidence,
  lieutenant,
  life,
  listed,
  MAIN_STEPS,
  notice,
  office,
  type Written,
} from './recorded.ts';

const solve = (parts: Partial<CareerEvidence>): Career => solveCareer(evidence(parts), DEFAULTS);
const yearly = (years: number) => 1 / (years * DAYS_PER_YEAR);

/** Filling must say the same as asking. */
function expectFilled(membership: Membership, from: Written, days: number): void {
  const out = new Float64Array(days).fill(9);
  membership.fill(out, day(from));
  for (let at = 0; at < days; at += 7) expect(out[at]).toBeCloseTo(membership.at((day(from) + at) as Day), 12);
}

describe('the rank just below the first known one', () => {
  test.each<[rule: string, parts: Partial<CareerEvidence>, ranks: readonly string[]]>([
    ['of a captain it is lieutenant', { entries: [listed('e1', '1840-01-01', captain)] }, ['lieutenant']],
    [
      'main steps only: of a captain-lieutenant too',
      { entries: [listed('e1', '1800-01-01', captainLieutenant)] },
      ['lieutenant'],
    ],
    ['the lowest step has none below it', { entries: [listed('e1', '1840-01-01', ensign)] }, []],
    ['a service without a ladder has none', { entries: [listed('e1', '1840-01-01', office('warden'))] }, []],
    ['a concurrent appointment has none', { entries: [listed('e1', '1840-01-01', captain, { kind: 'brevet' })] }, []],
    [
      'only the first known rank has one',
      { entries: [listed('e1', '1840-01-01', lieutenant), listed('e2', '1845-01-01', captain)] },
      ['ensign'],
    ],
    [
      'none where its holder was not of age',
      { entries: [listed('e1', '1822-01-01', captain)], born: life('p1', '1812-01-01') },
      [],
    ],
  ])('%s', (_rule, parts, ranks) => {
    expect(impliedBelow(solve(parts), MAIN_STEPS, DEFAULTS).map(({ rank }) => rank?.id)).toEqual(ranks);
  });

  test('it ends where the first known tenure starts', () => {
    const career = solve({ entries: [listed('e1', '1840-01-01', captain, { dated: date('1839-02-08') })] });
    const [below] = impliedBelow(career, MAIN_STEPS, DEFAULTS);
    expect(below?.possible).toEqual({ from: -Infinity, until: day('1839-02-08') });
    expect(below?.certain).toEqual({ from: day('1839-02-07'), until: day('1839-02-08') });
    const at = (t: Written) => below?.membership.at(day(t)) ?? Number.NaN;
    expect(at('1839-02-07')).toBe(1);
    expect(at('1839-02-08')).toBe(0);
    const days = day('1839-02-07') - day('1831-02-07');
    expect(at('1831-02-07')).toBeCloseTo(Math.exp(-days * yearly(8)), 12);
  });

  test('it begins at the earliest at birth and the minimum age, each start with its weight', () => {
    const career = solve({
      entries: [listed('e1', '1840-01-01', captain, { dated: date('1839-01-02', '1839-01-03') })],
      born: life('p1', '1828-12-31'),
    });
    const [below] = impliedBelow(career, MAIN_STEPS, DEFAULTS);
    expect(below?.possible).toEqual({ from: day('1838-12-31'), until: day('1839-01-03') });
    // Starts on 31 Dec., 1 Jan. or (for the later end only) 2 Jan.; with e the end: 2 Jan. or 3 Jan.
    const r = Math.exp(-yearly(8));
    // The captaincy that follows is a day shorter where it starts a day later.
    const careers = [
      { start: 0, end: 2, weight: r ** 2 * r },
      { start: 1, end: 2, weight: r * r },
      { start: 0, end: 3, weight: r ** 3 },
      { start: 1, end: 3, weight: r ** 2 },
      { start: 2, end: 3, weight: r },
    ];
    const whole = careers.reduce((sum, { weight }) => sum + weight, 0);
    for (const t of [-1, 0, 1, 2, 3]) {
      const share =
        careers.reduce((sum, { start, end, weight }) => (start <= t && t < end ? sum + weight : sum), 0) / whole;
      expect(below?.membership.at((day('1838-12-31') + t) as Day)).toBeCloseTo(share, 12);
    }
  });
});

describe('a style kept as a courtesy', () => {
  const post = { entries: [listed('e1', '1840-01-01', captain)] };
  const left = { ...post, notices: [notice('n1', 'retired', '1850-06-01', { rank: captain, corps: '2nd Fencibles' })] };
  const courtesy = (career: Career, given: Assumptions = DEFAULTS) =>
    courtesyTenure(career, 0, memberships(career, given)[0] as PostMembership, given);

  test('with both days known it is certain from one to the other, the day of death included', () => {
    const kept = courtesy(solve({ ...left, died: life('p1', '1871-03-04') }));
    expect(kept?.certain).toEqual({ from: day('1850-06-01'), until: day('1871-03-05') });
    const days = ['1850-05-31', '1850-06-01', '1860-01-01', '1871-03-04', '1871-03-05'].map((t) =>
      kept?.membership.at(day(t)),
    );
    expect(days).toEqual([0, 1, 1, 1, 0]);
  });

  test('a death known to the year is as likely on each of its days', () => {
    const kept = courtesy(solve({ ...left, died: life('p1', '1871-01-01', '1871-12-31') }));
    expect(kept?.membership.at(day('1871-01-01'))).toBe(1);
    expect(kept?.membership.at(day('1871-07-02'))).toBeCloseTo(183 / 365, 12);
    expect(kept?.membership.at(day('1871-12-31'))).toBeCloseTo(1 / 365, 12);
    expect(kept?.membership.at(day('1872-01-01'))).toBe(0);
    expectFilled(kept?.membership as Membership, '1849-01-01', 9000);
  });

  test('without a day of death it is kept for 20 years in the mean', () => {
    const kept = courtesy(solve(left));
    const days = day('1880-06-01') - day('1850-06-01');
    expect(kept?.membership.at(day('1850-06-01'))).toBe(1);
    expect(kept?.membership.at(day('1880-06-01'))).toBeCloseTo(Math.exp(-days * yearly(20)), 12);
    expectFilled(kept?.membership as Membership, '1849-01-01', 60_000);
  });

  test('a death "after" a day leaves life certain until it', () => {
    const kept = courtesy(solve({ ...left, died: life('p1', '1861-01-01', Infinity) }));
    expect(kept?.membership.at(day('1861-01-01'))).toBe(1);
    const days = day('1881-01-01') - day('1861-01-01');
    expect(kept?.membership.at(day('1881-01-01'))).toBeCloseTo(Math.exp(-days * yearly(20)), 12);
    expectFilled(kept?.membership as Membership, '1849-01-01', 30_000);
  });

  test.each<[rule: string, courtesyYears: number, died: CareerEvidence['died']]>([
    ['nothing known of the death', 20, undefined],
    ['the style and the post equally lasting', 8, undefined],
    ['a death after a day', 20, life('p1', '1852-01-01', Infinity)],
    ['a death before a day', 20, life('p1', -Infinity, '1862-01-01')],
  ])('where the end of the post is open, it is the sum over all ends: %s', (_rule, years, died) => {
    const given = { ...DEFAULTS, values: { ...DEFAULTS.values, 'courtesy.mean': years } };
    const career = solve({ ...post, died });
    const kept = courtesy(career, given)?.membership as Membership;
    const { end } = (memberships(career, given)[0] as PostMembership).boundaries();
    const inPost = memberships(career, given)[0] as PostMembership;
    expect(end.ratioAfter > 0).toBe(died === undefined || died.date.span.until === Infinity);
    const aliveFrom = died?.date.span.from ?? -Infinity;
    const until = died?.date.span.until ?? Infinity;
    for (const t of ['1840-01-02', '1845-01-01', '1853-01-01', '1861-12-31', '1875-01-01'].map(day)) {
      let sum = 0;
      for (let e = day('1840-01-02'); e <= t; e++) {
        const ends = inPost.at((e - 1) as Day) - inPost.at(e as Day); // in post the day before, and no longer
        sum += ends * Math.exp(-Math.max(0, t - Math.max(e, aliveFrom)) * yearly(years));
      }
      expect(kept.at(t)).toBeCloseTo(t < until ? sum : 0, 9);
    }
    expectFilled(kept, '1835-01-01', 50_000);
  });

  test('there is none for one who must have died in post', () => {
    const career = solve({ ...post, died: life('p1', '1840-01-01') });
    expect(courtesy(career)).toBeUndefined();
  });
});

describe('adult life', () => {
  test('it is certain between the first and the last day known in post, and falls off on both sides', () => {
    const career = solve({ entries: [listed('e1', '1834-01-01', lieutenant), listed('e2', '1846-01-01', captain)] });
    const adult = lifeTenure(career, DEFAULTS);
    expect(adult?.certain).toEqual({ from: day('1834-01-01'), until: day('1846-01-02') });
    const at = (t: Written) => adult?.membership.at(day(t)) ?? Number.NaN;
    expect([at('1834-01-01'), at('1840-01-01'), at('1846-01-01')]).toEqual([1, 1, 1]);
    expect(at('1824-01-01')).toBeCloseTo(Math.exp(-3653 * yearly(10)), 12);
    expect(at('1866-01-01')).toBeCloseTo(Math.exp(-7305 * yearly(20)), 12);
    expectFilled(adult?.membership as Membership, '1790-01-01', 60_000);
  });

  test('it is cut off at the minimum age and at death', () => {
    const career = solve({
      entries: [listed('e1', '1834-01-01', lieutenant)],
      born: life('p1', '1812-02-29'),
      died: life('p1', '1850-01-01'),
    });
    const adult = lifeTenure(career, DEFAULTS);
    expect(adult?.possible).toEqual({ from: day('1822-02-28'), until: day('1850-01-02') });
    const days = ['1822-02-27', '1850-01-02'].map((t) => adult?.membership.at(day(t)));
    expect(days).toEqual([0, 0]);
    expect(adult?.membership.at(day('1822-02-28'))).toBeGreaterThan(0.3);
    expectFilled(adult?.membership as Membership, '1815-01-01', 15_000);
  });

  test.each<[rule: string, parts: Partial<CareerEvidence>, certainOn: Written | undefined]>([
    ['nothing known', {}, undefined],
    ['only a birth', { born: life('p1', '1812-01-01') }, '1822-01-01'],
    ['only a death', { died: life('p1', '1871-01-01') }, '1871-01-01'],
    ['birth and death', { born: life('p1', '1812-01-01'), died: life('p1', '1871-01-01') }, '1850-01-01'],
  ])('without a post: %s', (_rule, parts, certainOn) => {
    const adult = lifeTenure(solve(parts), DEFAULTS);
    expect(certainOn === undefined ? adult : adult?.membership.at(day(certainOn))).toBe(
      certainOn === undefined ? undefined : 1,
    );
  });
});
