import { expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import {
  customLadder,
  isKeptAsCourtesy,
  type Ladder,
  mainSteps,
  openRank,
  shippedLadder,
  shippedServices,
  withRanks,
} from '../../src/services/ladder.ts';
import { idOf } from '../../src/services/rank-words.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import { NO_END, NO_START } from '../../src/time/span.ts';

const shipped = (service: string): Ladder => {
  const ladder = shippedLadder(service);
  if (ladder === undefined) throw new Error(`no ladder for ${service}`);
  return ladder;
};
const definition = (service: string, id: string) => shipped(service).ranks.find(({ rank }) => rank.id === id);
const titles = (service: string): string[] => mainSteps(shipped(service)).map(({ title }) => title);

test('ladders ship for the services of printed lists', () =>
  expect(shippedServices()).toEqual(
    expect.arrayContaining(['army', 'navy', 'marines', 'company', 'militia', 'civil', 'clergy', 'us-army', 'us-navy']),
  ));

test.each(['reeves', 'constructor', '__proto__', ''])('there is no ladder for %j', (service) =>
  expect(shippedLadder(service)).toBeUndefined(),
);

test('a ladder is made once', () => expect(shippedLadder('army')).toBe(shippedLadder('army')));

test.each(shippedServices().map((each) => [each]))('the ladder of %s holds together', (service) => {
  const { ranks, hasOrder } = shipped(service);
  expect(hasOrder).toBe(true);
  expect(new Set(ranks.map(({ rank }) => rank.id)).size).toBe(ranks.length);
  for (const { rank, existed } of ranks) {
    expect(rank).toMatchObject({ service, id: idOf(rank.title), order: expect.any(Number) });
    expect(['yes', 'sometimes', 'no']).toContain(rank.courtesy);
    expect(existed.from).toBeLessThan(existed.until);
  }
});

test.each(shippedServices().map((each) => [each]))(
  'main steps of %s are numbered in order, lasting, and of the line',
  (service) => {
    const steps = mainSteps(shipped(service));
    expect(steps.map(({ step }) => step)).toEqual(steps.map((_, index) => index));
    for (const [index, rank] of steps.entries()) {
      expect(rank).toMatchObject({ concurrent: false });
      expect(rank.branch).toBeUndefined();
      if (index > 0) expect(rank.order).toBeGreaterThan(steps[index - 1]?.order ?? Infinity);
    }
  },
);

test.each([
  ['army', ['Ensign', 'Lieutenant', 'Captain', 'Major', 'Lieutenant-Colonel', 'Colonel', 'Major-General']],
  ['navy', ['Midshipman', 'Lieutenant', 'Commander', 'Captain', 'Rear-Admiral']],
  ['marines', ['Second Lieutenant', 'Lieutenant', 'Captain', 'Major', 'Lieutenant-Colonel']],
  ['company', ['Ensign', 'Lieutenant', 'Captain', 'Major', 'Lieutenant-Colonel', 'Colonel']],
  ['us-navy', ['Midshipman', 'Lieutenant', 'Captain']],
  ['company-marine', []],
  ['civil', []],
  ['clergy', []],
])('main steps of the %s', (service, expected) => expect(titles(service)).toEqual(expected));

test('one title in several arms is one rank; one grade under several titles is several', () => {
  const order = (id: string) => definition('army', id)?.rank.order;
  expect(shipped('army').ranks.filter(({ rank }) => rank.title === 'Lieutenant')).toHaveLength(1);
  expect(order('ensign')).toBe(order('cornet'));
  expect(order('ensign')).toBe(order('second-lieutenant'));
});

test.each([
  ['no limit', 'army', 'captain', NO_START, NO_END, ''],
  ['a last day is inside', 'army', 'ensign', NO_START, gregorianDay(1871, 10, 31), 'until 1871-10-30'],
  [
    'a year lasts to its end',
    'us-army',
    'general-of-the-army',
    gregorianDay(1866, 1, 1),
    gregorianDay(1889, 1, 1),
    'from 1866 to 1888',
  ],
  ['a month begins on its first', 'navy', 'lieutenant-commander', gregorianDay(1914, 3, 1), NO_END, 'from 1914-03'],
  [
    'an approximate limit reaches five years',
    'army',
    'troop-quartermaster',
    NO_START,
    gregorianDay(1816, 1, 1),
    'until about 1810',
  ],
])('existed: %s', (_rule, service, id, from, until, limits) => {
  const found = definition(service, id);
  expect(found?.limits).toBe(limits);
  expect(found?.existed.from).toBe(from);
  expect(Math.abs((found?.existed.until ?? 0) - until) <= 1 || found?.existed.until === until).toBe(true);
});

test.each([
  ['army', 'captain', true],
  ['army', 'lieutenant', false],
  ['army', 'brigadier-general', false], // kept by some
  ['navy', 'commander', true],
  ['navy', 'lieutenant', false],
])('kept as a courtesy: %s %s', (service, id, expected) => {
  const rank = definition(service, id)?.rank;
  expect(rank && isKeptAsCourtesy(rank)).toBe(expected);
});

test.each(['adjutant', 'quartermaster', 'paymaster', 'brigade-major'])('%s is held beside a rank', (id) =>
  expect(definition('army', id)?.rank.concurrent).toBe(true),
);

test.each(['collector', 'judge'])('%s is an office of its own', (id) =>
  expect(definition('civil', id)?.rank.concurrent).toBe(false),
);

test('a ledger’s own ladder', () => {
  const ladder = customLadder('wardens', [
    { title: 'Under-Warden', order: 1 },
    { title: 'Warden', order: 2, abbreviations: ['Wdn.', 'W.'], courtesy: 'yes' },
  ]);
  expect(ladder).toMatchObject({ service: 'wardens', hasOrder: true });
  expect(ladder.ranks[1]).toMatchObject({
    rank: { id: 'warden', title: 'Warden', order: 2, step: undefined, courtesy: 'yes', concurrent: false },
    forms: [
      { text: 'Wdn.', columnOnly: false },
      { text: 'W.', columnOnly: true },
    ],
  });
});

test('a ladder without places has no order', () =>
  expect(customLadder('wardens', [{ title: 'Warden' }]).hasOrder).toBe(false));

test('a shipped rank is corrected by its title, and its abbreviations are added to', () => {
  const before = shipped('army');
  const ladder = withRanks(before, [
    { title: 'brigadier general', courtesy: 'yes', abbreviations: ['Brdr.'] },
    { title: 'Provost', order: 36 },
  ]);
  const brigadier = ladder.ranks.find(({ rank }) => rank.id === 'brigadier-general');
  expect(brigadier).toMatchObject({
    rank: { order: 85, courtesy: 'yes' },
    limits: 'until 1920',
    forms: expect.arrayContaining([expect.objectContaining({ text: 'Brdr.' })]),
  });
  expect(ladder.ranks).toHaveLength(before.ranks.length + 1);
  expect(definition('army', 'brigadier-general')?.rank.courtesy).toBe('sometimes');
});

test('a service without a ladder takes a rank as it is written', () =>
  expect(openRank('wardens', ' Petty-Warden ')).toMatchObject({
    id: 'petty-warden',
    title: 'Petty-Warden',
    order: undefined,
    step: undefined,
    courtesy: 'no',
  }));

test.each([
  ['no letter in an open rank', () => openRank('wardens', ' - ')],
  ['no letter in a title', () => customLadder('wardens', [{ title: '.' }])],
  ['a place that is no number', () => customLadder('wardens', [{ title: 'Warden', order: Number.NaN }])],
])('refused: %s', (_rule, call) => expect(call).toThrow(HeldbyError));
