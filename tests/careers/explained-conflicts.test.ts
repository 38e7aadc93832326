import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { explainConflicts, type WeighedClaim } from '../../src/careers/explained-conflicts.ts';
import { settleCareer, solveCareer } from '../../src/careers/solve.ts';
import { captain, date, evidence, lieutenant, listed, major, notFound, notice } from './recorded.ts';

const explained = (parts: Partial<CareerEvidence>, most = 1000) =>
  explainConflicts(settleCareer(evidence(parts), DEFAULTS), most);

const names = (claims: readonly WeighedClaim[] | undefined): string[] | undefined =>
  claims?.map(({ id, part, weight }) => `${id} ${part} ${weight}`);

describe('conflicts with their reasons', () => {
  test('what setting aside frees, what it weighs, and the next best way out', () => {
    const { conflicts, beyond } = explained({
      entries: [
        listed('e1', 100, captain),
        listed('e2', 200, captain, { dated: date(250) }),
        listed('e3', 300, captain),
      ],
    });
    expect(beyond).toBe(0);
    expect(conflicts.map(({ members }) => names(members))).toEqual([
      ['e1 listed 3', 'e2 dated 4'],
      ['e2 dated 4', 'e2 listed 3'],
    ]);
    for (const conflict of conflicts) {
      expect(names(conflict.setAside)).toEqual(['e2 dated 4']);
      expect(conflict.frees).toBe(2);
      expect(names(conflict.wayOut)).toEqual(['e2 dated 4']);
      expect(names(conflict.otherWayOut)).toEqual(['e1 listed 3', 'e2 listed 3']);
    }
  });

  test('conflicts that share no claim have ways out of their own', () => {
    const { conflicts } = explained({
      entries: [
        listed('e1', 100, lieutenant),
        listed('e2', 90, captain),
        listed('e3', 400, captain),
        listed('e4', 390, major, { dated: date(380) }),
      ],
    });
    const byAside = new Map(conflicts.map((each) => [each.setAside.map(({ id }) => id).join(), each]));
    expect([...byAside.keys()].sort()).toEqual(['e1', 'e3']);
    expect(byAside.get('e1')).toMatchObject({ frees: 1, otherWayOut: [{ id: 'e2' }] });
    expect(byAside.get('e3')).toMatchObject({ frees: 2, otherWayOut: [{ id: 'e4' }, { id: 'e4' }] });
  });

  test('an omission of the printer has no other way out; three in a row are likely a break', () => {
    const entries = [listed('e1', 100, captain), listed('e2', 900, captain)];
    const alone = explained({ entries, nilSearches: [notFound('q1', 400)] }).conflicts;
    expect(alone).toMatchObject([{ omission: 'printer', frees: 1, otherWayOut: undefined }]);
    const several = explained({
      entries,
      nilSearches: [notFound('q1', 300), notFound('q2', 400), notFound('q3', 500)],
    });
    expect(several.conflicts.map(({ omission }) => omission)).toEqual(['likely break', 'likely break', 'likely break']);
    expect(
      explained({ entries: [listed('e1', 100, lieutenant), listed('e2', 50, captain)] }).conflicts[0]?.omission,
    ).toBe(undefined);
  });

  test('the rest is counted', () => {
    const entries = Array.from({ length: 40 }, (_, k) => [
      listed(`e${k}`, 10_000 + k, lieutenant),
      listed(`f${k}`, 100 + k, captain),
    ]).flat();
    const { conflicts, beyond } = explained({ entries }, 100);
    expect([conflicts.length, beyond]).toEqual([100, 1500]);
    expect(conflicts[0]).toMatchObject({ frees: 40 });
  });

  test('the same conflicts and settings aside as the career itself gives', () => {
    const parts = {
      entries: [
        listed('e1', 100, lieutenant, { dated: date(90) }),
        listed('e2', 200, captain, { dated: date(80) }),
        listed('e3', 300, captain, { dated: date(310) }),
        listed('e4', 290, major),
      ],
      notices: [notice('n1', 'retired', 250, { rank: captain, corps: '2nd Fencibles' })],
      nilSearches: [notFound('q1', 295)],
    };
    const career = solveCareer(evidence(parts), DEFAULTS);
    const plain = (claims: readonly { id: string; part: string; claim: string }[]) =>
      claims.map(({ id, part, claim }) => ({ id, part, claim }));
    expect(
      explained(parts).conflicts.map(({ members, setAside }) => ({
        members: plain(members),
        setAside: plain(setAside),
      })),
    ).toEqual(career.conflicts);
    expect(career.conflicts.length).toBeGreaterThan(3);
  });
});

test('hundreds of claims and several misprints: well under a second', () => {
  const ranks = [lieutenant, captain, major];
  const entries = Array.from({ length: 360 }, (_, k) => {
    const rank = ranks[Math.floor(k / 120)] ?? major;
    const misprint = [7, 50, 130, 200, 300, 350].includes(k) ? 3000 * (k % 2 === 0 ? 1 : -1) : 0;
    return listed(`e${k}`, 10_000 + 100 * k, rank, { dated: date(9950 + 12_000 * Math.floor(k / 120) + misprint) });
  });
  const start = process.cpuUsage();
  const { conflicts, beyond } = explained({ entries });
  expect(process.cpuUsage(start).user / 1000).toBeLessThan(1000);
  expect(conflicts.length + beyond).toBeGreaterThan(500);
  const aside = new Set(conflicts.flatMap(({ setAside }) => setAside.map(({ id, part }) => `${id} ${part}`)));
  expect([...aside].sort()).toEqual(['e130 dated', 'e200 dated', 'e300 dated', 'e350 dated', 'e50 dated', 'e7 dated']);
});
