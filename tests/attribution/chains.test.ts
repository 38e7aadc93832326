import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Assumptions, DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import type { CandidateInput } from '../../src/attribution/candidate.ts';
import type { ChainMark } from '../../src/attribution/chain-marks.ts';
import { chainsOf } from '../../src/attribution/chains.ts';
import { delayLaw, timesLaw } from '../../src/dating/delay.ts';
import { type Density, normalised } from '../../src/dating/density.ts';
import type { MarkRole } from '../../src/dating/mark-roles.ts';
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
  /** It may also be a sale label that names nobody: what that weighs. */
  maySell: number | undefined;
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
    maySell: fc.constantFrom(undefined, undefined, 0.02, 0.2),
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
  const chainMarks = marks.map(({ over, role, own, held, names, maySell }, place): ChainMark => {
    const candidates = Object.entries(held).map(([person, [from, length, bits]]): CandidateInput => {
      const at = FIRST_DAY + from;
      return candidate(person, [post(slope(at, at, at + length, at + length))], { forms: [form(bits)] });
    });
    return {
      id: `m${place + 1}`,
      law: delayLaw(role, QUICK),
      unnamed: names && maySell !== undefined ? timesLaw(delayLaw('sale', QUICK), maySell) : undefined,
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
  return marks.map(({ over, role, own, held, names, maySell }, place): SlowMark => {
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
    const sold =
      maySell === undefined ? [] : [{ ...nobody, isNobody: true, law: timesLaw(delayLaw('sale', QUICK), maySell) }];
    const holders = names ? [...known, unknown, ...sold] : [nobody];
    return { over, law: delayLaw(role, QUICK), namesHolder: names, holders };
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
        for (const { mark, share } of told.noHolder) {
          const place = Number(mark.slice(1)) - 1;
          const expected = scored
            .filter(({ assigned }) => slow[place]?.holders[assigned[place] ?? 0]?.isNobody)
            .reduce((sum, { score }) => sum + score, 0);
          expect(share).toBeCloseTo(expected / total, 5);
        }
      }),
      { seed: 41, numRuns: 150 },
    ));

  test('what is left out is bounded, however many of a chain are left out and joined', () => {
    let worst = 0;
    fc.assert(
      fc.property(anyObject, ({ marks, made }) => {
        const { scored, total, slow } = slowAnswer(marks, made);
        fc.pre(total > 0 && scored.every((chain) => chain.score === 0 || hasOrder(chain)));
        const isLeft = (person: string | undefined) => person === 'p1' || person === 'p2';
        const truth = scored
          .filter(({ assigned }) => assigned.some((c, place) => isLeft(slow[place]?.holders[c]?.who)))
          .reduce((sum, { score }) => sum + score / total, 0);
        const input = inputOf(marks, made);
        const { leftOut, makingContradicted } = chainsOf(
          {
            ...input,
            isKin: (a, b) => !isLeft(a) && !isLeft(b) && input.isKin(a, b),
            surnamesOf: (person) => (isLeft(person) ? [] : input.surnamesOf(person)),
            standsFor: (person) => (isLeft(person) ? 'joined' : undefined),
          },
          QUICK,
        );
        // Where the order of the marks bears on what is not left out, that part of the sum is near but not exact.
        fc.pre(!makingContradicted && marks.every(({ over }) => over < 0));
        expect(leftOut.share).toBeLessThanOrEqual(leftOut.atMost);
        expect(truth).toBeLessThan(leftOut.atMost + 0.01);
        worst = Math.max(worst, truth);
      }),
      { seed: 47, numRuns: 100 },
    );
    expect(worst).toBeGreaterThan(0.5);
  });

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

describe('a horizon of 360 years', () => {
  const horizon = DEFAULTS.horizon;
  const size = horizon.until - horizon.from;
  const making: Density = { from: horizon.from, weights: new Float64Array(size) };
  for (let y = 73_000; y < 90_000; y += 1) making.weights[y] = 1 / 17_000;
  const at = (day: number): number => horizon.from + day;
  const tenures: Record<string, [number, number, number, number]> = {
    p1: [78_000, 78_400, 80_000, 82_000],
    p2: [80_500, 81_000, 84_000, 84_001],
    p3: [88_000, 88_500, 93_000, 96_000],
    p4: [92_000, 92_001, 99_000, 104_000],
  };
  const stay = (id: string) => {
    const [a, b, c, d] = tenures[id] ?? [0, 1, 2, 3];
    return slope(at(a), at(b), at(c), at(d));
  };
  const named = [
    ['p1', 'p2'],
    ['p1', 'p2', 'p3'],
    ['p3', 'p4'],
  ];
  const roles: MarkRole[] = ['owner', 'owner', 'sale'];
  const unrecorded = 0.1;
  const marks = named.map((persons, place): ChainMark => {
    const own = new Float64Array(size).fill(1);
    if (place === 2) own.fill(0, 0, 90_000).fill(0, 110_000);
    return {
      id: `m${place + 1}`,
      law: delayLaw(roles[place] ?? 'owner', DEFAULTS),
      own,
      over: undefined,
      beforeMaking: false,
      holders: {
        candidates: persons.map((id) => candidate(id, [post(stay(id))])),
        surnames: [],
        unrecorded: { rank: 'captain', surname: { damaged: false, seenLetters: 7 }, unknownBits: 0, sweeps: [] },
      },
    };
  });

  test('shares within 0.002 of the sums over every day', () => {
    const told = chainsOf({ making, marks, isKin: () => false, surnamesOf: (person) => [person] }, DEFAULTS, 5);
    // Backward sums from day to day for each mark and holder, with the mean day beside the weight.
    const exponentials = [
      [
        [0.6, 3],
        [0.4, 40],
      ],
      [
        [0.6, 3],
        [0.4, 40],
      ],
      [[1, Number.POSITIVE_INFINITY]],
    ];
    const options = named.map((persons, place) =>
      [...persons, '?'].map((who) => {
        const weight = new Float64Array(size);
        const day = new Float64Array(size);
        for (const [share = 0, years = 1] of exponentials[place] ?? []) {
          const left = Math.exp(-1 / (years * DAYS_PER_YEAR));
          const scale = years === Number.POSITIVE_INFINITY ? 1 : share * (1 - left);
          let [sum, times] = [0, 0];
          for (let t = size - 1; t >= 0; t -= 1) {
            const fallOff = place === 2 ? Math.exp(-t / (40 * DAYS_PER_YEAR)) : 1;
            const held =
              (marks[place]?.own[t] ?? 0) * fallOff * (who === '?' ? unrecorded : stay(who).at(at(t) as Day));
            sum = sum * left + held;
            times = times * left + held * t;
            weight[t] = (weight[t] ?? 0) + scale * sum;
            day[t] = (day[t] ?? 0) + scale * times;
          }
        }
        return { who, weight, day };
      }),
    );
    const scored: { who: string; score: number }[] = [];
    for (const a of options[0] ?? []) {
      for (const b of options[1] ?? []) {
        for (const c of options[2] ?? []) {
          let [sum, da, db, dc] = [0, 0, 0, 0];
          for (let y = 73_000; y < 90_000; y += 1) {
            const [wa, wb, wc] = [a.weight[y] ?? 0, b.weight[y] ?? 0, c.weight[y] ?? 0];
            sum += wa * wb * wc;
            da += (a.day[y] ?? 0) * wb * wc;
            db += wa * (b.day[y] ?? 0) * wc;
            dc += wa * wb * (c.day[y] ?? 0);
          }
          const order = [
            { ...a, m: 1, d: da },
            { ...b, m: 2, d: db },
            { ...c, m: 3, d: dc },
          ].sort((x, y) => x.d - y.d);
          let links = 1;
          for (let i = 1; i < 3; i += 1) if (order[i]?.who !== '?' && order[i]?.who === order[i - 1]?.who) links *= 20;
          scored.push({ who: order.map(({ m, who }) => `m${m}=${who}`).join(), score: sum * links });
        }
      }
    }
    const total = scored.reduce((sum, { score }) => sum + score, 0);
    for (const { share, holdings } of told.chains) {
      const who = holdings.map(({ mark, person }) => `${mark}=${person ?? '?'}`).join();
      const score = scored.find((one) => one.who === who)?.score ?? Number.NaN;
      expect(Math.abs(share - score / total)).toBeLessThan(0.002);
    }
    for (const { person, share } of told.holders) {
      const name = person ?? '?';
      const sum = scored
        .filter(({ who }) => who.split(/[=,]/u).includes(name))
        .reduce((all, { score }) => all + score, 0);
      expect(Math.abs(share - sum / total)).toBeLessThan(0.002);
    }
    expect(told.chains).toHaveLength(5);
  });
});
