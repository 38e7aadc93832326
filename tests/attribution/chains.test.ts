import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Assumptions, DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import type { CandidateInput } from '../../src/attribution/candidate.ts';
import type { ChainMark } from '../../src/attribution/chain-marks.ts';
import { chainsOf } from '../../src/attribution/chains.ts';
import { delayLaw, type MarkRole } from '../../src/dating/delay.ts';
import { type Density, normalised } from '../../src/dating/density.ts';
import type { Day } from '../../src/time/span.ts';
import { everyAssignment, type SlowChain, type SlowMark, slowChain, slowLinks } from './chain-brute.ts';
import { candidate, form, post, slope } from './made-up.ts';

const SIZE = 14;
/** Delays of a few days, so that they matter on so short a horizon. */
const QUICK: Assumptions = {
  ...DEFAULTS,
  values: {
    ...DEFAULTS.values,
    'delay.trade': 2 / DAYS_PER_YEAR,
    'delay.owner.soon': 3 / DAYS_PER_YEAR,
    'delay.owner.late': 20 / DAYS_PER_YEAR,
    'delay.later': 15 / DAYS_PER_YEAR,
  },
};
const surnameOf: Record<string, string> = { p1: 'ferrand', p2: 'ferrand', p3: 'holt', p4: 'marl' };
const kin = (a: string, b: string): boolean => [a, b].sort().join() === 'p1,p3';

type AnyMark = {
  over: number;
  role: MarkRole;
  own: number[];
  held: Record<string, [number, number, number]>;
  names: boolean;
};

const anyStay = fc
  .tuple(fc.integer({ min: -4, max: SIZE - 2 }), fc.integer({ min: 1, max: 8 }), fc.constantFrom(0, 1, 3))
  .map(([from, length, bits]): [number, number, number] => [from, length, bits]);
const anyMark = (over: number): fc.Arbitrary<AnyMark> =>
  fc.record({
    over: fc.constant(over),
    role: fc.constantFrom<MarkRole>('owner', 'owner', 'retailer', 'sale'),
    own: fc
      .array(fc.constantFrom(0, 1, 1, 0.3), { minLength: SIZE, maxLength: SIZE })
      .filter((w) => w.slice(4).some((x) => x > 0)),
    held: fc.dictionary(fc.constantFrom('p1', 'p2', 'p3', 'p4'), anyStay, { maxKeys: 3 }),
    names: fc.constantFrom(true, true, true, false),
  });
const anyObject = fc.constantFrom([-1], [-1, -1], [-1, 0], [-1, -1, 1], [-1, -1, -1]).chain((shape) =>
  fc.record({
    marks: fc.tuple(...shape.map(anyMark)),
    made: fc
      .array(fc.integer({ min: 0, max: 3 }), { minLength: SIZE, maxLength: SIZE })
      .filter((g) => g.slice(0, 4).some((x) => x > 0)),
  }),
);

const FIRST_DAY = 5000;
const UNRECORDED = 0.1;

function inputOf(marks: readonly AnyMark[], made: readonly number[]) {
  const making = normalised({ from: FIRST_DAY as Day, weights: Float64Array.from(made) }) as Density;
  const chainMarks = marks.map(({ over, role, own, held, names }, place): ChainMark => {
    const candidates = Object.entries(held).map(([person, [from, length, bits]]): CandidateInput => {
      const at = FIRST_DAY + from;
      return candidate(person, [post(slope(at, at, at + length, at + length))], { forms: [form(bits)] });
    });
    return {
      id: `m${place + 1}`,
      law: delayLaw(role, QUICK),
      own: Float64Array.from(own),
      over: over < 0 ? undefined : `m${over + 1}`,
      beforeMaking: false,
      holders: names
        ? {
            candidates,
            surnames: place === 0 ? ['ferrand'] : [],
            unrecorded: { rank: 'captain', surname: { damaged: false, seenLetters: 7 }, unknownBits: 0, sweeps: [] },
          }
        : undefined,
    };
  });
  return { making, marks: chainMarks, isKin: kin, surnamesOf: (person: string) => [surnameOf[person] ?? person] };
}

function slowMarks(marks: readonly AnyMark[]): SlowMark[] {
  return marks.map(({ over, role, own, held, names }, place): SlowMark => {
    const days = Array.from({ length: SIZE }, (_, t) => t);
    const known = Object.entries(held).map(([who, [from, length, bits]]) => ({
      who,
      surname: surnameOf[who] ?? '',
      held: days.map((t) => (t >= from && t < from + length ? (own[t] ?? 0) * 2 ** -bits : 0)),
    }));
    const unknown = {
      who: '?',
      surname: place === 0 ? 'ferrand' : '',
      held: days.map((t) => (own[t] ?? 0) * UNRECORDED),
    };
    const nobody = { who: '', surname: '', held: own };
    return { over, law: delayLaw(role, QUICK), namesHolder: names, holders: names ? [...known, unknown] : [nobody] };
  });
}

/** All chains by the slow walk, scored with their links. */
function slowAnswer(marks: readonly AnyMark[], made: readonly number[]) {
  const slow = slowMarks(marks);
  const scored = everyAssignment(slow)
    .map((assigned) => slowChain(made, slow, assigned))
    .map((chain) => ({ ...chain, score: chain.weight === 0 ? 0 : chain.weight * slowLinks(chain, slow, kin) }));
  const total = scored.reduce((sum, { score }) => sum + score, 0);
  const who = (chain: SlowChain): string =>
    chain.order.map((place) => `m${place + 1}=${slow[place]?.holders[chain.assigned[place] ?? 0]?.who}`).join();
  return { slow, scored, total, who };
}

/** Two marks that are to be expected on the same day by all but rounding have no order to compare. */
const hasOrder = ({ order, expected }: SlowChain): boolean =>
  order.every((place, i) => i === 0 || Math.abs((expected[place] ?? 0) - (expected[order[i - 1] ?? 0] ?? 0)) > 1e-6);

describe('chains of holders', () => {
  test('shares of chains and of holders agree with the walk over every assignment and every day', () =>
    fc.assert(
      fc.property(anyObject, ({ marks, made }) => {
        const { scored, total, who, slow } = slowAnswer(marks, made);
        fc.pre(
          total > 0 &&
            marks.some(({ names }) => names) &&
            scored.every((chain) => chain.score === 0 || hasOrder(chain)),
        );
        const told = chainsOf(inputOf(marks, made), QUICK, 5);
        fc.pre(!told.makingContradicted);
        expect(told.proved).toBe(true);
        const byWho = new Map(scored.map((chain) => [who(chain), chain]));
        for (const { share, holdings } of told.chains) {
          const chain = byWho.get(holdings.map(({ mark, person }) => `${mark}=${person ?? '?'}`).join());
          expect(share).toBeCloseTo((chain?.score ?? Number.NaN) / total, 6);
        }
        const best = scored.map(({ score }) => score / total).sort((a, b) => b - a);
        for (const [i, { share }] of told.chains.entries()) expect(share).toBeCloseTo(best[i] ?? Number.NaN, 6);
        for (const { person, share } of told.holders) {
          const name = person ?? '?';
          const expected = scored
            .filter(({ assigned }) => assigned.some((c, place) => slow[place]?.holders[c]?.who === name))
            .reduce((sum, { score }) => sum + score, 0);
          expect(share).toBeCloseTo(expected / total, 5);
        }
      }),
      { seed: 41, numRuns: 150 },
    ));

  test('the span of each holding holds 95 % of its days, and no shorter one does', () =>
    fc.assert(
      fc.property(anyObject, ({ marks, made }) => {
        const { scored, total, who } = slowAnswer(marks, made);
        fc.pre(
          total > 0 &&
            marks.some(({ names }) => names) &&
            scored.every((chain) => chain.score === 0 || hasOrder(chain)),
        );
        const byWho = new Map(scored.map((chain) => [who(chain), chain]));
        for (const { holdings } of chainsOf(inputOf(marks, made), QUICK, 3).chains) {
          const chain = byWho.get(holdings.map(({ mark, person }) => `${mark}=${person ?? '?'}`).join());
          for (const { mark, span } of holdings) {
            const days = chain?.days[Number(mark.slice(1)) - 1] ?? [];
            const all = days.reduce((a, b) => a + b, 0);
            const held = (from: number, until: number) => days.slice(from, until).reduce((a, b) => a + b, 0) / all;
            const [from, until] = [span.from - FIRST_DAY, span.until - FIRST_DAY];
            expect(held(from, until)).toBeGreaterThan(0.95 - 1e-7);
            for (let start = 0; start + (until - from) - 1 <= SIZE; start += 1) {
              expect(held(start, start + until - from - 1)).toBeLessThan(0.95 + 1e-7);
            }
          }
        }
      }),
      { seed: 43, numRuns: 80 },
    ));
});
