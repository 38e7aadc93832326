import { expect, test } from 'vitest';
import { newComparison } from '../../../src/careers/linkage/comparison.ts';
import {
  CORPS,
  CORPS_FIELD,
  LEVELS,
  PRIOR_PAIRS,
  SENIORITY,
  SENIORITY_FIELD,
} from '../../../src/careers/linkage/fields.ts';
import {
  fieldBits,
  fieldRanges,
  sharesOfLevels,
  startShares,
  weightsOf,
} from '../../../src/careers/linkage/weights.ts';

test('shares add up to 1 in each field, whatever was counted', () => {
  const counts = new Float64Array(LEVELS);
  counts[CORPS] = 300;
  const shares = sharesOfLevels(counts, startShares());
  for (const { first, until } of fieldRanges())
    expect(shares.slice(first, until).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
  expect(shares[CORPS]).toBeCloseTo((300 + PRIOR_PAIRS * 0.94) / (300 + PRIOR_PAIRS), 9);
});

test('the weight is log2(m/u), and where the value has a chance of its own, that chance times the excess', () => {
  const [m, u, excess] = [
    new Float64Array(LEVELS).fill(0.5),
    new Float64Array(LEVELS).fill(0.125),
    new Float64Array(LEVELS).fill(4),
  ];
  const weights = weightsOf(m, u, excess);
  const comparison = newComparison();
  comparison.levels.fill(-1);
  comparison.levels[SENIORITY_FIELD] = SENIORITY;
  comparison.levels[CORPS_FIELD] = CORPS;
  comparison.log2Chance[CORPS_FIELD] = Math.log2(1 / 64);
  expect(fieldBits(weights, comparison, SENIORITY_FIELD)).toBe(2); // 0.5 / 0.125
  expect(fieldBits(weights, comparison, CORPS_FIELD)).toBe(3); // 0.5 / (4 / 64)
  expect(fieldBits(weights, comparison, 0)).toBe(0);
});

/** Agreement weights of Fellegi and Sunter as published examples reckon them: m = 0.95, u = 0.01 gives log2(95). */
test('an example', () => {
  const weights = weightsOf(
    new Float64Array(LEVELS).fill(0.95),
    new Float64Array(LEVELS).fill(0.01),
    new Float64Array(LEVELS).fill(1),
  );
  expect(weights.bits[0]).toBeCloseTo(6.57, 2);
});
