import { describe, expect, test } from 'vitest';
import { type Appointment, findAppointments } from '../../src/careers/appointments.ts';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import {
  adjutant,
  captain,
  captainLieutenant,
  colonel,
  ensign,
  evidence,
  lieutenant,
  listed,
  major,
  notice,
  office,
} from './recorded.ts';

function name({ rank, corps, kind, implied, entries, starts, ends }: Appointment): string {
  if (implied) return `(${rank.id})`;
  const records = [...entries, ...starts].map(({ id }) => id).join(' ');
  const left = ends.length === 0 ? '' : ` to ${ends.map(({ id }) => id).join(' ')}`;
  const how = kind === 'half-pay' || kind === 'retired' ? ` ${kind}` : '';
  return `${rank.id}${how}${corps?.name === '5th Rangers' ? ' R' : ''}: ${records}${left}`;
}

const order = (parts: Partial<CareerEvidence>): string[][] =>
  findAppointments(evidence(parts)).successions.map(({ appointments }) => appointments.map(name));

const concurrent = (parts: Partial<CareerEvidence>): string[] => findAppointments(evidence(parts)).concurrent.map(name);

const rangers = { corps: '5th Rangers' };
const halfPay = { kind: 'half-pay' } as const;
const ofCaptain = { rank: captain, corps: '2nd Fencibles' };

describe('findAppointments', () => {
  test.each<[rule: string, parts: Partial<CareerEvidence>, succession: readonly string[]]>([
    [
      'order: the ladder, whatever the days say',
      { entries: [listed('e1', 300, lieutenant), listed('e2', 100, captain)] },
      ['lieutenant: e1', 'captain: e2'],
    ],
    [
      'order: in one rank the middle of the evidence',
      {
        entries: [listed('e1', 300, captain), listed('e2', 100, captain, rangers), listed('e3', 120, captain, rangers)],
      },
      ['captain R: e2 e3', 'captain: e1'],
    ],
    [
      'order: without a ladder only the middle of the evidence',
      { entries: [listed('e1', 300, office('clerk')), listed('e2', 100, office('warden'))] },
      ['warden: e2', 'clerk: e1'],
    ],
    [
      'again after another post in the same rank is a second appointment',
      { entries: [listed('e1', 100, captain), listed('e2', 200, captain, rangers), listed('e3', 300, captain)] },
      ['captain: e1', 'captain R: e2', 'captain: e3'],
    ],
    [
      'half-pay is no post: the same post again is a second appointment',
      { entries: [listed('e1', 100, captain), listed('e2', 200, captain, halfPay), listed('e3', 300, captain)] },
      ['captain: e1', 'captain half-pay: e2', 'captain: e3'],
    ],
    [
      'retired with the rank comes behind the post',
      { entries: [listed('e1', 300, captain, { kind: 'retired' }), listed('e2', 100, captain)] },
      ['captain: e2', 'captain retired: e1'],
    ],
    [
      'one on half-pay can retire; only one in post is placed on half-pay',
      {
        entries: [listed('e1', 100, captain), listed('e2', 200, captain, halfPay)],
        notices: [notice('n1', 'half-pay', 150, ofCaptain), notice('n2', 'retired', 250, ofCaptain)],
      },
      ['captain: e1 to n1', 'captain half-pay: e2 to n2'],
    ],
    [
      'a notice of leaving after another post in the same rank is of a second appointment',
      {
        entries: [listed('e1', 100, captain), listed('e2', 200, captain, rangers)],
        notices: [notice('n1', 'resigned', 300, ofCaptain)],
      },
      ['captain: e1', 'captain R: e2', 'captain:  to n1'],
    ],
    [
      'that second appointment stands between two of the other post',
      {
        entries: [listed('e1', 100, captain), listed('e2', 200, captain, rangers), listed('e3', 400, captain, rangers)],
        notices: [notice('n1', 'resigned', 300, ofCaptain)],
      },
      ['captain: e1', 'captain R: e2', 'captain:  to n1', 'captain R: e3'],
    ],
    [
      'a notice of leaving from before the other post is of the first',
      {
        entries: [listed('e1', 100, captain), listed('e2', 200, captain, rangers)],
        notices: [notice('n1', 'resigned', 150, ofCaptain)],
      },
      ['captain: e1 to n1', 'captain R: e2'],
    ],
    [
      'again after another post in a service without a ladder',
      {
        entries: [
          listed('e1', 100, office('warden')),
          listed('e2', 200, office('clerk')),
          listed('e3', 300, office('warden')),
        ],
      },
      ['warden: e1', 'clerk: e2', 'warden: e3'],
    ],
    [
      'a higher rank between is no post between: the contradiction is to show',
      { entries: [listed('e1', 100, lieutenant), listed('e2', 200, captain), listed('e3', 300, lieutenant)] },
      ['lieutenant: e1 e3', 'captain: e2'],
    ],
    [
      'two posts of one edition are no return',
      {
        entries: [
          listed('e1', 100, captain),
          listed('e2', 200, captain),
          listed('e3', 200, captain, rangers),
          listed('e4', 300, captain, rangers),
        ],
      },
      ['captain: e1 e2', 'captain R: e3 e4'],
    ],
    [
      'a list that may lag behind the exchange is no return',
      {
        entries: [
          listed('e1', 100, captain, { lag: 150 }),
          listed('e2', 190, captain, rangers),
          listed('e3', 200, captain, { lag: 150 }),
          listed('e4', 300, captain, rangers),
        ],
      },
      ['captain: e1 e3', 'captain R: e2 e4'],
    ],
    [
      'again after leaving is a second appointment',
      {
        entries: [listed('e1', 100, captain), listed('e2', 300, captain)],
        notices: [notice('n1', 'half-pay', 200, ofCaptain)],
      },
      ['captain: e1 to n1', 'captain: e2'],
    ],
    [
      'a list that may lag behind the leaving is of the same appointment',
      {
        entries: [listed('e1', 100, captain), listed('e2', 220, captain, { lag: 60 })],
        notices: [notice('n1', 'retired', 200, ofCaptain)],
      },
      ['captain: e1 e2 to n1'],
    ],
    [
      'appointed again on the day of leaving is a second appointment',
      {
        entries: [listed('e1', 100, captain)],
        notices: [notice('n1', 'half-pay', 200, ofCaptain), notice('n2', 'appointed', 200, ofCaptain)],
      },
      ['captain: e1 to n1', 'captain: n2'],
    ],
    [
      'a named post left before it is attested was held before',
      { entries: [listed('e1', 300, captain)], notices: [notice('n1', 'half-pay', 200, ofCaptain)] },
      ['captain:  to n1', 'captain: e1'],
    ],
    [
      'two notices of leaving without a return are of one appointment',
      {
        entries: [listed('e1', 100, captain)],
        notices: [notice('n1', 'retired', 200, ofCaptain), notice('n2', 'retired', 210, ofCaptain)],
      },
      ['captain: e1 to n1 n2'],
    ],
    [
      'what follows half-pay leaves no post',
      {
        entries: [listed('e1', 100, captain)],
        notices: [notice('n1', 'half-pay', 200, ofCaptain), notice('n2', 'retired', 900, ofCaptain)],
      },
      ['captain: e1 to n1'],
    ],
    [
      'left, returned, left again',
      {
        entries: [listed('e1', 100, captain), listed('e2', 300, captain)],
        notices: [notice('n1', 'half-pay', 200, ofCaptain), notice('n2', 'retired', 400, ofCaptain)],
      },
      ['captain: e1 to n1', 'captain: e2 to n2'],
    ],
    [
      'implied: every main step between',
      { entries: [listed('e1', 100, ensign), listed('e2', 300, major)] },
      ['ensign: e1', '(lieutenant)', '(captain)', 'major: e2'],
    ],
    [
      'implied: never a rank that is no main step',
      { entries: [listed('e1', 100, lieutenant), listed('e2', 300, captain)] },
      ['lieutenant: e1', 'captain: e2'],
    ],
    [
      'implied: also beside a rank that is none',
      { entries: [listed('e1', 100, captainLieutenant), listed('e2', 300, colonel)] },
      ['captain-lieutenant: e1', '(captain)', '(major)', '(lieutenant-colonel)', 'colonel: e2'],
    ],
    ['implied: none below the first or above the last', { entries: [listed('e1', 100, captain)] }, ['captain: e1']],
    [
      'implied: none where the service has no main steps',
      { entries: [listed('e1', 100, ensign), listed('e2', 300, major)], mainSteps: new Map() },
      ['ensign: e1', 'major: e2'],
    ],
    [
      'implied: not by what is held beside a post',
      { entries: [listed('e1', 100, ensign), listed('e2', 300, major, { kind: 'brevet' })] },
      ['ensign: e1'],
    ],
  ])('%s', (_rule, parts, succession) => expect(order(parts)).toEqual([succession]));

  test.each<[rule: string, parts: Partial<CareerEvidence>, alone: readonly string[]]>([
    [
      'a brevet',
      { entries: [listed('e1', 100, captain), listed('e2', 300, major, { kind: 'brevet' })] },
      ['major: e2'],
    ],
    [
      'an appointment that is held beside a rank',
      { entries: [listed('e1', 100, lieutenant), listed('e2', 300, adjutant)] },
      ['adjutant: e2'],
    ],
    [
      'held twice, left between',
      {
        entries: [listed('e1', 100, adjutant), listed('e2', 300, adjutant)],
        notices: [notice('n1', 'resigned', 200, { rank: adjutant, corps: '2nd Fencibles' })],
      },
      ['adjutant: e1 to n1', 'adjutant: e2'],
    ],
  ])('concurrent: %s', (_rule, parts, alone) => expect(concurrent(parts)).toEqual(alone));

  test('each service has a succession of its own, by their beginnings', () => {
    const parts = {
      entries: [listed('e1', 300, captain), listed('e2', 100, office('warden')), listed('e3', 500, office('clerk'))],
    };
    expect(order(parts)).toEqual([['warden: e2', 'clerk: e3'], ['captain: e1']]);
  });

  test('a leaving that cannot be used is told', () => {
    const { unused } = findAppointments(
      evidence({
        entries: [listed('e1', 100, captain)],
        notices: [notice('n1', 'half-pay', 200, ofCaptain), notice('n2', 'retired', 900, ofCaptain)],
      }),
    );
    expect(unused).toEqual([{ id: 'n2', reason: 'It follows half-pay, so that there was no post left to leave.' }]);
  });
});
