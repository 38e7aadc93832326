import { expect, test } from 'vitest';
import { daysInChains } from '../../src/attribution/chain-days.ts';
import { overlayTrees } from '../../src/attribution/chain-marks.ts';
import { ANY_DAY } from '../../src/dating/delay.ts';
import { prepared } from './prepared.ts';

const delay = (k: number): number => (k < 0 ? 0 : 0.6 * 0.2 * 0.8 ** k + 0.4 * 0.03 * 0.97 ** k);

test('the days of a mark in a chain take in what the other marks say of the making', () => {
  const marks = [
    prepared(0, [{ person: 'p1', from: 2, weights: [1, 1, 1, 1, 1, 1, 1, 1] }]),
    prepared(1, [{ person: 'p2', from: 6, weights: [1] }]),
    prepared(2, [{ person: 'p3', from: 1, weights: [3, 4] }], { law: ANY_DAY, detached: true }),
  ];
  const weights = Float64Array.of(0.2, 0.5, 0.1, 0.1, 0.1);
  const days = daysInChains({ firstDay: 3, weights }, marks, overlayTrees(marks))([0, 0, 0]);
  const expected = Array.from({ length: 8 }, (_, i) => {
    const t = 2 + i;
    let sum = 0;
    for (const [k, weight] of weights.entries()) sum += weight * delay(6 - (3 + k)) * delay(t - (3 + k));
    return sum;
  });
  const total = expected.reduce((a, b) => a + b, 0);
  const told = days[0]?.weights ?? new Float64Array(0);
  const all = told.reduce((a, b) => a + b, 0);
  for (const [i, value] of expected.entries()) expect((told[i] ?? Number.NaN) / all).toBeCloseTo(value / total, 12);
  expect([...(days[2]?.weights ?? [])]).toEqual([3, 4]);
});
