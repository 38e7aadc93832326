import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makingNodes } from '../../src/attribution/making-nodes.ts';
import { aheadOf, type TreeSums, treeSums } from '../../src/attribution/overlay-sums.ts';
import { ANY_DAY, type DelayLaw } from '../../src/dating/delay.ts';
import { sinceMaking } from './prepared.ts';

const DAYS = 30_000;
const owner = sinceMaking([0.6, 1 - 1 / 1100], [0.4, 1 - 1 / 14_600]);
const trade = sinceMaking([1, 1 - 1 / 365]);

type Given = { law: DelayLaw; from: number; length: number };
const anyMark: fc.Arbitrary<Given> = fc.record({
  law: fc.constantFrom(owner, owner, trade, ANY_DAY),
  from: fc.integer({ min: 500, max: DAYS - 1 }),
  length: fc.constantFrom(1, 30, 365, 4000, 15_000),
});
const anyMaking = fc.record({ from: fc.integer({ min: 0, max: 9000 }), length: fc.constantFrom(1, 700, 6000, 20_000) });

const sumsOf = ({ law, from, length }: Given): TreeSums => {
  const weights = new Float64Array(Math.min(length, DAYS - from)).fill(1);
  return treeSums({ place: 0, overlying: [] }, () => ({ from, weights, law }));
};

describe('nodes in place of days', () => {
  test('sums of products over 30,000 days are right to two thousandths', () =>
    fc.assert(
      fc.property(anyMaking, fc.array(anyMark, { minLength: 1, maxLength: 4 }), (making, given) => {
        const made = new Float64Array(DAYS);
        for (let i = making.from; i < Math.min(DAYS, making.from + making.length); i += 1)
          made[i] = 1 + Math.sin(i / 900) / 2;
        const marks = given.map(sumsOf);
        const joint = made.map((weight, y) => marks.reduce((product, sums) => product * aheadOf(sums, y), weight));
        const exact = joint.reduce((a, b) => a + b, 0);
        fc.pre(exact > 0);
        const nodes = makingNodes(made, joint, marks);
        let sum = 0;
        for (const [k, weight] of nodes.weight.entries()) {
          sum += marks.reduce((product, sums) => product * aheadOf(sums, nodes.day[k] ?? 0), weight);
        }
        expect(Math.abs(sum / exact - 1)).toBeLessThan(2e-3);
        expect(nodes.day.length).toBeLessThan(3000);
      }),
      { seed: 59, numRuns: 150 },
    ));

  test('few days are all nodes', () => {
    const made = new Float64Array(40).fill(1, 3, 30);
    const nodes = makingNodes(made, made, []);
    expect([...nodes.day]).toEqual(Array.from({ length: 27 }, (_, i) => i + 3));
  });
});
