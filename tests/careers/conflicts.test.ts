import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { findAppointments } from '../../src/careers/appointments.ts';
import type { RecordedClaim } from '../../src/careers/claims.ts';
import {
  allClaims,
  inRecordingOrder,
  otherWays,
  reportConflicts,
  sayAll,
  settle,
} from '../../src/careers/conflicts.ts';
import { makeModel } from '../../src/careers/constraints.ts';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { captain, condition, date, evidence, lieutenant, life, listed, notFound, notice } from './recorded.ts';

function settled(parts: Partial<CareerEvidence>, aside: readonly string[] = []) {
  const whole = evidence(parts);
  const model = makeModel(whole, findAppointments(whole), DEFAULTS);
  const claims = allClaims(model);
  const start = Uint8Array.from(claims, ({ record, part }) => (aside.includes(`${record.id} ${part}`) ? 1 : 0));
  return { claims, result: settle(model, claims, new Float64Array(claims.length).fill(1), start) };
}

const name = ({ record, part }: RecordedClaim): string => `${record.id} ${part}`;

/** Conflicts as "members | set aside". */
function told(parts: Partial<CareerEvidence>): string[] {
  const { claims, result } = settled(parts);
  const list = (members: readonly { id: string; part: string }[]) =>
    members.map(({ id, part }) => `${id} ${part}`).join(', ');
  return reportConflicts(claims, result).conflicts.map(
    ({ members, setAside }) => `${list(members)} | ${list(setAside)}`,
  );
}

const ofCaptain = { rank: captain, corps: '2nd Fencibles' };

describe('conflicts', () => {
  test.each<[rule: string, parts: Partial<CareerEvidence>, expected: readonly string[]]>([
    ['none', { entries: [listed('e1', 100, captain), listed('e2', 200, captain)] }, []],
    [
      'a misprinted date against every listing that it contradicts; it gives way to two',
      { entries: [listed('e1', 100, captain), listed('e2', 200, captain, { dated: date(250) })] },
      ['e1 listed, e2 dated | e2 dated', 'e2 dated, e2 listed | e2 dated'],
    ],
    [
      'one listing gives way to a date of rank',
      { entries: [listed('e1', 100, captain), listed('e2', 300, captain, { dated: date(250) })] },
      ['e1 listed, e2 dated | e1 listed'],
    ],
    [
      'a notice outweighs a listing, a day of death a notice',
      {
        entries: [listed('e1', 100, captain), listed('e2', 390, captain)],
        notices: [notice('n1', 'promoted', 150, ofCaptain), notice('n2', 'retired', 400, ofCaptain)],
        died: life('p1', 395),
      },
      ['e1 listed, n1 start | e1 listed', 'n2 end, p1 died | n2 end'],
    ],
    [
      'an uncertain notice is no more than hearsay',
      {
        entries: [listed('e1', 100, captain)],
        notices: [notice('n1', 'promoted', 150, { ...ofCaptain, uncertain: true })],
      },
      ['e1 listed, n1 start | n1 start'],
    ],
    [
      'of equals the later source gives way',
      { entries: [listed('e1', 200, lieutenant), listed('e2', 100, captain)] },
      ['e1 listed, e2 listed | e1 listed'],
    ],
    [
      'three that only together contradict',
      {
        entries: [listed('e1', 100, captain), listed('e2', 200, captain)],
        conditions: [condition('c1', captain, undefined, 60)],
      },
      ['c1 condition, e1 listed, e2 listed | e2 listed'],
    ],
    [
      'birth and death themselves',
      { notices: [notice('n1', 'promoted', '1850-01-01', ofCaptain)], born: life('p1', '1845-01-01') },
      ['n1 start, p1 born | n1 start'],
    ],
    [
      'an omission of the printer',
      { entries: [listed('e1', 100, captain), listed('e2', 300, captain)], nilSearches: [notFound('s1', 200)] },
      ['e1 listed, e2 listed, s1 nil | s1 nil'],
    ],
    [
      'a nil search weighs nothing against what is listed, be it hearsay',
      {
        entries: [listed('e1', 100, captain), listed('e2', 300, captain, { uncertain: true })],
        nilSearches: [notFound('s1', 200)],
      },
      ['e1 listed, e2 listed, s1 nil | s1 nil'],
    ],
    [
      'two nil searches, each possible by itself, that leave too little time between them',
      {
        notices: [
          notice('n1', 'promoted', 100, { ...ofCaptain, last: 110 }),
          notice('n2', 'retired', 111, { ...ofCaptain, last: 121 }),
        ],
        conditions: [condition('c1', captain, 10)],
        nilSearches: [notFound('s1', 108), notFound('s2', 112)],
      },
      ['c1 condition, s1 nil, s2 nil | s2 nil'],
    ],
  ])('%s', (_rule, parts, expected) => expect(told(parts)).toEqual(expected));

  test('a listing that gives way lets a nil search in its place speak', () => {
    const { claims, result } = settled({
      entries: [listed('e1', 100, captain), listed('e2', 250, captain)],
      notices: [notice('n1', 'died', 150)],
      nilSearches: [notFound('s1', 120)],
    });
    expect(claims.filter((_, k) => result.off[k] === 1).map(name)).toEqual(['e2 listed']);
    expect(result.findings.omissions).toEqual([]);
    expect(result.findings.used).toHaveLength(1);
    expect(result.bounds.latest[2]).toBe(120);
  });

  test('what is set aside from the beginning stays so', () => {
    const parts = { entries: [listed('e1', 200, lieutenant), listed('e2', 100, captain)] };
    const { result } = settled(parts, ['e2 listed']);
    expect([...result.off]).toEqual([0, 1]);
    expect(result.sets).toEqual([]);
  });

  test('the next best way out, and the one after it', () => {
    const { claims, result } = settled({
      entries: [
        listed('e1', 100, captain),
        listed('e2', 200, captain, { dated: date(250) }),
        listed('e3', 400, captain, { dated: date(260) }),
      ],
    });
    const { ways, complete } = otherWays(claims, result);
    expect(complete).toBe(true);
    const said = ways.map((way) => sayAll(claims, way).map(({ id, part }) => `${id} ${part}`));
    // Two dates that differ, and listings before either: all but one date must go, or the listings and one date.
    expect(said).toEqual([
      ['e1 listed', 'e2 listed', 'e3 dated'],
      ['e1 listed', 'e2 dated', 'e2 listed'],
    ]);
    expect(claims.filter((_, k) => result.off[k] === 1).map(name)).toEqual(['e2 dated', 'e3 dated']);
  });

  test('more than a thousand are counted, not listed', () => {
    const entries = Array.from({ length: 40 }, (_, k) => [
      listed(`e${k}`, 10_000 + k, lieutenant),
      listed(`f${k}`, 100 + k, captain),
    ]).flat();
    const { claims, result } = settled({ entries });
    const { conflicts, conflictsBeyond } = reportConflicts(claims, result);
    expect(conflicts).toHaveLength(1000);
    expect(conflictsBeyond).toBe(600);
    expect(conflicts[0]?.members.map(({ id }) => id)).toEqual(['e0', 'f0']);
  });

  test('claims in the order in which they were recorded', () => {
    const { claims } = settled({
      entries: [listed('e10', 100, lieutenant), listed('e9', 200, captain, { dated: date(150) })],
    });
    expect(inRecordingOrder(claims).map((k) => name(claims[k] as RecordedClaim))).toEqual([
      'e9 dated',
      'e9 listed',
      'e10 listed',
    ]);
  });

  test('however many of them stand in another order', () => {
    const backwards = Array.from({ length: 30 }, (_, k) => listed(`e${30 - k}`, 100 + 100 * k, lieutenant));
    const { claims } = settled({ entries: backwards });
    const ids = inRecordingOrder(claims).map((k) => claims[k]?.record.id);
    expect(ids).toEqual(Array.from({ length: 30 }, (_, k) => `e${k + 1}`));
  });
});
