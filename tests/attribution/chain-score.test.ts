import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { relationsOf } from '../../src/attribution/chain-relations.ts';
import { linksOf, scorerOf } from '../../src/attribution/chain-score.ts';
import { everyAssignment, type SlowChain, type SlowMark, slowChain, slowLinks } from './chain-brute.ts';
import { everyChain } from './every-chain.ts';
import { type AnyHolder, byCalendar, OWNER, prepared, sinceMaking, tableOf } from './prepared.ts';

const isKin = (a: string, b: string): boolean => a === 'p3' && b === 'p4';

describe('the factors between successive holders', () => {
  const named = (person: string | undefined, ...surnames: string[]): AnyHolder => ({
    ...(person === undefined ? {} : { person }),
    surnames,
    from: 0,
    weights: [1],
  });
  const all = [
    named('p1', 'holt'),
    named('p2', 'holt'),
    named('p3', 'marl'),
    named('p4', 'ferrand'),
    named(undefined, 'holt'),
    { isNobody: true, from: 0, weights: [1] } as const,
  ];
  const [p1, p2, p3, p4, unrecorded, nobody] = [0, 1, 2, 3, 4, 5];
  const relations = relationsOf(
    [0, 1, 2].map((place) => prepared(place, all)),
    isKin,
    DEFAULTS,
  );
  test.each<[rule: string, assigned: number[], order: number[], product: number]>([
    ['the same person twice', [p1, p1, p4], [0, 1, 2], 20],
    ['the same person, somebody else between', [p1, p4, p1], [0, 1, 2], 1],
    ['the same person, by the order of their days', [p1, p4, p1], [0, 2, 1], 20],
    ['one surname, then kin', [p1, p2, p3], [0, 1, 2], 5],
    ['kin both ways', [p4, p3, p4], [0, 1, 2], 100],
    ['unrecorded holders are never the same', [unrecorded, unrecorded, p1], [0, 1, 2], 25],
    ['nobody stands between nobody', [p1, nobody, p1], [0, 1, 2], 20],
    ['strangers', [p1, p3, p1], [0, 1, 2], 1],
    ['one mark in the order', [p1, p1, p1], [1], 1],
  ])('%s', (_rule, assigned, order, product) => expect(linksOf(assigned, order, relations)).toBe(product));
});

const SIZE = 12;
const LAWS = [OWNER, sinceMaking([1, 0.7]), byCalendar(0.9)];
const PERSONS: [who: string, surname: string][] = [
  ['p1', 'holt'],
  ['p2', 'holt'],
  ['p3', 'marl'],
  ['p4', 'ferrand'],
];
const anyDays = fc
  .tuple(fc.integer({ min: 0, max: SIZE - 1 }), fc.array(fc.constantFrom(1, 0.5, 0.25), { minLength: 1, maxLength: 6 }))
  .map(([from, weights]) => ({ from, weights: weights.slice(0, SIZE - from) }));
const anyMark = (over: number) =>
  fc.record({
    over: fc.constant(over),
    law: fc.constantFrom(...LAWS),
    namesHolder: fc.constantFrom(true, true, true, false),
    named: fc.array(fc.tuple(fc.constantFrom(...PERSONS), anyDays), { minLength: 1, maxLength: 2 }),
    unrecorded: anyDays,
    nobody: fc.option(anyDays, { nil: undefined }),
  });
type AnyMark = ReturnType<typeof anyMark> extends fc.Arbitrary<infer M> ? M : never;
type Days = AnyMark['unrecorded'];

const holdersOf = ({ named, unrecorded, nobody, namesHolder }: AnyMark) => {
  const none = { who: '', surname: '', days: nobody ?? unrecorded, isNobody: true };
  if (!namesHolder) return [none];
  const known = named.map(([[who, surname], days]) => ({ who, surname, days, isNobody: false }));
  const unknown = { who: '?', surname: 'holt', days: unrecorded, isNobody: false };
  return [...known, unknown, ...(nobody === undefined ? [] : [none])];
};
const ready = (given: AnyMark, place: number) => {
  const holders = holdersOf(given).map(
    ({ who, surname, days, isNobody }): AnyHolder => ({
      ...(who.startsWith('p') ? { person: who } : {}),
      surnames: surname === '' ? [] : [surname],
      ...days,
      ...(isNobody ? { isNobody } : {}),
    }),
  );
  const { law, over, namesHolder } = given;
  return prepared(place, holders, { law, namesHolder, over: over < 0 ? undefined : `m${over + 1}` });
};
const everyDay = ({ from, weights }: Days): number[] => [
  ...new Array<number>(from).fill(0),
  ...weights,
  ...new Array<number>(SIZE - from - weights.length).fill(0),
];
const slow = (given: AnyMark): SlowMark => ({
  law: given.law,
  over: given.over,
  namesHolder: given.namesHolder,
  holders: holdersOf(given).map(({ days, ...holder }) => ({ ...holder, held: everyDay(days) })),
});
/** Two marks expected on the same day by all but rounding have no order to compare. */
const hasOrder = ({ order, expected }: SlowChain): boolean =>
  order.every((place, i) => i === 0 || (expected[place] ?? 0) - (expected[order[i - 1] ?? 0] ?? 0) > 1e-6);

describe('a whole chain', () => {
  const made = Array.from({ length: SIZE }, (_, y) => (y < 6 ? 1 + (y % 3) : 0));

  test('weighs what the walk over every making and every day of its marks says, and stands in that order', () => {
    let compared = 0;
    fc.assert(
      fc.property(
        fc
          .constantFrom([-1], [-1, -1], [-1, 0], [1, -1], [-1, 0, 1], [-1, 0, -1], [-1, -1, -1])
          .chain((shape) => fc.tuple(...shape.map(anyMark))),
        (given) => {
          const marks = given.map(ready);
          const { table, relations } = tableOf(made, marks, isKin);
          const scorer = scorerOf(table, marks, relations);
          const scale = table.scale.reduce((product, by) => product * by, 1);
          const slowly = given.map(slow);
          for (const assigned of everyAssignment(slowly)) {
            const chain = slowChain(made, slowly, assigned);
            if (chain.weight === 0) expect(scorer.scoreOf(assigned)).toBe(0);
            if (chain.weight === 0 || !hasOrder(chain)) continue;
            compared += 1;
            // What is remembered of the one must not pass for the other.
            const [first, inOrder] = [scorer.scoreOf(assigned), scorer.orderOf(assigned)];
            expect(inOrder).toEqual(chain.order);
            expect(scorer.scoreOf(assigned)).toBe(first);
            const score = chain.weight * slowLinks(chain, slowly, (a, b) => isKin(a, b) || isKin(b, a));
            expect((first * scale) / score).toBeCloseTo(1, 9);
          }
        },
      ),
      { seed: 79, numRuns: 60 },
    );
    expect(compared).toBeGreaterThan(300);
  });

  test('without overlying marks it takes no steps and is the plain sum over nodes', () => {
    const marks = [0, 1, 2].map((place) =>
      prepared(place, [
        { person: 'p1', surnames: ['holt'], from: 2 * place, weights: [1, 1] },
        { person: `p${place + 2}`, surnames: ['holt'], from: 8 - 2 * place, weights: [0.5, 1, 0.5] },
      ]),
    );
    const { table, relations } = tableOf(made, marks);
    const scorer = scorerOf(table, marks, relations);
    for (const { assigned, order, score } of everyChain(table, relations)) {
      expect(scorer.orderOf(assigned)).toEqual(order);
      expect(scorer.scoreOf(assigned)).toBeCloseTo(score, 12);
    }
    expect(scorer.steps()).toBe(0);
  });
});
