import { describe, expect, test } from 'vitest';
import { sampleOf } from '../../src/attribution/chain-sample.ts';
import { scorerOf } from '../../src/attribution/chain-score.ts';
import { orderedTotals } from '../../src/attribution/ordered-total.ts';
import { type AnyHolder, prepared, tableOf } from './prepared.ts';

const made = new Array(20).fill(1, 0, 10).fill(0, 10);
const holder = (id: number, from: number): AnyHolder => ({
  person: `p${id}`,
  surnames: ['holt'],
  from,
  weights: new Array(20).fill(0.1),
});
const marks = [prepared(0, [holder(1, 0), holder(2, 6)]), prepared(1, [holder(3, 3), holder(4, 5)])];
const { table, relations, order } = tableOf(made, marks);
const ordered = orderedTotals(table, marks, relations, order);

describe('chains drawn of those that were not looked at', () => {
  const found = [0, 1];
  const sample = sampleOf(table, marks, relations, ordered, (assigned) => assigned.join() === found.join());

  test('none of those found is among them, every other one is', () => {
    expect([...new Set(sample.chains.map((chain) => chain.join()))].sort()).toEqual(['0,0', '1,0', '1,1']);
  });

  test('each is weighed by itself, over what it weighs in the known order', () => {
    const scorer = scorerOf(table, marks, relations);
    for (const [at, chain] of sample.chains.entries()) {
      expect(sample.ratios[at]).toBeCloseTo(scorer.scoreOf(chain) / ordered.weightOf(chain), 10);
    }
  });

  test('the same are drawn each time', () =>
    expect(sampleOf(table, marks, relations, ordered, (assigned) => assigned.join() === found.join())).toEqual(sample));
});
