import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { relationsOf } from '../../src/attribution/chain-relations.ts';
import { prepared } from './prepared.ts';

const holder = (person: string | undefined, ...surnames: string[]) => ({
  ...(person === undefined ? {} : { person }),
  surnames,
  from: 0,
  weights: [1],
});
const never = () => false;

describe('all possible holders', () => {
  test('a person is one holder whatever the mark, an unrecorded one is another for each mark', () => {
    const marks = [
      prepared(0, [holder('p1', 'holt'), holder(undefined)]),
      prepared(1, [holder('p1', 'holt'), holder('p2', 'marl'), holder(undefined)]),
      prepared(2, [holder(undefined)], { namesHolder: false }),
    ];
    const { numberOf, count, factor, strangers } = relationsOf(marks, never, DEFAULTS);
    expect(numberOf).toEqual([[0, 1], [0, 2, 3], [-1]]);
    expect(count).toBe(4);
    expect(factor[0]).toBe(20);
    expect(factor[2]).toBe(1);
    expect(strangers).toBe(false);
  });

  test('strangers only', () => {
    const marks = [prepared(0, [holder('p1', 'holt')]), prepared(1, [holder('p2', 'marl'), holder(undefined)])];
    expect(relationsOf(marks, never, DEFAULTS).strangers).toBe(true);
    expect(relationsOf(marks, () => true, DEFAULTS).strangers).toBe(false);
  });

  test('the bound is no less than the factor, and than the smaller of any two that lead there', () =>
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 6 }), fc.constantFrom('holt', 'marl', 'ferrand')), {
          minLength: 2,
          maxLength: 7,
        }),
        fc.array(fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 6 })), { maxLength: 4 }),
        (people, kin) => {
          const marks = people.map(([id, surname], place) =>
            prepared(place, [holder(`p${id}`, surname), holder(undefined, surname)]),
          );
          const isKin = (a: string, b: string): boolean => kin.some(([x, y]) => `p${x}` === a && `p${y}` === b);
          const { count, factor, bound } = relationsOf(marks, isKin, DEFAULTS);
          for (let a = 0; a < count; a += 1) {
            for (let b = 0; b < count; b += 1) {
              const ab = bound[a * count + b] ?? 0;
              expect(ab).toBeGreaterThanOrEqual(factor[a * count + b] ?? Number.NaN);
              for (let c = 0; c < count; c += 1) {
                expect(ab).toBeGreaterThanOrEqual(Math.min(bound[a * count + c] ?? 0, bound[c * count + b] ?? 0));
              }
            }
          }
        },
      ),
      { seed: 53, numRuns: 60 },
    ));
});
