import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { jointMaking } from '../../src/attribution/joint-making.ts';
import { normalised } from '../../src/dating/density.ts';
import type { Day } from '../../src/time/span.ts';
import { OWNER, prepared } from './prepared.ts';

const SIZE = 25;
const delay = (k: number): number => 0.6 * 0.2 * 0.8 ** k + 0.4 * 0.03 * 0.97 ** k;
const making = (made: readonly number[]) => ({ from: 700 as Day, weights: Float64Array.from(made) });
const anyMark = fc.record({
  from: fc.integer({ min: 0, max: 20 }),
  weights: fc.array(fc.integer({ min: 0, max: 5 }), { minLength: 1, maxLength: 5 }),
});

describe('the making by features and marks together', () => {
  test('agrees with the product of sums over every later day', () =>
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 3 }), { minLength: SIZE, maxLength: SIZE }),
        fc.array(anyMark, { maxLength: 3 }),
        (made, given) => {
          const expected = made.map((g, y) =>
            given.reduce((product, { from, weights }) => {
              let sum = 0;
              for (const [i, weight] of weights.entries()) if (from + i >= y) sum += weight * delay(from + i - y);
              // A mark that no day is left for says nothing.
              return weights.some((weight) => weight > 0) ? product * sum : product;
            }, g),
          );
          const total = expected.reduce((a, b) => a + b, 0);
          fc.pre(total > 0);
          const joint = jointMaking(
            making(made),
            given.map(({ from, weights }, place) => prepared(place, [{ person: 'p1', from, weights }])),
          );
          for (const [y, value] of expected.entries()) expect(joint.density.weights[y]).toBeCloseTo(value / total, 9);
          expect(joint.excluded).toBe(false);
        },
      ),
      { seed: 61, numRuns: 100 },
    ));

  test('marks that leave no day: the features stand, and it is told', () => {
    const made = new Array(SIZE).fill(0).fill(1, 20);
    const early = prepared(0, [{ person: 'p1', from: 2, weights: [1, 1] }]);
    const joint = jointMaking(making(made), [early]);
    expect(joint.excluded).toBe(true);
    expect(normalised(joint.density)?.weights[22]).toBeCloseTo(0.2, 12);
    expect(jointMaking(making(made), [{ ...early, detached: true }]).excluded).toBe(false);
  });

  test('the law of the role counts: a mark soon after the making draws it near', () => {
    const made = new Array(SIZE).fill(1);
    const joint = jointMaking(making(made), [prepared(0, [{ person: 'p1', from: 20, weights: [1] }], { law: OWNER })]);
    expect(joint.density.weights[20]).toBeGreaterThan(joint.density.weights[5] ?? Number.NaN);
    expect(joint.density.weights[21]).toBe(0);
  });
});
