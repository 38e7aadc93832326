import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Assumptions, DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import { markDays } from '../../src/attribution/candidate.ts';
import {
  expectedUnswept,
  nameFrequency,
  type UnrecordedInput,
  unrecordedOn,
  unrecordedWeight,
} from '../../src/attribution/unrecorded.ts';
import { uniform } from '../../src/dating/density.ts';
import { span } from './made-up.ts';

const read = { damaged: false, seenLetters: 7 };
const mark = (rest: Partial<UnrecordedInput> = {}): UnrecordedInput => ({
  rank: 'captain',
  surname: read,
  unknownBits: 0,
  sweeps: [],
  ...rest,
});

describe('how frequent the name is', () => {
  test.each<[rule: string, surname: UnrecordedInput['surname'], expected: number]>([
    ['read in full', read, 0.0001],
    ['no surname: everybody fits', undefined, 1],
    ['damaged, one letter', { damaged: true, seenLetters: 1 }, 0.07],
    ['damaged, two letters and a half', { damaged: true, seenLetters: 2.5 }, 0.07 * 0.2 ** 1.5],
    ['damaged, many letters: never less than one surname', { damaged: true, seenLetters: 9 }, 0.0001],
    ['no letter at all', { damaged: true, seenLetters: 0 }, 0.35],
  ])('%s', (_rule, surname, expected) => expect(nameFrequency(surname, DEFAULTS)).toBeCloseTo(expected, 12));
});

describe('how many unrecorded people are expected', () => {
  const fewCaptains: Assumptions = { ...DEFAULTS, perRank: new Map([['in-post.captain', 30]]) };
  test.each<[rule: string, given: UnrecordedInput, assumptions: Assumptions, expected: number]>([
    ['a rank and a surname', mark(), DEFAULTS, 0.1],
    ['a number of its own for the rank', mark(), fewCaptains, 0.003],
    ['no rank', mark({ rank: undefined }), fewCaptains, 1],
    ['bits of a person of whom nothing else is known', mark({ unknownBits: 7 }), DEFAULTS, 0.1 / 128],
  ])('%s', (_rule, given, assumptions, expected) =>
    expect(expectedUnswept(given, assumptions)).toBeCloseTo(expected, 12),
  );
});

/** λ(t) by the rule, for the sweeps of each surname apart. */
function byTheRule(day: number, given: UnrecordedInput): number {
  const years = (days: number): number => days / DAYS_PER_YEAR;
  const frequency = given.surname?.damaged ? Math.max(0.0001, 0.07 * 0.2 ** (given.surname.seenLetters - 1)) : 0.0001;
  let left = 1;
  for (const surname of new Set(given.sweeps.map((sweep) => sweep.surname))) {
    const days = given.sweeps.filter((sweep) => sweep.surname === surname).map(({ midDay }) => midDay);
    const before = Math.max(...days.filter((x) => x <= day));
    const after = Math.min(...days.filter((x) => x > day));
    const cov = 1 - (1 - Math.exp(-years(day - before) / 20)) * (1 - Math.exp(-years(after - day) / 20));
    left -= (0.0001 / frequency) * (1 - (1 - cov + 0.1 * cov));
  }
  return 1000 * frequency * 2 ** -given.unknownBits * left;
}

describe('sweeps', () => {
  const anySweep = fc.record({
    surname: fc.constant('ferrand'),
    midDay: fc.integer({ min: -30_000, max: 60_000 }).map((half) => half / 2),
  });

  test('one surname read in full: as the rule of the nearest sweep on each side says, day by day', () =>
    fc.assert(
      fc.property(fc.array(anySweep, { maxLength: 4 }), fc.integer({ min: 0, max: 9 }), (sweeps, unknownBits) => {
        const given = mark({ sweeps, unknownBits });
        const values = unrecordedOn(span(0, 15_000), given, DEFAULTS);
        for (let day = 0; day < 15_000; day += 53) expect(values[day]).toBeCloseTo(byTheRule(day, given), 12);
      }),
      { seed: 2, numRuns: 60 },
    ));

  test('a damaged reading: each surname swept lowers its own part alone', () => {
    const given = mark({
      surname: { damaged: true, seenLetters: 4.5 },
      sweeps: [
        { surname: 'ferrand', midDay: 4000 },
        { surname: 'ferroud', midDay: 9000 },
      ],
    });
    const values = unrecordedOn(span(0, 15_000), given, DEFAULTS);
    for (let day = 0; day < 15_000; day += 101) expect(values[day]).toBeCloseTo(byTheRule(day, given), 12);
    expect(values[4000]).toBeLessThan(values[14_000] ?? 0);
  });

  test('on the day of the sweep a tenth is left, long before and after nearly all', () => {
    const values = unrecordedOn(span(0, 80_000), mark({ sweeps: [{ surname: 'ferrand', midDay: 40_000 }] }), DEFAULTS);
    expect(values[40_000]).toBeCloseTo(0.01, 12);
    expect(values[0]).toBeGreaterThan(0.099);
  });
});

test('the weight of somebody unrecorded is the mean of λ over the days of the mark', () => {
  const given = mark({ sweeps: [{ surname: 'ferrand', midDay: 500 }] });
  const weight = unrecordedWeight(given, markDays(uniform(span(0, 1000))), DEFAULTS);
  let sum = 0;
  for (let day = 0; day < 1000; day += 1) sum += byTheRule(day, given) / 1000;
  expect(weight).toBeCloseTo(sum, 10);
});
