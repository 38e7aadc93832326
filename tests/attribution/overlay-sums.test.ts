import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  aheadOf,
  fillAhead,
  type Held,
  type OverlayTree,
  tellDays,
  treeSums,
} from '../../src/attribution/overlay-sums.ts';
import { type DelayLaw, timesLaw } from '../../src/dating/delay.ts';
import { type SlowMark, slowChain } from './chain-brute.ts';
import { byCalendar, sinceMaking } from './prepared.ts';

const SIZE = 16;
const owner = sinceMaking([0.6, 0.7], [0.4, 0.95]);
const trade = sinceMaking([1, 0.5]);
const later = byCalendar(0.9);
/** A mark whose role is uncertain. */
const either: DelayLaw = [...timesLaw(owner, 0.7), ...timesLaw(later, 0.02)];

/** Trees by what each mark lies over, −1 for the lowest. */
const SHAPES: readonly (readonly number[])[] = [[-1], [-1, 0], [-1, 0, 1], [-1, 0, 0]];

const anyMarks = fc.constantFrom(...SHAPES).chain((shape) =>
  fc.tuple(
    ...shape.map((over) =>
      fc.record({
        over: fc.constant(over),
        law: fc.constantFrom(owner, trade, later, either),
        from: fc.integer({ min: 0, max: 10 }),
        weights: fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 1, maxLength: 6 }),
      }),
    ),
  ),
);
type AnyMark = { over: number; law: DelayLaw; from: number; weights: number[] };

const treeOf = (marks: readonly AnyMark[], place: number): OverlayTree => ({
  place,
  overlying: marks.flatMap(({ over }, above) => (over === place ? [treeOf(marks, above)] : [])),
});
const heldOf = ({ from, weights, law }: AnyMark): Held => ({ from, weights: Float64Array.from(weights), law });
const slowMarks = (marks: readonly AnyMark[]): SlowMark[] =>
  marks.map(({ over, law, from, weights }) => ({
    law,
    over,
    namesHolder: true,
    holders: [{ who: 'p1', surname: '', held: Array.from({ length: SIZE }, (_, t) => weights[t - from] ?? 0) }],
  }));

describe('marks that lie over each other', () => {
  test('sums for every day of making agree with the walk over every combination of days', () =>
    fc.assert(
      fc.property(anyMarks, (marks) => {
        const tree = treeSums(treeOf(marks, 0), (place) => heldOf(marks[place] as AnyMark));
        const filled = new Float64Array(SIZE);
        fillAhead(filled, 0, tree);
        for (let y = 0; y < SIZE; y += 1) {
          const made = Array.from({ length: SIZE }, (_, i) => (i === y ? 1 : 0));
          const { weight } = slowChain(
            made,
            slowMarks(marks),
            marks.map(() => 0),
          );
          expect(aheadOf(tree, y)).toBeCloseTo(weight, 9);
          expect(filled[y]).toBeCloseTo(weight, 9);
        }
      }),
      { seed: 31, numRuns: 120 },
    ));

  test('days of each mark agree with the walk over every combination of days', () =>
    fc.assert(
      fc.property(
        anyMarks,
        fc.array(fc.integer({ min: 0, max: 3 }), { minLength: SIZE, maxLength: SIZE }),
        (marks, made) => {
          const heldBy = (place: number): Held => heldOf(marks[place] as AnyMark);
          const slow = slowChain(
            made,
            slowMarks(marks),
            marks.map(() => 0),
          );
          let told = 0;
          tellDays(
            Float64Array.from(made),
            0,
            treeSums(treeOf(marks, 0), heldBy),
            (place, days) => {
              told += 1;
              for (let t = 0; t < SIZE; t += 1) {
                expect(days.weights[t - days.from] ?? 0).toBeCloseTo(slow.days[place]?.[t] ?? Number.NaN, 9);
              }
            },
            heldBy,
          );
          expect(told).toBe(marks.length);
        },
      ),
      { seed: 37, numRuns: 120 },
    ));

  test('between two days the straight line is taken', () => {
    const sums = treeSums({ place: 0, overlying: [] }, () => ({
      law: owner,
      from: 3,
      weights: Float64Array.of(1, 2, 3),
    }));
    expect(aheadOf(sums, 3.25)).toBeCloseTo(0.75 * aheadOf(sums, 3) + 0.25 * aheadOf(sums, 4), 12);
    expect(aheadOf(sums, 5.5)).toBe(0);
  });
});
