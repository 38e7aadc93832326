import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  constrain,
  contradiction,
  emptyNetwork,
  FIXED,
  type Network,
  notAfter,
  notBefore,
  tightestBounds,
} from '../../src/careers/network.ts';

type Difference = readonly [x: number, y: number, w: number];

const PRICES = new Float64Array(64).fill(1);

function networkOf(nodes: number, differences: readonly Difference[]): Network {
  const network = emptyNetwork(nodes);
  differences.forEach(([x, y, w], claim) => {
    constrain(network, x, y, w, claim);
  });
  return network;
}

/** All-pairs shortest paths, for comparison: R. W. Floyd, "Algorithm 97", Communications of the ACM 5 (1962) 345. */
function closure(nodes: number, differences: readonly Difference[]): number[][] | undefined {
  const d = Array.from({ length: nodes }, (_, i) => Array.from({ length: nodes }, (_, j) => (i === j ? 0 : Infinity)));
  const at = (i: number, j: number) => d[i]?.[j] ?? Infinity;
  const set = (i: number, j: number, w: number) => (d[i] as number[]).splice(j, 1, w);
  for (const [x, y, w] of differences) set(y, x, Math.min(at(y, x), w));
  for (let k = 0; k < nodes; k++) {
    for (let i = 0; i < nodes; i++) for (let j = 0; j < nodes; j++) set(i, j, Math.min(at(i, j), at(i, k) + at(k, j)));
  }
  return d.some((row, i) => (row[i] ?? 0) < 0) ? undefined : d;
}

const anyNetwork = fc.integer({ min: 2, max: 8 }).chain((nodes) =>
  fc.record({
    nodes: fc.constant(nodes),
    differences: fc.array(
      fc.tuple(fc.nat(nodes - 1), fc.nat(nodes - 1), fc.integer({ min: -20, max: 60 })).filter(([x, y]) => x !== y),
      { maxLength: 24 },
    ),
  }),
);

describe('network', () => {
  test('bounds and consistency are those of all-pairs shortest paths', () => {
    fc.assert(
      fc.property(anyNetwork, ({ nodes, differences }) => {
        const network = networkOf(nodes, differences);
        const all = closure(nodes, differences);
        const cycle = contradiction(network, PRICES);
        expect(cycle === undefined).toBe(all !== undefined);
        expect(tightestBounds(network, PRICES) === undefined).toBe(all === undefined);
        if (all === undefined) return;
        const { earliest, latest } = tightestBounds(network, PRICES) ?? expect.unreachable();
        for (let node = 0; node < nodes; node++) {
          expect(latest[node]).toBe(all[0]?.[node]);
          expect(earliest[node]).toBe(0 - (all[node]?.[0] ?? Infinity));
        }
      }),
      { seed: 1991, numRuns: 1500 },
    );
  });

  test('the claims of a contradiction contradict each other without the rest', () => {
    fc.assert(
      fc.property(anyNetwork, ({ nodes, differences }) => {
        const cycle = contradiction(networkOf(nodes, differences), PRICES);
        if (cycle === undefined) return;
        const members = cycle.map((claim) => differences[claim] as Difference);
        expect(closure(nodes, members)).toBeUndefined();
      }),
      { seed: 49, numRuns: 1000 },
    );
  });

  test('grounds are enough for the bound that they carry', () => {
    fc.assert(
      fc.property(anyNetwork, ({ nodes, differences }) => {
        const network = networkOf(nodes, differences);
        if (contradiction(network, PRICES) !== undefined) return;
        const bounds = tightestBounds(network, PRICES) ?? expect.unreachable();
        for (let node = 0; node < nodes; node++) {
          const below = closure(
            nodes,
            bounds.earliestGrounds(node).map((claim) => differences[claim] as Difference),
          );
          const above = closure(
            nodes,
            bounds.latestGrounds(node).map((claim) => differences[claim] as Difference),
          );
          expect(0 - (below?.[node]?.[0] ?? Infinity)).toBe(bounds.earliest[node]);
          expect(above?.[0]?.[node]).toBe(bounds.latest[node]);
          const [down, up] = [bounds.earliestPath(node), bounds.latestPath(node)];
          expect([...new Set(down.map(({ claim }) => claim))]).toEqual(bounds.earliestGrounds(node));
          if (down.length > 0) {
            expect(down[0]?.y).toBe(node);
            expect(down.at(-1)?.x).toBe(0);
            expect(0 - down.reduce((sum, { w }) => sum + w, 0)).toBe(bounds.earliest[node]);
          }
          if (up.length > 0) {
            expect([up[0]?.x, up.at(-1)?.y]).toEqual([node, 0]);
            expect(up.reduce((sum, { w }) => sum + w, 0)).toBe(bounds.latest[node]);
          }
        }
      }),
      { seed: 61, numRuns: 1000 },
    );
  });

  test('a part that nothing joins to the origin is seen to be contradictory all the same', () => {
    const network = networkOf(3, [
      [1, 2, -5],
      [2, 1, 4],
    ]);
    expect(contradiction(network, PRICES)).toEqual([0, 1]);
    expect(tightestBounds(network, PRICES)).toBeUndefined();
  });

  test('an open side stays open, whatever is subtracted from it', () => {
    const network = emptyNetwork(3);
    constrain(network, 1, 2, -10_000, FIXED);
    notBefore(network, 1, 100, 0);
    notAfter(network, 2, Infinity, 1);
    const { earliest, latest } = tightestBounds(network, PRICES) ?? expect.unreachable();
    expect([...earliest]).toEqual([0, 100, 10_100]);
    expect([...latest]).toEqual([0, Infinity, Infinity]);
  });

  test.each<[rule: string, prices: readonly number[], grounds: readonly number[]]>([
    ['the cheaper of two equal claims', [2, 1, 5], [1]],
    ['one claim rather than two that add up to the same', [1, 1, 1.5], [0]],
    ['a claim further off where it is cheaper', [3, 3, 1], [2]],
  ])('grounds: %s', (_rule, prices, grounds) => {
    const network = emptyNetwork(3);
    notAfter(network, 1, 100, 0);
    notAfter(network, 1, 100, 1);
    constrain(network, 1, 2, 0, FIXED);
    notAfter(network, 2, 100, 2);
    expect(tightestBounds(network, Float64Array.from(prices))?.latestGrounds(1)).toEqual(grounds);
  });
});
