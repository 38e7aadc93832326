import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bestPairs, type Edges } from '../../../src/careers/linkage/assignment.ts';

const edgesOf = (pairs: readonly (readonly [number, number, number])[]): Edges => ({
  row: pairs.map(([row]) => row),
  column: pairs.map(([, column]) => column),
  worth: pairs.map(([, , worth]) => worth),
});

test.each<[rule: string, pairs: [number, number, number][], taken: number[]]>([
  ['nothing to pair', [], [-1, -1]],
  [
    'the better of two',
    [
      [0, 0, 2],
      [0, 1, 3],
    ],
    [1, -1],
  ],
  [
    'the best together, not the best first',
    [
      [0, 0, 10],
      [0, 1, 9],
      [1, 0, 9],
    ],
    [1, 2],
  ],
  [
    'nothing that is worth nothing',
    [
      [0, 0, 0],
      [1, 1, -4],
    ],
    [-1, -1],
  ],
])('bestPairs: %s', (_rule, pairs, taken) => expect([...bestPairs(edgesOf(pairs), 2, 2)]).toEqual(taken));

/** The best worth by trying all ways. */
function bestOfAll(worth: readonly (readonly number[])[], row = 0, used: ReadonlySet<number> = new Set()): number {
  if (row === worth.length) return 0;
  let best = bestOfAll(worth, row + 1, used);
  for (const [column, each] of (worth[row] ?? []).entries())
    if (each > 0 && !used.has(column))
      best = Math.max(best, each + bestOfAll(worth, row + 1, new Set([...used, column])));
  return best;
}

test('bestPairs: as good as the best of all ways, each row and column once', () =>
  fc.assert(
    fc.property(
      fc.array(fc.array(fc.integer({ min: -5, max: 20 }), { minLength: 5, maxLength: 5 }), {
        minLength: 1,
        maxLength: 5,
      }),
      (worth) => {
        const edges = edgesOf(worth.flatMap((row, at) => row.map((each, column) => [at, column, each] as const)));
        const taken = [...bestPairs(edges, worth.length, 5)].filter((pair) => pair >= 0);
        expect(new Set(taken.map((pair) => edges.column[pair])).size).toBe(taken.length);
        expect(taken.reduce((sum, pair) => sum + (edges.worth[pair] ?? 0), 0)).toBe(bestOfAll(worth));
      },
    ),
    { numRuns: 500, seed: 9 },
  ));
