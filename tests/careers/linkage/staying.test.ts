import { describe, expect, test } from 'vitest';
import { emptyCounts, gapClass, stayingFrom } from '../../../src/careers/linkage/staying.ts';

test('gaps are taken together as they grow', () =>
  expect([1, 2, 3, 4, 5, 8, 9, 16, 17].map(gapClass)).toEqual([0, 1, 2, 2, 3, 3, 4, 4, 5]));

const chance = (log2: number | undefined): number => 2 ** (log2 ?? Number.NaN);

describe('stayingFrom', () => {
  const counts = emptyCounts(10);
  counts.open.set([1000, 100, 60]);
  counts.found.set([900, 20, 3]);
  const seen = { ...counts, newMen: 80, entries: 980 };
  const staying = stayingFrom(seen, 10, 20);

  test('the hazards are those that were seen, beside a first guess', () => {
    expect(staying.hazards[0]).toBeCloseTo((900 + 0.85 * 20) / 1020, 9);
    expect(staying.hazards[1]).toBeCloseTo((20 + 0.1 * 20) / 120, 9);
    expect(staying.newShare).toBeCloseTo((80 + 0.2 * 20) / 1000, 9);
  });

  test('to be found next at each gap, or never, adds up to 1', () => {
    for (const after of [1, 3, 10]) {
      let sum = chance(staying.log2Gone[after]);
      for (let gap = 1; gap <= after; gap++) sum += chance(staying.log2Next[gap]);
      expect(sum).toBeCloseTo(1, 9);
    }
    expect(chance(staying.log2Gone[0])).toBe(1);
  });

  test('what was never seen is not impossible', () => {
    for (const hazard of stayingFrom(emptyCounts(200), 200, 20).hazards) expect(hazard).toBeGreaterThan(0);
  });
});
