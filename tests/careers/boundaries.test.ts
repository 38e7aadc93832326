import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addPassed,
  allPassed,
  type Boundaries,
  chancePassed,
  firstPassed,
  type Passed,
  type Stretch,
  solveBoundaries,
} from '../../src/careers/boundaries.ts';

const OUTER = { first: -70, last: 70 };

/** Weights fall to nothing (below 1e-12) within this many days at the ratios tried. */
const FAR = 60;

/** Every assignment of days, with its weight. */
function everyAssignment({ earliest, latest, stretches }: Boundaries): { days: number[]; weight: number }[] {
  let all = [{ days: [] as number[], weight: 1 }];
  earliest.forEach((first, k) => {
    const lower = Math.max(first, -FAR);
    const upper = Math.min(latest[k] ?? FAR, FAR);
    const next: typeof all = [];
    for (const { days, weight } of all) {
      for (let day = lower; day <= upper; day++) {
        const stretch = stretches[k - 1];
        const length = day - (days.at(-1) ?? day);
        if (stretch !== undefined && (length < stretch.least || length > stretch.most)) continue;
        next.push({ days: [...days, day], weight: weight * (stretch?.ratio ?? 1) ** length });
      }
    }
    all = next;
  });
  return all;
}

/** Tightens bounds until every day of them belongs to some assignment. */
function tightened({ earliest, latest, stretches }: Boundaries): Boundaries {
  const lower = [...earliest];
  const upper = [...latest];
  for (let round = 0; round < lower.length; round++) {
    stretches.forEach(({ least, most }, k) => {
      lower[k + 1] = Math.max(lower[k + 1] as number, (lower[k] as number) + least);
      upper[k + 1] = Math.min(upper[k + 1] as number, (upper[k] as number) + most);
      lower[k] = Math.max(lower[k] as number, (lower[k + 1] as number) - most);
      upper[k] = Math.min(upper[k] as number, (upper[k + 1] as number) - least);
    });
  }
  return { earliest: lower, latest: upper, stretches };
}

const anyStretch = (gap: boolean): fc.Arbitrary<Stretch> =>
  gap
    ? fc.record({ ratio: fc.constant(1), least: fc.nat(1), most: fc.constant(Infinity) })
    : fc.record({
        ratio: fc.constantFrom(0.3, 0.5),
        least: fc.integer({ min: 1, max: 3 }),
        most: fc.constantFrom(Infinity, Infinity, 5, 12),
      });

/** One to three posts, some parted by gaps, with closed bounds but perhaps for the first start and the last end. */
const anyBoundaries: fc.Arbitrary<Boundaries> = fc
  .tuple(fc.array(fc.boolean(), { maxLength: 2 }), fc.boolean(), fc.boolean())
  .chain(([gaps, openFirst, openLast]) => {
    const kinds = [false, ...gaps.flatMap((gap) => (gap ? [true, false] : [false]))];
    return fc
      .tuple(
        fc.tuple(...kinds.map(anyStretch)),
        fc.array(fc.tuple(fc.integer({ min: -6, max: 2 }), fc.nat(6)), {
          minLength: kinds.length + 1,
          maxLength: kinds.length + 1,
        }),
      )
      .map(([stretches, windows]) =>
        tightened({
          earliest: windows.map(([first], k) => (k === 0 && openFirst ? -Infinity : first + 3 * k)),
          latest: windows.map(([first, more], k) => (k === kinds.length && openLast ? Infinity : first + 3 * k + more)),
          stretches,
        }),
      );
  })
  .filter(({ earliest, latest }) => earliest.every((first, k) => first <= (latest[k] as number)));

describe('boundaries', () => {
  test('the chance of each day is the share of all assignments', () => {
    fc.assert(
      fc.property(anyBoundaries, (boundaries) => {
        const passed = solveBoundaries(boundaries, OUTER);
        const all = everyAssignment(boundaries);
        const whole = all.reduce((sum, { weight }) => sum + weight, 0);
        passed.forEach((one, k) => {
          const weightOn = new Map<number, number>();
          for (const { days, weight } of all) {
            const day = days[k] as number;
            weightOn.set(day, (weightOn.get(day) ?? 0) + weight);
          }
          let before = 0;
          for (let day = -FAR; day <= FAR; day++) {
            before += weightOn.get(day) ?? 0;
            expect(chancePassed(one, day)).toBeCloseTo(before / whole, 9);
          }
        });
      }),
      { seed: 620, numRuns: 150 },
    );
  });

  test('adding chances to days is the same as asking for each', () => {
    fc.assert(
      fc.property(anyBoundaries, fc.integer({ min: -50, max: 20 }), fc.nat(60), (boundaries, from, length) => {
        for (const one of solveBoundaries(boundaries, OUTER)) {
          const out = new Float64Array(length);
          const end = Math.floor(length * 0.8);
          addPassed(one, out, from, Math.min(2, end), end, -1);
          for (let at = 0; at < length; at++) {
            const expected = at >= Math.min(2, end) && at < end ? -chancePassed(one, from + at) : 0;
            expect(out[at]).toBeCloseTo(expected, 12);
          }
        }
      }),
      { seed: 164, numRuns: 300 },
    );
  });

  test('the limits of an open side leave out less than one part in a thousand million', () => {
    fc.assert(
      fc.property(anyBoundaries, (boundaries) => {
        for (const one of solveBoundaries(boundaries, OUTER)) {
          expect(chancePassed(one, firstPassed(one) - 1)).toBeLessThan(1e-9);
          expect(1 - chancePassed(one, allPassed(one))).toBeLessThanOrEqual(1e-9);
        }
      }),
      { seed: 71, numRuns: 300 },
    );
  });

  test.each<[rule: string, boundaries: Boundaries, first: number, last: number]>([
    ['only an end, before a day: the start follows it', one(-Infinity, 9, -Infinity, 10), -70, 10],
    ['only a start, after a day: not after the outer day', one(5, Infinity, 6, Infinity), 6, Infinity],
    ['nothing at all: within the outer days', one(-Infinity, Infinity, -Infinity, Infinity), -70, Infinity],
  ])('without a sum of their own chances are kept within the outer days: %s', (_rule, boundaries, first, last) => {
    const [start, end] = solveBoundaries(boundaries, OUTER) as [Passed, Passed];
    expect(end.first).toBe(first);
    expect(chancePassed(end, last)).toBe(1);
    expect(chancePassed(start, 70)).toBe(1);
    expect([...start.table, ...end.table].every((chance) => chance >= 0 && chance <= 1)).toBe(true);
  });

  test('an open boundary within a chain is followed as far as it weighs', () => {
    const boundaries: Boundaries = {
      earliest: [-Infinity, -Infinity, 4],
      latest: [1, 3, 5],
      stretches: [
        { ratio: 0.3, least: 1, most: Infinity },
        { ratio: 0.5, least: 1, most: Infinity },
      ],
    };
    const all = everyAssignment(boundaries);
    const whole = all.reduce((sum, { weight }) => sum + weight, 0);
    const passed = solveBoundaries(boundaries, OUTER);
    for (let day = -10; day <= 6; day++) {
      for (const k of [0, 1, 2]) {
        const before = all.reduce((sum, { days, weight }) => ((days[k] as number) <= day ? sum + weight : sum), 0);
        expect(chancePassed(passed[k] as Passed, day)).toBeCloseTo(before / whole, 9);
      }
    }
  });

  test('no boundary is followed for more than a thousand years', () => {
    const boundaries: Boundaries = {
      earliest: [-9_000_000, -9_000_000 + 1, 40],
      latest: [10, 20, 9_000_000],
      stretches: [
        { ratio: 0.999, least: 1, most: Infinity },
        { ratio: 0.999, least: 1, most: Infinity },
      ],
    };
    const passed = solveBoundaries(boundaries, OUTER);
    expect(passed.map(({ table }) => table.length)).toEqual([365_251, 365_251, 365_251]);
    expect(passed.map(({ first }) => first)).toEqual([10 - 365_250, 20 - 365_250, 40]);
  });

  test('posts of days in bounds of centuries, too unlikely for any number, are spread evenly', () => {
    const boundaries: Boundaries = {
      earliest: [0, 1, 20_000],
      latest: [0, 19_999, 20_000],
      stretches: [
        { ratio: 0.9, least: 1, most: Infinity },
        { ratio: 0.9, least: 1, most: Infinity },
      ],
    };
    const [, between] = solveBoundaries(boundaries, OUTER);
    // Each day weighs the same here: all of them leave 20,000 days in post.
    expect(chancePassed(between as Passed, 10_000)).toBeCloseTo(10_000 / 19_999, 9);
  });

  test('centuries between the posts of a chain do not weigh away to nothing', () => {
    const ratio = Math.exp(-1 / 36.525); // a tenth of a year
    const boundaries: Boundaries = {
      earliest: [0, 150_000, 300_000],
      latest: [100, 150_100, 300_100],
      stretches: [
        { ratio, least: 1, most: Infinity },
        { ratio, least: 1, most: Infinity },
      ],
    };
    for (const one of solveBoundaries(boundaries, OUTER)) {
      expect(one.table.every((chance) => chance > 0 && chance <= 1)).toBe(true);
    }
  });
});

function one(startFrom: number, startTo: number, endFrom: number, endTo: number): Boundaries {
  return {
    earliest: [startFrom, endFrom],
    latest: [startTo, endTo],
    stretches: [{ ratio: 0.5, least: 1, most: Infinity }],
  };
}
