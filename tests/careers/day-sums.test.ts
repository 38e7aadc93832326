import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import type { Passed } from '../../src/careers/boundaries.ts';
import type { Membership } from '../../src/careers/career.ts';
import { daySums } from '../../src/careers/day-sums.ts';
import { adultLife, styleKept } from '../../src/careers/life-membership.ts';
import { inPost } from '../../src/careers/membership.ts';
import { ALL_TIME, type Day } from '../../src/time/span.ts';

const day = (number: number): Day => number as Day;

const ratio = fc.option(fc.double({ min: 0.9, max: 0.999, noNaN: true }), { nil: 0 });

/** A boundary somewhere in a table of rising chances, open on either side or closed. */
const passedFrom = (least: number, open: { before: boolean; after: boolean }): fc.Arbitrary<Passed> =>
  fc
    .record({
      first: fc.integer({ min: least, max: least + 300 }),
      steps: fc.array(fc.double({ min: 0.01, max: 1, noNaN: true }), { minLength: 1, maxLength: 60 }),
      before: open.before ? ratio : fc.constant(0),
      after: open.after ? ratio : fc.constant(0),
    })
    .map(({ first, steps, before, after }) => {
      const total = steps.reduce((sum, step) => sum + step, after > 0 ? 1 : 0);
      let sum = 0;
      const table = Float64Array.from(steps, (step) => {
        sum += step;
        return sum / total;
      });
      if (after === 0) table[table.length - 1] = 1;
      return { first, table, ratioBefore: before, ratioAfter: after };
    });

const AFTER = { before: false, after: true };
/** The first boundary alone may be open before, the last alone after. */
const START = passedFrom(0, { before: true, after: false });

const weightsArbitrary = fc
  .array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 20 })
  .map((few) => Float64Array.from({ length: 1200 }, (_, place) => (few[place % few.length] as number) / 1200));

/** Both ways: by running sums, and day by day. */
function bothWays(membership: Membership, weights: Float64Array): [number | undefined, number] {
  const { support } = membership;
  const from = day(Math.max(0, support.from));
  const until = day(Math.min(weights.length, support.until));
  if (until <= from) return [0, 0];
  const chances = new Float64Array(until - from);
  membership.fill(chances, from);
  const plain = chances.reduce((sum, chance, place) => sum + chance * (weights[from + place] as number), 0);
  return [membership.weighed?.(daySums(0, weights), { from, until }), plain];
}

describe('weighed by running sums as day by day', () => {
  test('a post', () => {
    fc.assert(
      fc.property(START, passedFrom(400, AFTER), weightsArbitrary, (start, end, weights) => {
        const [summed, plain] = bothWays(
          inPost(() => ({ start, end })),
          weights,
        );
        expect(summed).toBeCloseTo(plain, 12);
      }),
    );
  });

  test('a style kept after it', () => {
    fc.assert(
      fc.property(passedFrom(0, AFTER), weightsArbitrary, (end, weights) => {
        const [summed, plain] = bothWays(
          styleKept(() => end, { earliest: day(100), latest: day(Number.POSITIVE_INFINITY) }, DEFAULTS),
          weights,
        );
        expect(summed).toBeCloseTo(plain, 11);
      }),
    );
  });

  test('grown-up years', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -500, max: 1500 }),
        fc.integer({ min: 0, max: 800 }),
        weightsArbitrary,
        (first, length, weights) => {
          const [summed, plain] = bothWays(adultLife(first, first + length, ALL_TIME, DEFAULTS), weights);
          expect(summed).toBeCloseTo(plain, 12);
        },
      ),
    );
  });
});
