import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import type { Career, Tenure } from '../../src/careers/career.ts';
import type { CareerEvidence, ListedEntry, Notice } from '../../src/careers/evidence.ts';
import { solveCareer } from '../../src/careers/solve.ts';
import type { Rank } from '../../src/services/rank.ts';
import { isoDay } from '../../src/time/calendar.ts';
import type { Day } from '../../src/time/span.ts';
import { captain, date, day, evidence, lieutenant, listed, notFound, notice } from '../careers/recorded.ts';
import examples from './data/officer-careers.json' with { type: 'json' };

/** Order of ranks, junior first, with the main steps marked. Common practice. */
const ARMY = [
  'ensign*',
  'lieutenant*',
  'captain-lieutenant',
  'captain*',
  'major*',
  'lieutenant-colonel*',
  'colonel*',
  'major-general*',
  'lieutenant-general*',
  'general*',
  'field marshal*',
];
const NAVY = [
  'lieutenant*',
  'commander*',
  'post-captain*',
  'rear-admiral of the Blue',
  'rear-admiral of the Red',
  'vice-admiral of the Blue',
  'vice-admiral of the White',
];

function ladder(service: string, names: readonly string[]): readonly Rank[] {
  let step = 0;
  return names.map((name, order): Rank => {
    const id = name.replace('*', '');
    return {
      id,
      title: id,
      service,
      order,
      step: name.endsWith('*') ? step++ : undefined,
      courtesy: 'yes',
      concurrent: false,
    };
  });
}

const RANKS = [...ladder('army', ARMY), ...ladder('navy', NAVY)];
const STEPS = new Map(
  ['army', 'navy'].map(
    (service) => [service, RANKS.filter((rank) => rank.service === service && rank.step !== undefined)] as const,
  ),
);

type Commission = { readonly rank: Rank; readonly corps: string; readonly day: string };

/** The substantive commissions of one officer as published, in their order. */
function commissions(name: string, service: string): readonly Commission[] {
  return examples
    .filter((one) => one.input.name.includes(name) && !/brevet|local/.test(one.input.corps))
    .map(({ input, expected }) => ({
      rank: RANKS.find((rank) => rank.id === input.rank && rank.service === service) ?? expect.unreachable(input.rank),
      corps: input.corps,
      day: expected,
    }));
}

const noticeOf = ({ rank, corps, day: on }: Commission, k: number): Notice =>
  notice(`n${k + 1}`, 'promoted', on, corps === '' ? { rank } : { rank, corps });

const solve = (parts: Partial<CareerEvidence>): Career =>
  solveCareer(evidence({ mainSteps: STEPS, ...parts }), DEFAULTS);

const iso = (on: Day): string => (Number.isFinite(on) ? isoDay(on) : `${on}`);
const startOf = ({ start }: Tenure): string[] => [iso(start.earliest), iso(start.latest)];

/**
 * Sources: commission dates as cited beside each in the data file (regimental histories, chronologies and the
 * Dictionary of National Biography; some from memory, marked so there).
 */
describe('published careers', () => {
  test.each([
    ['Wellesley', 'army'],
    ['Nelson', 'navy'],
    ['Moore', 'army'],
  ])('commissions of %s: each tenure lasts from one to the next', (name, service) => {
    const known = commissions(name, service);
    const career = solve({ notices: known.map(noticeOf).reverse() });
    expect(career.conflicts).toEqual([]);
    const recorded = career.tenures.filter(({ implied }) => !implied);
    expect(recorded.map(({ rank }) => rank.id)).toEqual(known.map(({ rank }) => rank.id));
    expect(recorded.map(startOf)).toEqual(known.map(({ day: on }) => [on, on]));
    career.tenures.slice(0, -1).forEach(({ end }, index) => {
      expect(end).toEqual(career.tenures[index + 1]?.start);
    });
    expect(career.tenures.at(-1)?.end.latest).toBe(Infinity);
  });

  test('three corps in one rank are three posts', () => {
    const career = solve({ notices: commissions('Wellesley', 'army').map(noticeOf) });
    const lieutenancies = career.tenures.filter(({ rank }) => rank.id === 'lieutenant');
    expect(lieutenancies.map(({ corps, end }) => [corps?.name, iso(end.latest)])).toEqual([
      ['76th Foot', '1788-01-23'],
      ['41st Foot', '1789-06-25'],
      ['12th Light Dragoons', '1791-06-30'],
    ]);
  });

  test('a colonel by brevet remains lieutenant-colonel of his regiment', () => {
    const rank = RANKS.find(({ id }) => id === 'colonel') ?? expect.unreachable();
    const brevet = notice('n90', 'promoted', '1796-05-03', { rank, corps: '33rd Foot', kind: 'brevet' });
    const career = solve({ notices: [...commissions('Wellesley', 'army').map(noticeOf), brevet] });
    const regimental = career.tenures.find(({ rank: held }) => held.id === 'lieutenant-colonel');
    expect(iso(regimental?.start.earliest as Day)).toBe('1793-09-30');
    expect(iso(regimental?.end.latest as Day)).toBe('1802-04-28'); // then colonel, implied, to major-general the day after
    expect(career.tenures.at(-1)).toMatchObject({ kind: 'brevet', implied: false });
  });

  test('a lieutenant is implied between ensign and captain-lieutenant', () => {
    const career = solve({ notices: commissions('Moore', 'army').map(noticeOf) });
    expect(career.tenures[1]).toMatchObject({ implied: true, records: [], corps: undefined });
    expect(career.tenures[1]?.rank.id).toBe('lieutenant');
    expect(startOf(career.tenures[1] as Tenure)).toEqual(['1776-03-03', '1778-01-09']);
    expect(career.tenures[1]?.grounds.startEarliest).toEqual(['n1']);
    expect(career.tenures[1]?.grounds.startLatest).toEqual(['n2']);
  });

  test('sources that differ by a day are a conflict, and the later gives way', () => {
    const known = commissions('Nelson', 'navy').map(noticeOf);
    const rank = RANKS.find(({ id, service }) => id === 'lieutenant' && service === 'navy') ?? expect.unreachable();
    const career = solve({ notices: [notice('n80', 'promoted', '1777-04-09', { rank }), ...known] });
    expect(career.conflicts).toHaveLength(1);
    expect(career.conflicts[0]?.members.map(({ id }) => id)).toEqual(['n1', 'n80']);
    expect(career.conflicts[0]?.setAside.map(({ id }) => id)).toEqual(['n1']);
    expect(startOf(career.tenures[0] as Tenure)).toEqual(['1777-04-09', '1777-04-09']);
    expect(career.tenures[0]?.provisional).toBe(true);
    expect(career.tenures.slice(1).some(({ provisional }) => provisional)).toBe(false);
  });

  /** What a list as at each 1 January would have printed, with or without the date of rank. */
  function annualLists(known: readonly Commission[], from: number, to: number, withDates: boolean): ListedEntry[] {
    const entries: ListedEntry[] = [];
    for (let year = from; year <= to; year++) {
      const asAt = `${year}-01-01`;
      const held = known.filter(({ day: on }) => on <= asAt).at(-1);
      if (held === undefined) continue;
      const rankDate = known.find(({ rank }) => rank.id === held.rank.id)?.day ?? held.day;
      entries.push(
        listed(`e${year}`, asAt, held.rank, {
          corps: held.corps === '' ? undefined : held.corps,
          ...(withDates ? { dated: date(rankDate) } : {}),
        }),
      );
    }
    return entries;
  }

  test.each([
    ['Wellesley', 'army', 1788, 1810],
    ['Nelson', 'navy', 1778, 1805],
    ['Moore', 'army', 1777, 1808],
  ])('annual lists alone bracket every commission of %s', (name, service, from, to) => {
    const known = commissions(name, service);
    const career = solve({ entries: annualLists(known, from, to, false) });
    expect(career.conflicts).toEqual([]);
    for (const { rank, corps, start } of career.tenures.filter(({ implied }) => !implied)) {
      const published = known.find((one) => one.rank.id === rank.id && one.corps === (corps?.name ?? ''));
      const on = day(published?.day ?? '');
      expect(start.earliest).toBeLessThanOrEqual(on);
      expect(start.latest).toBeGreaterThanOrEqual(on);
      expect(start.latest).toBeLessThanOrEqual(on + 366); // the next list shows it
    }
  });

  test('with the date of rank the first post in each rank is exact, and exchanges are not misdated', () => {
    const known = commissions('Wellesley', 'army');
    const career = solve({ entries: annualLists(known, 1788, 1810, true) });
    expect(career.conflicts).toEqual([]);
    const firsts = career.tenures.filter(
      ({ rank }, at) => career.tenures.findIndex((one) => one.rank.id === rank.id) === at,
    );
    for (const tenure of firsts.filter(({ implied }) => !implied)) {
      const published = known.find(({ rank }) => rank.id === tenure.rank.id);
      expect(startOf(tenure)).toEqual([published?.day, published?.day]);
    }
    const dragoons = career.tenures.find(({ corps }) => corps?.name === '12th Light Dragoons');
    expect(startOf(dragoons as Tenure)).toEqual(['1789-01-02', '1790-01-01']);
  });
});

/** Common practice in reading annual lists. */
describe('reading annual lists', () => {
  test('a list may lag behind the event: with a lag the leaving and the listing agree, without it they do not', () => {
    const parts = (lag: number): Partial<CareerEvidence> => ({
      entries: [listed('e1', '1834-01-01', captain, { lag }), listed('e2', '1836-01-01', captain, { lag })],
      notices: [
        notice('n1', 'promoted', '1833-03-01', { rank: captain, corps: '2nd Fencibles' }),
        notice('n2', 'retired', '1835-11-20', { rank: captain, corps: '2nd Fencibles' }),
      ],
    });
    const lagging = solve(parts(60));
    expect(lagging.tenures).toHaveLength(1);
    expect(lagging.conflicts).toEqual([]);
    expect(iso(lagging.tenures[0]?.end.latest as Day)).toBe('1835-11-20');
    const prompt = solve(parts(0)); // listed after he left: he must have come back
    expect(prompt.tenures).toHaveLength(2);
  });

  test('a promotion that the next list has not caught up with is no contradiction within the lag', () => {
    const parts = (lag: number): Partial<CareerEvidence> => ({
      entries: [listed('e1', '1836-01-01', lieutenant, { lag })],
      notices: [notice('n1', 'promoted', '1835-12-10', { rank: captain, corps: '2nd Fencibles' })],
    });
    expect(solve(parts(60)).conflicts).toEqual([]);
    expect(solve(parts(0)).conflicts).toHaveLength(1);
  });

  test('the printed date is the date of rank, also where the list shows another corps', () => {
    const rank = date('1833-05-16');
    const career = solve({
      entries: [
        listed('e1', '1834-01-01', captain, { dated: rank }),
        listed('e2', '1837-01-01', captain, { dated: rank, corps: '5th Rangers' }),
      ],
    });
    expect(career.conflicts).toEqual([]);
    expect(startOf(career.tenures[0] as Tenure)).toEqual(['1833-05-16', '1833-05-16']);
    expect(startOf(career.tenures[1] as Tenure)).toEqual(['1834-01-02', '1837-01-01']);
    expect(career.tenures[0]?.grounds.startLatest).toEqual(['e1']);
  });

  test('a name missing from one volume between two that have it is the printer’s omission', () => {
    const career = solve({
      entries: [listed('e1', '1834-01-01', captain), listed('e2', '1836-01-01', captain)],
      nilSearches: [notFound('s1', '1835-01-01')],
    });
    expect(career.conflicts).toHaveLength(1);
    expect(career.conflicts[0]?.members.map(({ id }) => id)).toEqual(['e1', 'e2', 's1']);
    expect(career.conflicts[0]?.setAside.map(({ id }) => id)).toEqual(['s1']);
    expect(career.tenures).toHaveLength(1);
    expect(career.tenures[0]?.provisional).toBe(false);
  });

  test('a name that is no longer found bounds the end, one not yet found bounds the start', () => {
    const career = solve({
      entries: [listed('e1', '1834-01-01', captain), listed('e2', '1836-01-01', captain)],
      nilSearches: [notFound('s1', '1833-01-01'), notFound('s2', '1838-01-01')],
    });
    const [tenure] = career.tenures;
    expect(startOf(tenure as Tenure)).toEqual(['1833-01-02', '1834-01-01']);
    expect([iso(tenure?.end.earliest as Day), iso(tenure?.end.latest as Day)]).toEqual(['1836-01-02', '1838-01-01']);
    expect(tenure?.grounds.endLatest).toEqual(['s2']);
  });
});
