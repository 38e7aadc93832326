import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { BOUNDS, type BoundName, boundReasons } from '../../src/careers/bound-reasons.ts';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { settleCareer, solveCareer } from '../../src/careers/solve.ts';
import { captain, condition, date, evidence, lieutenant, listed, notFound, notice } from './recorded.ts';

/** Steps as "post side day: reason". */
function told(parts: Partial<CareerEvidence>, slot: number, bound: BoundName): string[] {
  return boundReasons(settleCareer(evidence(parts), DEFAULTS), slot, bound).map(
    ({ slot: post, side, day, by }) =>
      `${post} ${side} ${day}: ${'rule' in by ? by.rule : `${by.claim.id} ${by.claim.part}`}`,
  );
}

const ENTRIES = [listed('e1', 100, lieutenant), listed('e2', 300, captain, { dated: date(250) })];

describe('why a bound is what it is', () => {
  test.each<
    [rule: string, parts: Partial<CareerEvidence>, slot: number, bound: BoundName, expected: readonly string[]]
  >([
    ['by a claim alone', { entries: ENTRIES }, 1, 'startLatest', ['1 start 250: e2 dated']],
    [
      'by the post after it, whose start is its end',
      { entries: ENTRIES },
      0,
      'endLatest',
      ['0 end 250: follows', '1 start 250: e2 dated'],
    ],
    ['at the earliest too', { entries: ENTRIES }, 0, 'endEarliest', ['0 end 250: touches', '1 start 250: e2 dated']],
    [
      'by a post that lasts a day at least',
      {
        entries: [listed('e1', 100, lieutenant)],
        notices: [notice('n1', 'promoted', 50, { rank: captain, corps: '2nd Fencibles' })],
      },
      0,
      'startLatest',
      ['0 start 49: lasts', '0 end 50: follows', '1 start 50: n1 start'],
    ],
    ['not at all', { entries: ENTRIES }, 1, 'endLatest', []],
    [
      'by a condition of service, and what it counts from',
      { entries: ENTRIES, conditions: [condition('c1', captain, 700)] },
      1,
      'endEarliest',
      ['1 end 950: c1 condition', '1 start 250: e2 dated'],
    ],
    [
      'by a nil search that lies between two posts',
      {
        entries: [listed('e1', 100, lieutenant), listed('e2', 300, captain)],
        nilSearches: [notFound('q1', 200)],
      },
      1,
      'startEarliest',
      ['1 start 201: q1 nil'],
    ],
  ])('%s', (_rule, parts, slot, bound, expected) => expect(told(parts, slot, bound)).toEqual(expected));

  test('the first step is the bound, and the records are its grounds', () => {
    const parts = { entries: ENTRIES, conditions: [condition('c1', captain, 700)] };
    const career = solveCareer(evidence(parts), DEFAULTS);
    const settled = settleCareer(evidence(parts), DEFAULTS);
    for (const { index, start, end, grounds } of career.tenures) {
      const days = [start.earliest, start.latest, end.earliest, end.latest];
      for (const [at, bound] of BOUNDS.entries()) {
        const reasons = boundReasons(settled, index, bound);
        if (reasons[0]) expect(reasons[0].day).toBe(days[at]);
        else expect(Number.isFinite(days[at])).toBe(false);
        const ids = reasons.flatMap(({ by }) => ('claim' in by ? [by.claim.id] : []));
        expect([...new Set(ids)].sort()).toEqual([...grounds[bound]].sort());
      }
    }
  });
});
