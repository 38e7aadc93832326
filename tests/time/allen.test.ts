import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  ALLEN_RELATIONS,
  type AllenRelation,
  compose,
  converse,
  type Lasting,
  possibleRelations,
  relationOf,
} from '../../src/time/allen.ts';
import { ALL_TIME, type Day, NO_END, NO_START, type Span } from '../../src/time/span.ts';

const span = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });

test.each<[relation: AllenRelation, a: Span, b: Span]>([
  ['before', span(0, 1), span(2, 3)],
  ['meets', span(0, 2), span(2, 4)],
  ['overlaps', span(0, 3), span(2, 5)],
  ['finished by', span(0, 4), span(2, 4)],
  ['contains', span(0, 4), span(1, 2)],
  ['starts', span(1, 2), span(1, 4)],
  ['equals', span(1, 4), span(1, 4)],
  ['started by', span(1, 4), span(1, 2)],
  ['during', span(2, 3), span(1, 4)],
  ['finishes', span(2, 4), span(1, 4)],
  ['overlapped by', span(2, 5), span(0, 3)],
  ['met by', span(3, 5), span(1, 3)],
  ['after', span(4, 5), span(0, 1)],
])('relationOf: %s', (relation, a, b) => {
  expect(relationOf(a, b)).toBe(relation);
  expect(relationOf(b, a)).toBe(converse(relation));
});

test('relationOf: open sides coincide', () => {
  expect(relationOf(ALL_TIME, ALL_TIME)).toBe('equals');
  expect(relationOf(span(NO_START, 5), ALL_TIME)).toBe('starts');
  expect(relationOf(span(3, NO_END), span(1, NO_END))).toBe('finishes');
});

test('compose: equals changes nothing, and the converse of a composition is composed of converses backwards', () => {
  for (const a of ALLEN_RELATIONS) {
    expect(compose(a, 'equals')).toEqual([a]);
    expect(compose('equals', a)).toEqual([a]);
    for (const b of ALLEN_RELATIONS) {
      expect(new Set(compose(a, b).map(converse))).toEqual(new Set(compose(converse(b), converse(a))));
    }
  }
});

type Bounds = { earliest: Day; latest: Day };
const bounds = (earliest: number, latest: number): Bounds => ({ earliest: earliest as Day, latest: latest as Day });

/** Every tenure of whole days within the bounds that lasts so long; far days stand for the open sides. */
function byEnumeration(start: Bounds, end: Bounds, window: Span, { least, most }: Lasting): Set<AllenRelation> {
  const found = new Set<AllenRelation>();
  for (let s = Math.max(start.earliest, -20); s <= Math.min(start.latest, 20); s++) {
    for (let e = Math.max(end.earliest, s + least, -20); e <= Math.min(end.latest, s + most, 20); e++)
      found.add(relationOf(span(s, e), window));
  }
  return found;
}

describe('possibleRelations', () => {
  test('fixed bounds leave one relation', () => {
    expect(possibleRelations(bounds(3, 3), bounds(7, 7), span(5, 9))).toEqual(['overlaps']);
  });
  test('nothing known leaves all thirteen', () => {
    const open = bounds(NO_START, NO_END);
    expect(possibleRelations(open, open, span(5, 9))).toEqual(ALLEN_RELATIONS);
  });
  test('an end bounded below its start leaves none', () => {
    expect(possibleRelations(bounds(5, 8), bounds(1, 5), span(2, 9))).toEqual([]);
  });
  test('no day lies within a window of one day, so that nothing begins or ends inside it', () => {
    const open = bounds(NO_START, NO_END);
    expect(possibleRelations(open, open, span(5, 6))).toEqual(
      ALLEN_RELATIONS.filter((one) => !['starts', 'during', 'finishes', 'overlaps', 'overlapped by'].includes(one)),
    );
  });
  test('a tenure that lasts so long at least, or at the most', () => {
    const [start, end] = [bounds(1, 6), bounds(3, 12)];
    expect(possibleRelations(start, end, span(3, 8), { least: 10, most: Infinity })).toEqual(['contains']);
    expect(possibleRelations(start, end, span(3, 8), { least: 1, most: 2 })).toEqual([
      'meets',
      'overlaps',
      'starts',
      'during',
      'finishes',
    ]);
  });
  test('it agrees with trying every tenure', () => {
    const point = fc.integer({ min: -6, max: 6 });
    const pair = fc.tuple(point, point).map(([a, b]) => [Math.min(a, b), Math.max(a, b)] as const);
    const open = fc.constantFrom('no', 'no', 'left', 'right', 'both');
    const anyBounds = fc
      .tuple(pair, open)
      .map(([[a, b], side]) =>
        bounds(side === 'left' || side === 'both' ? NO_START : a, side === 'right' || side === 'both' ? NO_END : b),
      );
    const window = fc
      .tuple(pair, open)
      .map(([[a, b], side]) =>
        span(side === 'left' || side === 'both' ? NO_START : a, side === 'right' || side === 'both' ? NO_END : b + 1),
      );
    const some = fc.integer({ min: 1, max: 8 });
    const lasting = fc
      .tuple(some, fc.oneof(some, fc.constant(Infinity)))
      .map(([a, b]) => ({ least: Math.min(a, b), most: Math.max(a, b) }));
    fc.assert(
      fc.property(anyBounds, anyBounds, window, lasting, (start, end, one, days) => {
        const tried = byEnumeration(start, end, one, days);
        expect(possibleRelations(start, end, one, days)).toEqual(
          ALLEN_RELATIONS.filter((relation) => tried.has(relation)),
        );
      }),
      { numRuns: 5000, seed: 1983 },
    );
  });
});
