import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { findAppointments } from '../../src/careers/appointments.ts';
import { leavesGap, makeModel, makeNetwork, ofAge } from '../../src/careers/constraints.ts';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { FIXED } from '../../src/careers/network.ts';
import { captain, condition, date, day, evidence, lieutenant, life, listed, major, notice } from './recorded.ts';

function model(parts: Partial<CareerEvidence>) {
  const whole = evidence(parts);
  return makeModel(whole, findAppointments(whole), DEFAULTS);
}

const NAMES = ['0', 'S1', 'E1', 'S2', 'E2', 'S3', 'E3'];

/** Constraints as "x − y <= w", of claims only or of what always holds. */
function constraints(parts: Partial<CareerEvidence>, fixed: boolean): string[] {
  const made = model(parts);
  const { x, y, w, claim } = makeNetwork(made, new Uint8Array(made.positive.length), []);
  const told = w.map((length, k) => `${NAMES[x[k] as number]} − ${NAMES[y[k] as number]} <= ${length}`);
  return told.filter((_, k) => (claim[k] === FIXED) === fixed);
}

const ofCaptain = { rank: captain, corps: '2nd Fencibles' };

describe('constraints', () => {
  test.each<[rule: string, parts: Partial<CareerEvidence>, expected: readonly string[]]>([
    [
      'listed as at [p, q] with lag L: start <= q, end >= p − L + 1',
      { entries: [listed('e1', 100, captain, { last: 110, lag: 30 })] },
      ['S1 − 0 <= 110', '0 − E1 <= -71'],
    ],
    [
      'dated: within the date',
      { entries: [listed('e1', 100, captain, { dated: date(90, 95) })] },
      ['S1 − 0 <= 100', '0 − E1 <= -101', '0 − S1 <= -90', 'S1 − 0 <= 95'],
    ],
    [
      'a stated start',
      { notices: [notice('n1', 'promoted', 90, { ...ofCaptain, last: 95 })] },
      ['0 − S1 <= -90', 'S1 − 0 <= 95'],
    ],
    [
      'a date open on one side bounds the other',
      { notices: [notice('n1', 'promoted', 90, { ...ofCaptain, last: Infinity })] },
      ['0 − S1 <= -90'],
    ],
    [
      'a stated end',
      { notices: [notice('n1', 'retired', 90, { ...ofCaptain, last: 95 })] },
      ['0 − E1 <= -90', 'E1 − 0 <= 95'],
    ],
    [
      'died: the last end is at the latest the day after death',
      { notices: [notice('n1', 'promoted', 90, ofCaptain)], died: life('p1', 200, 210) },
      ['0 − S1 <= -90', 'S1 − 0 <= 90', 'E1 − 0 <= 211'],
    ],
    [
      'conditions: of the posts in that rank, one by one',
      {
        notices: [
          notice('n1', 'promoted', 90, ofCaptain),
          notice('n2', 'exchanged', 300, { rank: captain, corps: '5th Rangers' }),
        ],
        conditions: [condition('c1', captain, 30, 400), condition('c2', major, 30)],
      },
      [
        '0 − S1 <= -90',
        'S1 − 0 <= 90',
        '0 − S2 <= -300',
        'S2 − 0 <= 300',
        'S1 − E1 <= -30',
        'E1 − S1 <= 400',
        'S2 − E2 <= -30',
        'E2 − S2 <= 400',
      ],
    ],
    [
      'conditions: not of a brevet',
      { entries: [listed('e1', 100, captain, { kind: 'brevet' })], conditions: [condition('c1', captain, 30)] },
      ['S1 − 0 <= 100', '0 − E1 <= -101'],
    ],
    [
      'an identical date of rank in the second corps binds the first post in that rank only',
      {
        entries: [
          listed('e1', 100, captain, { dated: date(90) }),
          listed('e2', 200, captain, { corps: '5th Rangers', dated: date(90) }),
        ],
      },
      [
        'S1 − 0 <= 100',
        '0 − E1 <= -101',
        '0 − S1 <= -90',
        'S1 − 0 <= 90',
        'S2 − 0 <= 200',
        '0 − E2 <= -201',
        '0 − S1 <= -90',
        'S1 − 0 <= 90',
      ],
    ],
    [
      'a date of rank in the second corps that a notice gives for the first binds the first',
      {
        notices: [notice('n1', 'promoted', 90, ofCaptain)],
        entries: [listed('e1', 200, captain, { corps: '5th Rangers', dated: date(90) })],
      },
      ['0 − S1 <= -90', 'S1 − 0 <= 90', 'S2 − 0 <= 200', '0 − E2 <= -201', '0 − S1 <= -90', 'S1 − 0 <= 90'],
    ],
    [
      'a date of rank in the second corps from before the first was left binds the first',
      {
        notices: [notice('n1', 'superseded', 150, ofCaptain)],
        entries: [listed('e1', 200, captain, { corps: '5th Rangers', dated: date(90) })],
      },
      ['0 − E1 <= -150', 'E1 − 0 <= 150', 'S2 − 0 <= 200', '0 − E2 <= -201', '0 − S1 <= -90', 'S1 − 0 <= 90'],
    ],
    [
      'another date in the second corps binds the second',
      {
        entries: [
          listed('e1', 100, captain, { dated: date(90) }),
          listed('e2', 200, captain, { corps: '5th Rangers', dated: date(150) }),
        ],
      },
      [
        'S1 − 0 <= 100',
        '0 − E1 <= -101',
        '0 − S1 <= -90',
        'S1 − 0 <= 90',
        'S2 − 0 <= 200',
        '0 − E2 <= -201',
        '0 − S2 <= -150',
        'S2 − 0 <= 150',
      ],
    ],
    [
      'a date in the second corps on which the first was still held is that of the rank',
      {
        entries: [listed('e1', 100, captain), listed('e2', 200, captain, { corps: '5th Rangers', dated: date(95) })],
      },
      ['S1 − 0 <= 100', '0 − E1 <= -101', 'S2 − 0 <= 200', '0 − E2 <= -201', '0 − S1 <= -95', 'S1 − 0 <= 95'],
    ],
    [
      'of three corps it binds the first',
      {
        entries: [
          listed('e1', 100, captain),
          listed('e2', 200, captain, { corps: '5th Rangers', dated: date(90) }),
          listed('e3', 300, captain, { corps: '6th Rangers', dated: date(90) }),
        ],
      },
      [
        'S1 − 0 <= 100',
        '0 − E1 <= -101',
        'S2 − 0 <= 200',
        '0 − E2 <= -201',
        '0 − S1 <= -90',
        'S1 − 0 <= 90',
        'S3 − 0 <= 300',
        '0 − E3 <= -301',
        '0 − S1 <= -90',
        'S1 − 0 <= 90',
      ],
    ],
    [
      'the same date in another rank is of that rank',
      {
        entries: [listed('e1', 100, lieutenant, { dated: date(90) }), listed('e2', 200, captain, { dated: date(90) })],
      },
      [
        'S1 − 0 <= 100',
        '0 − E1 <= -101',
        '0 − S1 <= -90',
        'S1 − 0 <= 90',
        'S2 − 0 <= 200',
        '0 − E2 <= -201',
        '0 − S2 <= -90',
        'S2 − 0 <= 90',
      ],
    ],
  ])('%s', (_rule, parts, expected) => expect(constraints(parts, false)).toEqual(expected));

  test.each<[rule: string, parts: Partial<CareerEvidence>, expected: readonly string[]]>([
    ['an end comes after its start', { entries: [listed('e1', 100, captain)] }, ['S1 − E1 <= -1']],
    [
      'the next begins on the day on which one ends',
      { entries: [listed('e1', 100, lieutenant), listed('e2', 200, captain)] },
      ['S1 − E1 <= -1', 'E1 − S2 <= 0', 'S2 − E1 <= 0', 'S2 − E2 <= -1'],
    ],
    [
      'after a notice of leaving it may begin later',
      {
        entries: [listed('e1', 100, lieutenant), listed('e2', 200, captain)],
        notices: [notice('n1', 'half-pay', 150, { rank: lieutenant, corps: '2nd Fencibles' })],
      },
      ['S1 − E1 <= -1', 'E1 − S2 <= 0', 'S2 − E2 <= -1'],
    ],
    [
      'what is held beside a post has no place in the succession',
      { entries: [listed('e1', 100, captain), listed('e2', 200, major, { kind: 'brevet' })] },
      ['S1 − E1 <= -1', 'S2 − E2 <= -1'],
    ],
  ])('always: %s', (_rule, parts, expected) => expect(constraints(parts, true)).toEqual(expected));

  test('a claim that is set aside leaves the network, what always holds stays', () => {
    const made = model({ entries: [listed('e1', 100, captain, { dated: date(90) })] });
    const { claim } = makeNetwork(made, Uint8Array.from([0, 1]), []);
    expect(claim).toEqual([FIXED, 0, 0]);
  });

  test('a nil search that shows a gap parts the posts on both sides of it', () => {
    const made = model({ entries: [listed('e1', 100, lieutenant), listed('e2', 200, captain)] });
    const { claim } = makeNetwork(made, new Uint8Array(2), [{ claim: 2, gapAfter: 0, edges: [[2, 3, -1]] }]);
    expect(claim).toEqual([FIXED, FIXED, FIXED, 0, 0, 1, 1, 2]);
  });

  test.each<[rule: string, born: string, expected: string]>([
    ['ten calendar years', '1812-06-01', '1822-06-01'],
    ['29 February becomes the 28th', '1812-02-29', '1822-02-28'],
  ])('of age: %s', (_rule, born, expected) => expect(ofAge(date(born).span, DEFAULTS)).toBe(day(expected)));

  test('of age: by the first day on which he can have been born', () => {
    expect(ofAge(date('1812-01-01', '1812-12-31').span, DEFAULTS)).toBe(day('1822-01-01'));
    expect(ofAge(date(-Infinity, '1812-12-31').span, DEFAULTS)).toBe(-Infinity);
  });

  test('birth bounds the first start of every service and of what is held beside it', () => {
    const made = model({
      entries: [listed('e1', 100, captain), listed('e2', 200, major, { kind: 'brevet' })],
      notices: [notice('n1', 'born', '1812-06-01')],
    });
    const { x, y, w } = makeNetwork(made, new Uint8Array(made.positive.length), []);
    const born = w.flatMap((length, k) =>
      length === -day('1822-06-01') ? [`${NAMES[x[k] as number]} ${NAMES[y[k] as number]}`] : [],
    );
    expect(born).toEqual(['0 S1', '0 S2']);
  });

  test('rows: each service with what is held beside it, and what is held in no other', () => {
    const made = model({
      entries: [
        listed('e1', 300, captain),
        listed('e2', 310, major, { kind: 'brevet' }),
        listed('e3', 100, { ...captain, service: 'militia' }, { kind: 'staff' }),
      ],
    });
    expect(made.rows.map(({ service, first, last, concurrent }) => [service, first, last, concurrent])).toEqual([
      ['army', 0, 0, false],
      ['army', 1, 1, true],
      ['militia', 2, 2, true],
    ]);
    expect(made.slots.some(leavesGap)).toBe(false);
  });
});
