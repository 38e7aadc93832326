import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { standIns } from '../../src/attribution/chain-dominance.ts';
import type { PreparedMark } from '../../src/attribution/chain-marks.ts';
import type { DelayLaw } from '../../src/dating/delay.ts';
import { everyChain } from './every-chain.ts';
import { type AnyHolder, OWNER, prepared, sinceMaking, tableOf } from './prepared.ts';

const SIZE = 40;
const made = Array.from({ length: SIZE }, (_, y) => (y < 16 ? 1 + (y % 2) : 0));
const ROUNDING = 1e-9;

type Days = readonly [from: number, length: number];
const holderOn = (days: readonly Days[], persons: number): fc.Arbitrary<AnyHolder> =>
  fc
    .record({
      id: fc.integer({ min: 1, max: persons }),
      days: fc.constantFrom(...days),
      weight: fc.constantFrom(1, 1, 0.5, 0.1),
    })
    .map(({ id, days: [from, length], weight }) => ({
      person: `p${id}`,
      surnames: [id < 5 ? 'holt' : `s${id}`],
      from,
      weights: new Array(length).fill(weight),
    }));
const marksOf = (holder: fc.Arbitrary<AnyHolder>, law: DelayLaw) =>
  fc
    .array(
      fc.tuple(
        fc.uniqueArray(holder, { minLength: 2, maxLength: 5, selector: ({ person }) => person }),
        fc.constantFrom<readonly AnyHolder[]>(
          [],
          [{ from: 0, weights: [0.2, 0.2] }],
          [{ isNobody: true, from: 4, weights: [1] }],
        ),
      ),
      { minLength: 1, maxLength: 3 },
    )
    .map((marks) => marks.map(([named, rest], place) => prepared(place, [...named, ...rest], { law })));
const EARLY_AND_LATE: readonly Days[] = [
  [2, 30],
  [2, 30],
  [6, 10],
  [24, 9],
  [26, 5],
];
const AFTER_MAKING: readonly Days[] = [
  [18, 2],
  [21, 2],
  [24, 2],
  [27, 2],
  [30, 2],
];
/** Strangers with four weights over all days, and two of one family: who comes between those loses them their link. */
const betweenTwo = fc
  .record({
    strangers: fc.array(fc.array(fc.constantFrom(1, 0.5, 0.05), { minLength: 4, maxLength: 4 }), {
      minLength: 2,
      maxLength: 4,
    }),
    from: fc.integer({ min: 6, max: 20 }),
    gap: fc.integer({ min: 1, max: 10 }),
  })
  .map(({ strangers, from, gap }) => [
    prepared(
      0,
      strangers.map((levels, c) => ({
        person: `w${c}`,
        surnames: [`w${c}`],
        from: 0,
        weights: levels.flatMap((weight) => new Array<number>(SIZE / 4).fill(weight)),
      })),
    ),
    prepared(1, [{ person: 'f1', surnames: ['holt'], from, weights: [1, 1] }]),
    prepared(2, [{ person: 'f2', surnames: ['holt'], from: from + gap, weights: [1, 1] }]),
  ]);
/**
 * Few different days and weights, so that some are alike and some are multiples of others: by one rate of delay all are
 * whose days come after every making, and only their order tells them apart.
 */
const anyMarks = fc.oneof(
  marksOf(holderOn(EARLY_AND_LATE, 12), OWNER),
  marksOf(holderOn(AFTER_MAKING, 7), sinceMaking([1, 0.9])),
  marksOf(holderOn([...EARLY_AND_LATE, ...AFTER_MAKING], 7), sinceMaking([1, 0.9])),
  betweenTwo,
);
const isKin = (a: string, b: string): boolean => a === 'p6' && b === 'p7';

const countsOf = (marks: readonly PreparedMark[], isListed: (option: number) => boolean = () => true) => {
  const { table, relations, order } = tableOf(made, marks, isKin);
  const listed = order.options.map((_, o) => isListed(o));
  const counts = standIns(order, table, relations, listed);
  const countAt = new Map(order.options.map(({ place, holder }, o) => [`${place} ${holder}`, counts[o] ?? Number.NaN]));
  const countOf = (place: number, holder: number): number => countAt.get(`${place} ${holder}`) ?? Number.NaN;
  return { table, relations, order, counts, listed, countOf };
};

describe('who can stand in for another', () => {
  test('so many others are there, with whom every chain is as heavy or heavier', () => {
    let found = 0;
    fc.assert(
      fc.property(anyMarks, fc.constantFrom(1, 3), (marks, every) => {
        const { table, relations, order, counts, listed } = countsOf(marks, (o) => every === 1 || o % every !== 0);
        const scores = new Map(everyChain(table, relations).map(({ assigned, score }) => [assigned.join(), score]));
        const chains = [...scores].map(([key, score]) => ({ assigned: key.split(',').map(Number), score }));
        for (const [o, { place, holder, mark }] of order.options.entries()) {
          const others = order.options.filter((other, a) => {
            if (other.mark !== mark || a === o || !listed[a]) return false;
            return chains
              .filter(({ assigned }) => assigned[place] === holder)
              .every(({ assigned, score }) => {
                const then = scores.get(assigned.map((c, m) => (m === place ? other.holder : c)).join());
                return (then ?? Number.NaN) >= score * (1 - ROUNDING);
              });
          });
          expect(counts[o]).toBeLessThanOrEqual(others.length);
          found += counts[o] ?? 0;
        }
      }),
      { seed: 83, numRuns: 250 },
    );
    expect(found).toBeGreaterThan(150);
  });

  test('a chain is one of (r₁ + 1) · (r₂ + 1) … of which none is lighter', () => {
    let most = 0;
    fc.assert(
      fc.property(anyMarks, (marks) => {
        const { table, relations, countOf } = countsOf(marks);
        const chains = everyChain(table, relations);
        for (const { assigned, score } of chains) {
          const many = assigned.reduce((product, c, m) => product * (countOf(m, c) + 1), 1);
          const asGood = chains.filter((other) => other.score >= score * (1 - ROUNDING)).length;
          expect(asGood).toBeGreaterThanOrEqual(many);
          most = Math.max(most, many);
        }
      }),
      { seed: 89, numRuns: 250 },
    );
    expect(most).toBeGreaterThanOrEqual(8);
  });
});

describe('holders of one mark', () => {
  const stranger = { person: 'p99', surnames: ['marl'], from: 20, weights: [1, 1, 1] };
  const namesakes = (weights: readonly number[]) =>
    weights.map(
      (weight, c): AnyHolder => ({ person: `n${c}`, surnames: ['holt'], from: 8, weights: [weight, weight] }),
    );
  const sorted = (marks: readonly PreparedMark[], holders: number): number[] => {
    const { countOf } = countsOf(marks);
    return Array.from({ length: holders }, (_, c) => countOf(0, c)).sort((a, b) => a - b);
  };

  test('namesakes alike on every node are counted once each', () => {
    expect(sorted([prepared(0, namesakes([1, 1, 1, 1])), prepared(1, [stranger])], 4)).toEqual([0, 1, 2, 3]);
  });

  test('heavier namesakes stand in for lighter ones, and not the other way round', () => {
    const { countOf } = countsOf([prepared(0, namesakes([0.25, 1, 0.5])), prepared(1, [stranger])]);
    expect([0, 1, 2].map((c) => countOf(0, c))).toEqual([2, 0, 1]);
  });

  test('not for one who may have put on another mark too, who is nearer to themselves', () => {
    const both = namesakes([1, 1]).map((one) => ({ ...one, from: 20 }));
    expect(sorted([prepared(0, namesakes([1, 1])), prepared(1, both)], 2)).toEqual([0, 0]);
  });

  test('not for one who stands on the other side of another, however much heavier', () => {
    const [first, between] = [
      { person: 'p1', surnames: ['ferrand'], from: 18, weights: [0.01] },
      { person: 'p2', surnames: ['fisk'], from: 24, weights: [1, 1, 1] },
    ];
    const two = [prepared(1, [stranger]), prepared(2, [{ ...stranger, person: 'p98', from: 29 }])];
    const { order, countOf } = countsOf([prepared(0, [first, between]), ...two]);
    expect(order.isSure).toBe(true);
    expect([countOf(0, 0), countOf(0, 1)]).toEqual([0, 0]);
    // With nobody to stand between the heavier one does.
    const early = countsOf([prepared(0, [first, between]), prepared(1, [{ ...stranger, from: 0 }])]);
    expect([early.countOf(0, 0), early.countOf(0, 1)]).toEqual([1, 0]);
  });

  test('not for marks over each other, nor by holders who are not listed', () => {
    const over = [prepared(0, namesakes([1, 1, 1])), prepared(1, [stranger], { over: 'm1' })];
    expect(sorted(over, 3)).toEqual([0, 0, 0]);
    const alone = [prepared(0, namesakes([1, 1, 1])), prepared(1, [stranger])];
    const { order, counts } = countsOf(alone, (o) => o !== 0);
    const unlisted = order.options[0];
    expect(unlisted?.place).toBe(0);
    expect([...counts].sort()).toEqual([0, 0, 0, 1]);
  });
});
