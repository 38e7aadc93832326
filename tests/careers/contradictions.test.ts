import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findContradictions } from '../../src/careers/contradictions.ts';
import { constrain, contradiction, emptyNetwork, FIXED, type Network } from '../../src/careers/network.ts';

type Claimed = readonly [x: number, y: number, w: number, claim: number];

const PRICES = new Float64Array(32).fill(1);

function networkOf(nodes: number, constraints: readonly Claimed[], kept: (claim: number) => boolean): Network {
  const network = emptyNetwork(nodes);
  for (const [x, y, w, claim] of constraints) if (kept(claim)) constrain(network, x, y, w, claim);
  return network;
}

/** By trying every set of claims, the smallest first. */
function byTrial(nodes: number, constraints: readonly Claimed[], claims: number): number[][] {
  const found: number[][] = [];
  const sets = Array.from({ length: 2 ** claims }, (_, bits) =>
    Array.from({ length: claims }, (__, claim) => claim).filter((claim) => bits & (1 << claim)),
  );
  for (const set of sets.sort((a, b) => a.length - b.length)) {
    if (found.some((smaller) => smaller.every((claim) => set.includes(claim)))) continue;
    const network = networkOf(nodes, constraints, (claim) => claim === FIXED || set.includes(claim));
    if (contradiction(network, PRICES) !== undefined) found.push(set);
  }
  return found;
}

/** Up to seven claims, each with one or two constraints, and some that always hold. */
const anyConstraints = fc.integer({ min: 2, max: 5 }).chain((nodes) =>
  fc.record({
    nodes: fc.constant(nodes),
    constraints: fc.array(
      fc
        .tuple(fc.nat(nodes - 1), fc.nat(nodes - 1), fc.integer({ min: -9, max: 14 }), fc.integer({ min: -1, max: 6 }))
        .filter(([x, y, w, claim]) => x !== y && (claim !== FIXED || w >= 0)),
      { maxLength: 12 },
    ),
  }),
);

describe('findContradictions', () => {
  test('all minimal sets, and no other', () => {
    let several = 0;
    fc.assert(
      fc.property(anyConstraints, ({ nodes, constraints }) => {
        const { sets, complete } = findContradictions(networkOf(nodes, constraints, () => true));
        expect(complete).toBe(true);
        const expected = byTrial(nodes, constraints, 7);
        expect(sets.map(String).sort()).toEqual(expected.map(String).sort());
        if (expected.length > 2) several++;
      }),
      { seed: 57, numRuns: 1000 },
    );
    expect(several).toBeGreaterThan(40);
  });

  test('the smallest come first', () => {
    const network = emptyNetwork(3);
    constrain(network, 1, 0, 5, 0);
    constrain(network, 0, 1, -9, 1);
    constrain(network, 2, 1, -10, 2);
    constrain(network, 0, 2, -1, 3);
    expect(findContradictions(network).sets).toEqual([
      [0, 1],
      [0, 2, 3],
    ]);
  });

  test('too many to go through are told as such', () => {
    const network = emptyNetwork(2);
    for (let claim = 0; claim < 1000; claim += 2) {
      constrain(network, 1, 0, claim, claim);
      constrain(network, 0, 1, -3000 - claim, claim + 1);
    }
    const { sets, complete } = findContradictions(network);
    expect(complete).toBe(false);
    expect(sets.length).toBeGreaterThan(1000);
  });
});
