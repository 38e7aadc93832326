import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cheapestWayOut, otherWaysOut, type Prices, type Way } from '../../src/careers/ways-out.ts';

const CLAIMS = 9;
const all = Array.from({ length: 2 ** CLAIMS }, (_, bits) =>
  Array.from({ length: CLAIMS }, (__, claim) => claim).filter((claim) => bits & (1 << claim)),
);

/** Every way out from which nothing can be left out, the cheapest first, by trial. */
function byTrial(sets: readonly (readonly number[])[], { reliability, turn }: Prices): Way[] {
  const clears = (way: Way) => sets.every((set) => set.some((claim) => way.includes(claim)));
  const minimal = all.filter((way) => clears(way) && way.every((claim) => !clears(way.filter((one) => one !== claim))));
  const cost = (way: Way) => way.reduce((sum, claim) => sum + Math.round((reliability[claim] ?? 0) * 1000), 0);
  /** Larger where the claims that give way first are in it. */
  const rank = (way: Way) => way.reduce((sum, claim) => sum + 2 ** (CLAIMS - (turn[claim] ?? 0)), 0);
  return minimal.sort((a, b) => cost(a) - cost(b) || rank(b) - rank(a));
}

const anyConflicts = fc.record({
  sets: fc.array(fc.uniqueArray(fc.nat(CLAIMS - 1), { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 9 }),
  prices: fc.record({
    reliability: fc.array(fc.constantFrom(1, 2, 3, 3, 3, 4, 6), { minLength: CLAIMS, maxLength: CLAIMS }),
    turn: fc.shuffledSubarray(
      Array.from({ length: CLAIMS }, (_, claim) => claim),
      { minLength: CLAIMS },
    ),
  }),
});

describe('ways out', () => {
  test('the cheapest, and among equals the one that gives way first', () => {
    fc.assert(
      fc.property(anyConflicts, ({ sets, prices }) => {
        expect(cheapestWayOut(sets, prices)).toEqual(byTrial(sets, prices)[0]);
      }),
      { seed: 32, numRuns: 400 },
    );
  });

  test('all others, the next best first', () => {
    fc.assert(
      fc.property(anyConflicts, ({ sets, prices }) => {
        const [chosen, ...others] = byTrial(sets, prices);
        const found = otherWaysOut(sets, chosen ?? [], prices, 500);
        expect(found).toEqual({ ways: others, complete: true });
      }),
      { seed: 95, numRuns: 300 },
    );
  });

  test('where there are too many, each part by itself takes another way', () => {
    const sets = Array.from({ length: 10 }, (_, part) => [2 * part, 2 * part + 1]);
    const prices = { reliability: sets.flatMap((_, part) => [1, 2 + part]), turn: sets.flat() };
    const chosen = cheapestWayOut(sets, prices);
    expect(chosen).toEqual(sets.map(([first]) => first));
    const { ways, complete } = otherWaysOut(sets, chosen, prices, 256);
    expect(complete).toBe(false);
    expect(ways).toHaveLength(10);
    expect(ways[0]).toEqual([1, ...chosen.slice(1)]);
  });

  test('a cost of nothing sets nothing aside without need', () => {
    const prices = { reliability: [0, 0, 0], turn: [0, 1, 2] };
    expect(
      cheapestWayOut(
        [
          [0, 1],
          [1, 2],
        ],
        prices,
      ),
    ).toEqual([1]);
  });

  test('hundreds of contradictions are cleared, with nothing needless', () => {
    const sets: number[][] = [];
    for (let a = 0; a < 40; a++) for (let b = 0; b < 40; b++) if ((a * 7 + b * 11) % 5 < 2) sets.push([a, 40 + b]);
    const prices = { reliability: new Array(80).fill(3), turn: Array.from({ length: 80 }, (_, claim) => claim) };
    const way = cheapestWayOut(sets, prices);
    expect(sets.every((set) => set.some((claim) => way.includes(claim)))).toBe(true);
    for (const claim of way) {
      const rest = way.filter((one) => one !== claim);
      expect(sets.every((set) => set.some((one) => rest.includes(one)))).toBe(false);
    }
  });
});
