import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { linksOf } from '../../src/attribution/chain-score.ts';
import { orderedTotals } from '../../src/attribution/ordered-total.ts';
import { everyChoice, holderWithin } from './every-chain.ts';
import { type AnyHolder, prepared, tableOf } from './prepared.ts';

const made = new Array(30).fill(1, 0, 10).fill(0, 10);
const holder = (id: number, from: number, weight: number, surname = `s${id}`): AnyHolder => ({
  person: `p${id}`,
  surnames: [surname],
  from,
  weights: [weight, weight, weight],
});

describe('all chains in the order of expected days', () => {
  // The days of any two holders of different marks are far apart, so that every chain has its own order by them alone.
  const marks = [
    prepared(0, [holder(1, 0, 1, 'holt'), holder(2, 24, 0.5), holder(3, 12, 0.3)]),
    prepared(1, [
      holder(1, 4, 1, 'holt'),
      holder(4, 16, 0.2, 'holt'),
      { surnames: ['holt'], from: 20, weights: [0.1] },
    ]),
    prepared(2, [
      holder(5, 8, 0.7),
      holder(2, 27, 0.4),
      holder(4, 22, 0.6, 'holt'),
      { isNobody: true, from: 10, weights: [0.2] },
    ]),
  ];
  const isKin = (a: string, b: string): boolean => a === 'p3' && b === 'p5';
  const { table, relations, order } = tableOf(made, marks, isKin);
  const ordered = orderedTotals(table, marks, relations, order);
  const all = everyChoice([3, 3, 4]).map((assigned) => {
    let sum = 0;
    for (const [k, weight] of table.nodes.weight.entries()) {
      sum += assigned.reduce((value, c, m) => value * (table.single[m]?.[c]?.weight[k] ?? 0), weight);
    }
    const from = (m: number): number => marks[m]?.holders[assigned[m] ?? 0]?.held.from ?? 0;
    const inOrder = [0, 1, 2].sort((a, b) => from(a) - from(b));
    return { assigned, weight: sum * linksOf(assigned, inOrder, relations) };
  });
  const total = all.reduce((sum, { weight }) => sum + weight, 0);

  test('the sum is that of every chain with its links', () => expect(ordered.everything).toBeCloseTo(total, 10));

  test('one chain weighs what it adds to the sum', () => {
    for (const { assigned, weight } of all) expect(ordered.weightOf(assigned)).toBeCloseTo(weight, 10);
  });

  test.each([0, 1, 2, 3, 4, 5, 6, 7])('without holder %i', (number) => {
    const without = all
      .filter(({ assigned }) => assigned.every((c, m) => relations.numberOf[m]?.[c] !== number))
      .reduce((sum, { weight }) => sum + weight, 0);
    expect(ordered.sharesWithout([(other) => other === number])[0]).toBeCloseTo(without / total, 10);
  });
});

describe('where the order of two marks hangs on the rest', () => {
  const SIZE = 60;
  const days = Array.from({ length: SIZE }, (_, y) => (y < 30 ? 1 + (y % 3) : 0));
  const areKin = (a: string, b: string): boolean => a === 'p5' && b === 'p6';
  const rest: AnyHolder[] = [
    { surnames: ['holt'], from: 0, weights: new Array(SIZE).fill(0.05) },
    { isNobody: true, from: 5, weights: new Array(50).fill(0.1) },
  ];
  const anyMarks = fc
    .array(fc.uniqueArray(holderWithin(SIZE, 25), { minLength: 1, maxLength: 3, selector: ({ person }) => person }), {
      minLength: 2,
      maxLength: 4,
    })
    .map((marks) => marks.map((named, place) => prepared(place, [...named, ...rest])));

  test('the sum is that of every chain as it weighs by itself in each order', () => {
    let unsure = 0;
    fc.assert(
      fc.property(anyMarks, (marks) => {
        const { table, relations, order } = tableOf(days, marks, areKin);
        const ordered = orderedTotals(table, marks, relations, order);
        const sum = everyChoice(marks.map(({ holders }) => holders.length)).reduce(
          (all, assigned) => all + ordered.weightOf(assigned),
          0,
        );
        expect(sum / ordered.everything).toBeCloseTo(1, 9);
        if (!order.isSure) unsure += 1;
      }),
      { seed: 113, numRuns: 40 },
    );
    expect(unsure).toBeGreaterThan(20);
  });

  test('chains are drawn as often as they weigh', () =>
    fc.assert(
      fc.property(anyMarks, (marks) => {
        const { table, relations, order } = tableOf(days, marks, areKin);
        const ordered = orderedTotals(table, marks, relations, order);
        let state = 7;
        const random = (): number => {
          state = (state * 48_271) % 2_147_483_647;
          return state / 2_147_483_647;
        };
        const many = 4000;
        const drawn = ordered.draw(many, random);
        expect(drawn).toHaveLength(many);
        const times = new Map<string, number>();
        for (const assigned of drawn) times.set(assigned.join(), (times.get(assigned.join()) ?? 0) + 1);
        for (const assigned of everyChoice(marks.map(({ holders }) => holders.length))) {
          const share = ordered.weightOf(assigned) / ordered.everything;
          const often = (times.get(assigned.join()) ?? 0) / many;
          // Five standard deviations, and for the rarest a few draws.
          expect(Math.abs(often - share)).toBeLessThan(5 * Math.sqrt((share * (1 - share)) / many) + 5 / many);
        }
      }),
      { seed: 127, numRuns: 15 },
    ));
});
