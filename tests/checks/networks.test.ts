import { describe, expect, test } from 'vitest';
import { solve } from 'yalps';
import {
  constrain,
  contradiction,
  emptyNetwork,
  type Network,
  notAfter,
  notBefore,
  tightestBounds,
} from '../../src/careers/network.ts';
import { gregorianDay, isoDay } from '../../src/time/calendar.ts';
import type { Day } from '../../src/time/span.ts';
import examples from './data/temporal-networks.json' with { type: 'json' };

/** lo <= x_j − x_i <= hi, as the literature writes it. */
type Interval = readonly [i: number, j: number, lo: number, hi: number];

const PRICES = new Float64Array(256).fill(1);

/** The network with the variables renumbered so that `origin` is node 0. */
function withOrigin(nodes: number, intervals: readonly Interval[], origin: number): Network {
  const place = (node: number) => (node === origin ? 0 : node < origin ? node + 1 : node);
  const network = emptyNetwork(nodes);
  intervals.forEach(([i, j, lo, hi], claim) => {
    constrain(network, place(j), place(i), hi, claim);
    constrain(network, place(i), place(j), -lo, claim);
  });
  return network;
}

/** [lowest, highest] of x_j − x_i for every i and j, by taking each node in turn as the origin. */
function minimalNetwork(nodes: number, intervals: readonly Interval[]): number[][][] {
  return Array.from({ length: nodes }, (_, origin) => {
    const bounds = tightestBounds(withOrigin(nodes, intervals, origin), PRICES) ?? expect.unreachable();
    return Array.from({ length: nodes }, (__, node) => {
      const at = node === origin ? 0 : node < origin ? node + 1 : node;
      return [bounds.earliest[at] ?? Number.NaN, bounds.latest[at] ?? Number.NaN];
    });
  });
}

const example = (id: string) => examples.find((one) => one.id === id) ?? expect.unreachable(id);

/**
 * Source: R. Dechter, I. Meiri, J. Pearl, "Temporal constraint networks", Artificial Intelligence 49 (1991) 61–95: the
 * journey of John and Fred, its distance graph and its minimal network (the matrices from memory, and found equal to
 * linear programming optima).
 */
describe('the published network of Dechter, Meiri and Pearl', () => {
  const intervals = example('stp-minimal').input as unknown as readonly Interval[];

  test('its minimal network', () => {
    const { minimal } = example('stp-minimal').expected as { minimal: number[][][] };
    expect(minimalNetwork(5, intervals)).toEqual(minimal);
  });

  test('its distance graph', () => {
    const { dgraph } = example('stp-dgraph').expected as { dgraph: number[][] };
    const farthest = minimalNetwork(5, intervals).map((row) => row.map(([, highest]) => highest));
    expect(farthest).toEqual(dgraph);
  });

  test('intervals that do not add up are inconsistent, and all of them are to blame', () => {
    const { input, expected } = example('stp-inconsistent');
    expect(expected).toBe('inconsistent');
    const network = withOrigin(3, input as unknown as readonly Interval[], 0);
    expect(tightestBounds(network, PRICES)).toBeUndefined();
    expect(contradiction(network, PRICES)).toEqual([0, 1, 2]);
  });
});

/** Source: the arithmetic of four annual lists, each supposed true on its own date. */
test('a rank between four annual lists', () => {
  const { input, expected } = example('stp-annual-lists');
  const [absent, first, last, gone] = (input as { lists: string[] }).lists.map((iso) => {
    const [year, month, day] = iso.split('-').map(Number) as [number, number, number];
    return gregorianDay(year, month, day);
  }) as [Day, Day, Day, Day];
  const network = emptyNetwork(3); // first day in the rank, last day in it
  notBefore(network, 1, absent + 1, 0);
  notAfter(network, 1, first, 1);
  notBefore(network, 2, last, 2);
  notAfter(network, 2, gone - 1, 3);
  const { earliest, latest } = tightestBounds(network, PRICES) ?? expect.unreachable();
  const iso = (day: number | undefined) => isoDay(day as Day);
  expect({
    firstDay: [iso(earliest[1]), iso(latest[1])],
    lastDay: [iso(earliest[2]), iso(latest[2])],
    certain: [iso(latest[1]), iso(earliest[2])],
    possible: [iso(earliest[1]), iso(latest[2])],
  }).toEqual(expected);
});

/** A row of pseudo-random numbers in [0, 1) (D. H. Lehmer's generator with the multiplier 48271). */
function numbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

type Difference = readonly [x: number, y: number, w: number];

/** Lowest or highest value of one variable by linear programming; every variable is the difference of two columns. */
function optimum(nodes: number, differences: readonly Difference[], node: number, direction: 'minimize' | 'maximize') {
  const columns = new Map<string, Map<string, number>>();
  for (let variable = 1; variable < nodes; variable++) {
    columns.set(`+${variable}`, new Map(variable === node ? [['goal', 1]] : []));
    columns.set(`-${variable}`, new Map(variable === node ? [['goal', -1]] : []));
  }
  const add = (row: string, variable: number, factor: number) => {
    if (variable === 0) return;
    columns.get(`+${variable}`)?.set(row, factor);
    columns.get(`-${variable}`)?.set(row, -factor);
  };
  const constraints = new Map<string, { max: number }>();
  differences.forEach(([x, y, w], k) => {
    constraints.set(`c${k}`, { max: w });
    add(`c${k}`, x, 1);
    add(`c${k}`, y, -1);
  });
  const { status, result } = solve({ direction, objective: 'goal', constraints, variables: columns });
  return status === 'optimal' ? Math.round(result * 1e6) / 1e6 + 0 : status; // + 0: no negative zero
}

/** Source: an independent solver of linear programs, on 500 random networks, some of them contradictory. */
test('500 random networks agree with linear programming', () => {
  const random = numbers(1947);
  const whole = (below: number) => Math.floor(random() * below);
  let contradictory = 0;
  let open = 0;
  for (let run = 0; run < 500; run++) {
    const nodes = 3 + whole(5);
    const differences: Difference[] = [];
    for (let k = 3 + whole(3 * nodes); k > 0; k--) {
      const x = whole(nodes);
      const y = (x + 1 + whole(nodes - 1)) % nodes;
      differences.push([x, y, whole(70) - 15]);
    }
    const network = emptyNetwork(nodes);
    differences.forEach(([x, y, w], claim) => {
      constrain(network, x, y, w, claim);
    });
    const bounds = tightestBounds(network, PRICES);
    if (bounds === undefined) {
      contradictory++;
      expect(optimum(nodes, differences, 1, 'minimize')).toBe('infeasible');
      continue;
    }
    for (let node = 1; node < nodes; node++) {
      const lowest = bounds.earliest[node];
      const highest = bounds.latest[node];
      if (lowest === -Infinity || highest === Infinity) open++;
      expect(optimum(nodes, differences, node, 'minimize')).toBe(lowest === -Infinity ? 'unbounded' : lowest);
      expect(optimum(nodes, differences, node, 'maximize')).toBe(highest === Infinity ? 'unbounded' : highest);
    }
  }
  expect(contradictory).toBeGreaterThan(50);
  expect(contradictory).toBeLessThan(400);
  expect(open).toBeGreaterThan(100);
});
