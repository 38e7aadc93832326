import { expect, test } from 'vitest';
import { DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import { madeOf } from '../../src/inquiry/made.ts';
import { provenanceOf } from '../../src/inquiry/provenance.ts';
import { gregorianDay, toGregorian } from '../../src/time/calendar.ts';
import type { Day } from '../../src/time/span.ts';
import { type Line, ledgerOf, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

// The answers of the ledger against sums over every day, written down from the rule: nothing here is shared with what
// works them out but the calendar and the assumptions.
const FIRST = gregorianDay(1820, 1, 1);
const LAST = gregorianDay(1850, 1, 1);
const DAYS = LAST - FIRST;
const values = DEFAULTS.values;

const exponential = (years: number, k: number): number => {
  const left = Math.exp(-1 / (years * DAYS_PER_YEAR));
  return (1 - left) * left ** k;
};
/** A delay of k days of an owner's mark, and of a maker's. */
const OWNER = Float64Array.from({ length: DAYS }, (_, k) => {
  const soon = values['delay.owner.soon.share'];
  return soon * exponential(values['delay.owner.soon'], k) + (1 - soon) * exponential(values['delay.owner.late'], k);
});
const MAKER = Float64Array.from({ length: DAYS }, (_, k) => exponential(values['delay.trade'], k));

/** Somebody in the rank from one day up to another, both known to the day. */
type Officer = {
  key: string;
  name: string;
  from: readonly [number, number, number];
  until: readonly [number, number, number];
};
const iso = ([year, month, day]: readonly [number, number, number]): string =>
  `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
const recorded = ({ key, name, from, until }: Officer): Line[] => [
  { type: 'person', key, name },
  {
    type: 'notice',
    person: key,
    event: 'appointed',
    date: iso(from),
    rank: 'Captain',
    corps: '2nd Fencibles',
    source: 'Gazette',
  },
  {
    type: 'notice',
    person: key,
    event: 'resigned',
    date: iso(until),
    rank: 'Captain',
    corps: '2nd Fencibles',
    source: 'Gazette',
  },
];
const FERRAND: Officer = { key: 'a', name: 'Julian Ferrand', from: [1831, 3, 1], until: [1834, 6, 1] };
const LISLE: Officer = { key: 'b', name: 'Matthew Lisle', from: [1836, 2, 10], until: [1841, 9, 5] };

/** Expected equally fitting people who are not in the ledger: in post, times the name, times an initial on the mark. */
const UNRECORDED = values['in-post'] * values['name.frequency'] * 2 ** -values['unknown.initial'];
const COURTESY = 2 ** -values['agree.rank.courtesy'];
const LIFE_LEFT = Math.exp(-1 / (values['courtesy.mean'] * DAYS_PER_YEAR));

/** How likely an officer bore the rank on each day: in post, and by courtesy for as long as he lived after it. */
const borne = ({ from, until }: Officer): Float64Array => {
  const [start, end] = [gregorianDay(...from) - FIRST, gregorianDay(...until) - FIRST];
  return Float64Array.from({ length: DAYS }, (_, t) =>
    t < start ? 0 : t < end ? 1 : COURTESY * LIFE_LEFT ** (t - end),
  );
};
const everyDay = (value: number): Float64Array => new Float64Array(DAYS).fill(value);

/** Σ over the days t from y on of d(t − y) · e(t), for every y. */
const marked = (e: Float64Array, delays: Float64Array = OWNER): Float64Array =>
  Float64Array.from({ length: DAYS }, (_, y) => {
    let sum = 0;
    for (let t = y; t < DAYS; t += 1) sum += (delays[t - y] as number) * (e[t] as number);
    return sum;
  });

const MADE: Line = { type: 'feature', object: 'slope', text: 'tariff stamp', window: '1828/1832', force: 'hard' };
const INSIDE = [gregorianDay(1828, 1, 1) - FIRST, gregorianDay(1833, 1, 1) - FIRST] as const;
const mark = (key: string, text: string, role = 'owner'): Line => ({
  type: 'mark',
  key,
  object: 'slope',
  text,
  role,
});
const ledger = (...lines: Line[]) => ledgerOf(...listOf(1830), slope('1820/1849'), MADE, ...lines);

test('when an object was made, by its features and one owner', () => {
  const db = ledger(...recorded(FERRAND), mark('m', 'Capt. J. Ferrand'));
  const e = marked(borne(FERRAND).map((value) => value + UNRECORDED));
  const byYear = new Map<number, number>();
  let all = 0;
  for (let y: number = INSIDE[0]; y < INSIDE[1]; y += 1) {
    const { year } = toGregorian((FIRST + y) as Day);
    byYear.set(year, (byYear.get(year) ?? 0) + (e[y] as number));
    all += e[y] as number;
  }
  const { withMarks } = madeOf(db, '214');
  for (const [year, weight] of byYear)
    expect(withMarks?.years.shares[year - 1820], String(year)).toBeCloseTo(weight / all, 4);
});

test.each([
  ['strangers', [], 1],
  ['kin', [{ type: 'kin', person: 'a', relation: 'kin', relative: 'b' } as Line], values['chain.kin']],
])('who held it, by two owners who are %s', (_name, kin, factor) => {
  const db = ledger(
    ...recorded(FERRAND),
    ...recorded(LISLE),
    ...kin,
    mark('m', 'Capt. J. Ferrand'),
    mark('n', 'Capt. M. Lisle'),
  );
  const of = (officer: Officer) => ({ person: officer.name as string | null, sums: marked(borne(officer)) });
  const nobody = { person: null, sums: marked(everyDay(UNRECORDED)) };
  const chains = [of(FERRAND), nobody].flatMap((first) =>
    [of(LISLE), nobody].map((second) => {
      let weight = 0;
      for (let y: number = INSIDE[0]; y < INSIDE[1]; y += 1)
        weight += (first.sums[y] as number) * (second.sums[y] as number);
      const joined = first.person !== null && second.person !== null ? factor : 1;
      return { holders: [first.person, second.person], weight: weight * joined };
    }),
  );
  const all = chains.reduce((sum, { weight }) => sum + weight, 0);
  const answer = provenanceOf(db, '214', 5);
  expect(answer.chains).toHaveLength(4);
  for (const { share, holders } of answer.chains) {
    const named = new Map(holders.map(({ mark: id, person }) => [id, person?.name ?? null]));
    const slow = chains.find(({ holders: [a, b] }) => a === named.get('m1') && b === named.get('m2'));
    expect(Math.abs(share - (slow?.weight ?? 0) / all)).toBeLessThan(0.002);
  }
  const ferrand = chains
    .filter(({ holders }) => holders[0] === FERRAND.name)
    .reduce((sum, { weight }) => sum + weight, 0);
  expect(answer.holders.find(({ person }) => person?.key === 'a')?.share).toBeCloseTo(ferrand / all, 3);
});

test('who held it, where the first mark may be its maker’s and name nobody', () => {
  const db = ledger(
    ...recorded(FERRAND),
    ...recorded(LISLE),
    { type: 'kin', person: 'a', relation: 'kin', relative: 'b' },
    mark('m', 'Capt. J. Ferrand', 'owner 0.6, maker 0.4'),
    mark('n', 'Capt. M. Lisle'),
  );
  const makings = INSIDE[1] - INSIDE[0];
  const sumOver = (sums: Float64Array): number => {
    let sum = 0;
    for (let y: number = INSIDE[0]; y < INSIDE[1]; y += 1) sum += sums[y] as number;
    return sum;
  };
  // Each role's days add up to its weight; the words of a maker's mark weigh as much as those of an owner's in the mean.
  const scaled = (role: number, delays: Float64Array): number =>
    (role * makings) / sumOver(marked(everyDay(1), delays));
  const [asOwner, asMaker] = [scaled(0.6, OWNER), scaled(0.4, MAKER)];
  const words = (asOwner * sumOver(marked(borne(FERRAND).map((value) => value + UNRECORDED)))) / makings / 0.6;
  const times = (sums: Float64Array, by: number) => sums.map((value) => value * by);
  const firsts = [
    { person: FERRAND.name as string | null, sums: times(marked(borne(FERRAND)), asOwner), isNobody: false },
    { person: null, sums: times(marked(everyDay(UNRECORDED)), asOwner), isNobody: false },
    { person: null, sums: times(marked(everyDay(1), MAKER), asMaker * words), isNobody: true },
  ];
  const seconds = [
    { person: LISLE.name as string | null, sums: marked(borne(LISLE)) },
    { person: null, sums: marked(everyDay(UNRECORDED)) },
  ];
  const chains = firsts.flatMap((first) =>
    seconds.map((second) => {
      const weight = sumOver(first.sums.map((value, y) => value * (second.sums[y] as number)));
      const joined = first.person !== null && second.person !== null ? values['chain.kin'] : 1;
      return { first, second, weight: weight * joined };
    }),
  );
  const all = chains.reduce((sum, { weight }) => sum + weight, 0);
  const part = (isMeant: (chain: (typeof chains)[number]) => boolean): number =>
    chains.filter(isMeant).reduce((sum, { weight }) => sum + weight, 0) / all;
  const answer = provenanceOf(db, '214', 6);
  expect(answer.chains).toHaveLength(6);
  for (const { share, holders } of answer.chains) {
    const [m, n] = ['m1', 'm2'].map((id) => holders.find(({ mark: on }) => on === id));
    const expected = part(
      ({ first, second }) =>
        first.isNobody === (m === undefined) &&
        first.person === (m?.person?.name ?? null) &&
        second.person === (n?.person?.name ?? null),
    );
    expect(Math.abs(share - expected)).toBeLessThan(0.002);
  }
  expect(answer.uncertainRoles[0]?.noHolder).toBeCloseTo(
    part(({ first }) => first.isNobody),
    3,
  );
  expect(answer.holders.find(({ person }) => person?.key === 'b')?.share).toBeCloseTo(
    part(({ second }) => second.person !== null),
    3,
  );
});
