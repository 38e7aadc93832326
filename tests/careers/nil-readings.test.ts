import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { nilReadings } from '../../src/careers/nil-readings.ts';
import { settleCareer } from '../../src/careers/solve.ts';
import { captain, condition, evidence, lieutenant, listed, notFound, notice } from './recorded.ts';

const told = (parts: Partial<CareerEvidence>): string[] =>
  nilReadings(settleCareer(evidence(parts), DEFAULTS)).map(({ id, reading, last, next }) =>
    [id, reading, last, next].filter((part) => part !== undefined).join(' '),
  );

const TWO = [listed('e1', 100, lieutenant), listed('e2', 300, captain)];

describe('how a nil search is read', () => {
  test.each<[rule: string, parts: Partial<CareerEvidence>, expected: readonly string[]]>([
    ['before the service', { entries: TWO, nilSearches: [notFound('q1', 50)] }, ['q1 before 0']],
    ['after it', { entries: TWO, nilSearches: [notFound('q1', 400)] }, ['q1 after 1']],
    ['in a break between two posts', { entries: TWO, nilSearches: [notFound('q1', 200)] }, ['q1 between 0 1']],
    [
      'left out by the printer',
      { entries: [listed('e1', 100, captain), listed('e2', 300, captain)], nilSearches: [notFound('q1', 200)] },
      ['q1 printer'],
    ],
    [
      'three in a row: likely a break',
      {
        entries: [listed('e1', 100, captain), listed('e2', 900, captain)],
        nilSearches: [notFound('q1', 300), notFound('q2', 400), notFound('q3', 500)],
      },
      ['q1 likely break', 'q2 likely break', 'q3 likely break'],
    ],
    [
      'in one of several gaps',
      {
        notices: [notice('n1', 'promoted', 100, { rank: captain, corps: '2nd Fencibles', last: 900 })],
        nilSearches: [notFound('q1', 400)],
      },
      ['q1 undecided'],
    ],
    [
      'of somebody unknown to that service',
      { entries: TWO, nilSearches: [notFound('q1', 200, { service: 'navy' })] },
      ['q1 no post'],
    ],
    [
      'contradicted by another search',
      {
        notices: [
          notice('n1', 'promoted', 100, { rank: captain, corps: '2nd Fencibles', last: 110 }),
          notice('n2', 'retired', 111, { rank: captain, corps: '2nd Fencibles', last: 121 }),
        ],
        conditions: [condition('c1', captain, 10)],
        nilSearches: [notFound('q1', 108), notFound('q2', 112)],
      },
      ['q1 before 0', 'q2 contradicted'],
    ],
  ])('%s', (_rule, parts, expected) => expect(told(parts)).toEqual(expected));
});
