import { describe, expect, test } from 'vitest';
import { assignedSums, NO_DAYS, treePart } from '../../src/attribution/chain-table.ts';
import { ANY_DAY } from '../../src/dating/delay.ts';
import { prepared, tableOf } from './prepared.ts';

const delay = (k: number): number => (k < 0 ? 0 : 0.6 * 0.2 * 0.8 ** k + 0.4 * 0.03 * 0.97 ** k);
const made = new Array(20).fill(1);

describe('a mark on each node of making', () => {
  const mark = prepared(0, [
    { person: 'p1', from: 4, weights: [1, 2, 3] },
    { from: 0, weights: new Array(20).fill(0.1) },
  ]);
  const { table } = tableOf(made, [mark]);

  test('its weight is the sum over later days, scaled, and its day the mean of them', () => {
    const scale = table.scale[0] ?? Number.NaN;
    for (const [k, y] of table.nodes.day.entries()) {
      const days = [4, 5, 6].map((t) => (t - 3) * delay(t - y));
      const sum = days.reduce((a, b) => a + b, 0);
      expect((table.single[0]?.[0]?.weight[k] ?? Number.NaN) * scale).toBeCloseTo(sum, 12);
      const mean = days.reduce((all, value, i) => all + value * (4 + i), 0) / sum;
      if (sum > 0) expect(table.single[0]?.[0]?.expected[0]?.[k]).toBeCloseTo(mean, 9);
    }
  });

  test('the largest weight of any holder is 1', () => {
    const weights = (table.single[0] ?? []).flatMap(({ weight }) => [...weight]);
    expect(Math.max(...weights)).toBeCloseTo(1, 12);
  });

  test('a mark kept out of the dating weighs the same whenever the object was made', () => {
    const detached = prepared(0, [{ person: 'p1', from: 4, weights: [1, 2, 3] }], { law: ANY_DAY, detached: true });
    const alone = tableOf(made, [detached]).table.single[0]?.[0];
    expect(new Set(alone?.weight)).toEqual(new Set([1]));
    expect(alone?.expected[0]?.[15]).toBeCloseTo((4 + 2 * 5 + 3 * 6) / 6, 12);
  });
});

test('marks over each other: on each node both days in order', () => {
  const marks = [
    prepared(0, [{ person: 'p1', from: 4, weights: [1, 2, 3] }]),
    prepared(1, [{ person: 'p2', from: 3, weights: [1, 1, 1, 1] }], { over: 'm1' }),
  ];
  const { table } = tableOf(made, marks);
  const tree = table.trees[0];
  const sums = assignedSums((place, holder) => marks[place]?.holders[holder]?.held ?? NO_DAYS);
  const part = tree && treePart(tree, [0, 1], (timed) => sums.sumsOf(tree, () => 0, timed), table);
  const scale = (table.scale[0] ?? 1) * (table.scale[1] ?? 1);
  for (const [k, y] of table.nodes.day.entries()) {
    let [sum, mean] = [0, 0];
    for (let a = 4; a <= 6; a += 1) {
      for (let b = Math.max(a, 3); b <= 6; b += 1) {
        const value = (a - 3) * delay(a - y) * delay(b - y);
        sum += value;
        mean += value * b;
      }
    }
    expect((part?.weight[k] ?? Number.NaN) * scale).toBeCloseTo(sum, 12);
    if (sum > 0) expect(part?.expected[1]?.[k]).toBeCloseTo(mean / sum, 9);
  }
});
