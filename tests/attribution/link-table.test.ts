import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Assumptions, DEFAULTS } from '../../src/assumptions.ts';
import { type Relations, relationsOf } from '../../src/attribution/chain-relations.ts';
import { type Links, linkTable } from '../../src/attribution/link-table.ts';
import { type AnyHolder, prepared } from './prepared.ts';

const anyHolder: fc.Arbitrary<AnyHolder> = fc
  .record(
    {
      person: fc.constantFrom('p1', 'p2', 'p3', 'p4', 'p5', 'p6'),
      names: fc.subarray(['holt', 'marl', 'ferrand']),
    },
    { requiredKeys: ['names'] },
  )
  .map(({ person, names }) => ({
    ...(person === undefined ? {} : { person }),
    surnames: person === undefined ? names : (SURNAMES[person] ?? []),
    from: 0,
    weights: [1],
  }));
const SURNAMES: Record<string, string[]> = {
  p1: ['holt'],
  p2: ['holt'],
  p3: ['marl', 'holt'],
  p4: ['marl'],
  p5: [],
};
const anyMarks = fc
  .array(fc.array(anyHolder, { minLength: 1, maxLength: 5 }), { minLength: 1, maxLength: 4 })
  .map((marks) =>
    marks.map((holders, place) => prepared(place, [...holders, { isNobody: true, from: 0, weights: [1] }])),
  );
/** Any two of these letters’ persons are kin. */
const anyKin = fc
  .subarray(['p1 p2', 'p1 p4', 'p2 p3', 'p5 p6', 'p4 p6'])
  .map((pairs) => (a: string, b: string) => pairs.includes(`${a} ${b}`));
const withFactors = (same: number, kin: number, surname: number): Assumptions => ({
  ...DEFAULTS,
  values: { ...DEFAULTS.values, 'chain.same': same, 'chain.kin': kin, 'chain.surname': surname },
});

/** What the links of a make of b standing next to them. */
const factorBack = (links: Links | undefined, next: Links | undefined): number => {
  let factor = 1;
  for (const [i, to] of (links?.classTo ?? new Int32Array()).entries())
    if (to === next?.ownClass) factor += links?.classMore[i] ?? Number.NaN;
  for (const [i, to] of (links?.holderTo ?? new Int32Array()).entries())
    if (to === next?.ownHolder) factor += links?.holderMore[i] ?? Number.NaN;
  return factor;
};
const pairsOf = ({ count, canFollow }: Relations): [number, number][] =>
  Array.from({ length: count * count }, (_, i): [number, number] => [Math.floor(i / count), i % count]).filter(
    ([a, b]) => canFollow(a, b),
  );

describe('the links of classes and of single holders', () => {
  test.each([
    [20, 10, 5],
    [20, 1, 1],
    [1, 1, 1],
    [3, 0.5, 0.25],
  ])('same %d, kin %d, surname %d: give back the factor of every two who can follow each other', (...factors) =>
    fc.assert(
      fc.property(anyMarks, anyKin, (marks, isKin) => {
        const relations = relationsOf(marks, isKin, withFactors(...factors));
        const { linksOfNumber } = linkTable(relations);
        for (const [a, b] of pairsOf(relations))
          expect(factorBack(linksOfNumber[a], linksOfNumber[b])).toBe(relations.factor[a * relations.count + b]);
      }),
      { seed: 71, numRuns: 150 },
    ),
  );

  test('whoever is joined to nobody has no link and no sum of their own', () => {
    let kept = 0;
    fc.assert(
      fc.property(anyMarks, anyKin, (marks, isKin) => {
        const relations = relationsOf(marks, isKin, DEFAULTS);
        const { factor, count } = relations;
        const { linksOfNumber, classes, holders } = linkTable(relations);
        const pairs = pairsOf(relations);
        for (const [number, { ownHolder, others, holderTo, classTo }] of linksOfNumber.entries()) {
          expect([...classTo].every((to) => to >= 0 && to < classes)).toBe(true);
          expect([...holderTo].every((to) => to >= 0 && to < holders)).toBe(true);
          const isStranger = pairs.every(([a, b]) => a !== number || factor[a * count + b] === 1);
          if (isStranger) expect([ownHolder, others.length, holderTo.length]).toEqual([-1, 0, 0]);
          else kept += 1;
        }
      }),
      { seed: 73, numRuns: 100 },
    );
    expect(kept).toBeGreaterThan(100);
  });

  test('strangers: nothing is kept', () => {
    const marks = [0, 1, 2].map((place) =>
      prepared(
        place,
        [1, 2, 3].map((c) => ({ person: `p${place}${c}`, surnames: [`s${place}${c}`], from: 0, weights: [1] })),
      ),
    );
    const { classes, holders } = linkTable(relationsOf(marks, () => false, DEFAULTS));
    expect([classes, holders]).toEqual([0, 0]);
  });

  test('namesakes are one class, without exceptions; kin among them are', () => {
    const namesake = (person: string) => ({ person, surnames: ['holt'], from: 0, weights: [1] });
    const marks = [prepared(0, ['p1', 'p2'].map(namesake)), prepared(1, ['p3', 'p4'].map(namesake))];
    const alike = linkTable(relationsOf(marks, () => false, DEFAULTS));
    expect([alike.classes, alike.holders]).toEqual([1, 0]);
    const kin = linkTable(relationsOf(marks, (a, b) => a === 'p1' && b === 'p4', DEFAULTS));
    expect([kin.classes, kin.holders]).toEqual([1, 2]);
    expect(kin.linksOfNumber.map(({ others }) => others)).toEqual([[3], [], [], [0]]);
  });
});
