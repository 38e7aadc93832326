import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import { delayed, delayLaw, fallenOff } from '../../src/dating/delay.ts';
import type { MarkRole } from '../../src/dating/mark-roles.ts';

const YEAR = DAYS_PER_YEAR;

/** Delays of whole days by their weights, written out; a long tail is cut far beyond any horizon tried here. */
function delays(role: MarkRole): (k: number) => number {
  const exponential = (meanYears: number): ((k: number) => number) => {
    let total = 0;
    for (let k = 0; k < meanYears * YEAR * 40; k += 1) total += Math.exp(-k / (meanYears * YEAR));
    return (k) => Math.exp(-k / (meanYears * YEAR)) / total;
  };
  const [trade, soon, late] = [exponential(1), exponential(3), exponential(40)];
  return role === 'owner' ? (k) => 0.6 * soon(k) + 0.4 * late(k) : trade;
}

describe('delay after the making', () => {
  test.each<[role: MarkRole]>([['maker'], ['retailer'], ['owner']])(
    '%s: as the sum over every day of making',
    (role) => {
      const d = delays(role);
      fc.assert(
        fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 6 }), (few) => {
          const made = new Float64Array(1200);
          for (const [i, value] of few.entries()) made[i * 173] = value;
          const law = delayed(made, delayLaw(role, DEFAULTS));
          for (let t = 0; t < made.length; t += 57) {
            let sum = 0;
            for (let y = 0; y <= t; y += 1) sum += (made[y] ?? 0) * d(t - y);
            expect(law[t]).toBeCloseTo(sum, 12);
          }
        }),
        { seed: 5, numRuns: 10 },
      );
    },
  );

  test.each<[role: MarkRole]>([['depository'], ['carrier'], ['sale'], ['other']])(
    '%s: any later day, falling off by the calendar',
    (role) => {
      const made = new Float64Array(1000);
      made[100] = 0.25;
      made[400] = 0.75;
      const law = delayed(made, delayLaw(role, DEFAULTS));
      expect(law[99]).toBe(0);
      expect(law[100]).toBeCloseTo(0.25 * Math.exp(-100 / (40 * YEAR)), 12);
      expect(law[999]).toBeCloseTo(Math.exp(-999 / (40 * YEAR)), 12);
    },
  );

  test('a fall-off by the calendar counts from the first day that the mark allows', () => {
    const made = new Float64Array(500);
    made[10] = 1;
    const law = delayed(made, delayLaw('sale', DEFAULTS, 200));
    expect(law[200]).toBeCloseTo(1, 12);
    expect(law[300]).toBeCloseTo(Math.exp(-100 / (40 * YEAR)), 12);
    const [part] = delayLaw('sale', DEFAULTS, 200);
    const fallen = part && fallenOff(Float64Array.of(2, 2), 300, part);
    expect(fallen?.[1]).toBeCloseTo(2 * Math.exp(-101 / (40 * YEAR)), 12);
  });
});
