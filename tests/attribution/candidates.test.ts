import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { type CandidateInput, markDays, type NameForm, type Post } from '../../src/attribution/candidate.ts';
import { type CandidatesInput, describe as describeCandidate, sharesOf } from '../../src/attribution/candidates.ts';
import { type Density, normalised, uniform } from '../../src/dating/density.ts';
import { ALL_TIME, type Day } from '../../src/time/span.ts';
import { candidate, form, post, slope, span } from './made-up.ts';

const days = 400;

/** T of one candidate, by walking over every day, every post and every name in use on it. */
function weightByTheRule({ forms, posts, placeBits }: CandidateInput, { from, weights }: Density): number {
  let sum = 0;
  for (const [i, f] of [...weights].entries()) {
    const day = (from + i) as Day;
    const names = forms.filter(({ inUse }) => day >= inUse.from && day < inUse.until);
    if (names.length === 0) continue;
    const name = Math.min(...names.map(({ surnameBits, forenameBits }) => surnameBits + forenameBits));
    for (const { membership, rankBits, corpsBits } of posts) {
      sum += f * 2 ** -(name + rankBits + corpsBits + placeBits) * membership.at(day);
    }
  }
  return sum;
}

const anyForm: fc.Arbitrary<NameForm> = fc
  .tuple(
    fc.constantFrom(0, 5, 6, 11),
    fc.constantFrom(0, 2, 10),
    fc.integer({ min: -50, max: days }),
    fc.integer({ min: 1, max: days }),
  )
  .map(([surname, forenames, from, length]) => form(surname, forenames, span(from, from + length)));
const anyPost: fc.Arbitrary<Post> = fc
  .tuple(
    fc.integer({ min: -100, max: days }),
    fc.array(fc.integer({ min: 1, max: 120 }), { minLength: 3, maxLength: 3 }),
    fc.constantFrom(0, 6, 10),
    fc.constantFrom(0, 1, 2, 3),
  )
  .map(([from, [a = 1, b = 1, c = 1], corpsBits, rankBits]) =>
    post(slope(from, from + a, from + a + b, from + a + b + c), { corpsBits, rankBits }),
  );
const anyCandidates = fc
  .array(
    fc.record({
      forms: fc.array(anyForm, { maxLength: 3 }),
      posts: fc.array(anyPost, { minLength: 1, maxLength: 3 }),
      placeBits: fc.constantFrom(0, 4, 6),
    }),
    { maxLength: 6 },
  )
  .map((given) =>
    given.map(({ forms, ...rest }, i) => candidate(`p${i + 1}`, rest.posts, { ...rest, forms: [form(i), ...forms] })),
  );
const anyDensity: fc.Arbitrary<Density> = fc
  .array(fc.integer({ min: 0, max: 5 }), { minLength: 1, maxLength: 12 })
  .filter((weights) => weights.some((weight) => weight > 0))
  .map((weights) => {
    const raw = {
      from: 0 as Day,
      weights: Float64Array.from({ length: days }, (_, i) => weights[i % weights.length] ?? 0),
    };
    return normalised(raw) ?? raw;
  });

const question = (density: Density, candidates: readonly CandidateInput[]): CandidatesInput => ({
  mark: markDays(density),
  candidates,
  unrecorded: { rank: 'captain', surname: { damaged: false, seenLetters: 7 }, unknownBits: 3, sweeps: [] },
});

describe('shares', () => {
  test('agree with the sum over every day, post and name', () =>
    fc.assert(
      fc.property(anyCandidates, anyDensity, (candidates, density) => {
        const shares = sharesOf(question(density, candidates), DEFAULTS);
        const weights = candidates.map((one) => weightByTheRule(one, density));
        const unrecorded = 1000 * 0.0001 * 2 ** -3;
        const total = unrecorded + weights.reduce((a, b) => a + b, 0);
        expect(shares.unrecorded.share).toBeCloseTo(unrecorded / total, 9);
        for (const { person, share } of shares.ranked) {
          expect(share).toBeCloseTo((weights[Number(person.slice(1)) - 1] ?? Number.NaN) / total, 9);
        }
        expect(shares.ranked.length + shares.outOfTime.length).toBe(candidates.length);
      }),
      { seed: 17, numRuns: 150 },
    ));

  test('add up to 1, the greatest first, whatever order the candidates come in', () =>
    fc.assert(
      fc.property(anyCandidates, anyDensity, (candidates, density) => {
        const shares = sharesOf(question(density, candidates), DEFAULTS);
        const sum = shares.ranked.reduce((all, { share }) => all + share, shares.unrecorded.share);
        expect(sum).toBeCloseTo(1, 12);
        for (const [i, one] of shares.ranked.slice(1).entries()) {
          expect(one.share).toBeLessThanOrEqual(shares.ranked[i]?.share ?? 0);
        }
        const again = sharesOf(question(density, [...candidates].reverse()), DEFAULTS);
        expect(again.ranked).toEqual(shares.ranked);
        expect(again.unrecorded).toEqual(shares.unrecorded);
      }),
      { seed: 19, numRuns: 100 },
    ));

  const certainly = post(slope(0, 0, days, days));
  const even = uniform(span(0, days));

  test('tenures of one rank in different corps add up, each with its own bits', () => {
    const first = post(slope(0, 0, 200, 200), { corpsBits: 10 });
    const second = post(slope(200, 200, 400, 400));
    const { ranked } = sharesOf(question(even, [candidate('p1', [first, second])]), DEFAULTS);
    expect(ranked[0]?.weight).toBeCloseTo(0.5 * 2 ** -10 + 0.5, 12);
    expect(ranked[0]?.bits.corps).toBe(0);
  });

  test('a later name weighs from its first day on only', () => {
    const forms = [form(11, 0, ALL_TIME), form(0, 0, span(300, 1000))];
    const { ranked } = sharesOf(question(even, [candidate('p1', [certainly], { forms })]), DEFAULTS);
    expect(ranked[0]?.weight).toBeCloseTo(0.75 * 2 ** -11 + 0.25, 12);
    expect(ranked[0]?.bits.surname).toBe(0);
  });

  test('of equal shares the lower number comes first', () => {
    const { ranked } = sharesOf(
      question(
        even,
        ['p10', 'p9', 'p2'].map((id) => candidate(id, [certainly])),
      ),
      DEFAULTS,
    );
    expect(ranked.map(({ person }) => person)).toEqual(['p2', 'p9', 'p10']);
  });

  test('nobody within the limits: all of it is unrecorded, and that is no finding', () => {
    const shares = sharesOf(question(even, []), DEFAULTS);
    expect(shares.nobodyFits).toBe(true);
    expect(shares.unrecorded.share).toBe(1);
    expect(sharesOf(question(even, [candidate('p1', [certainly])]), DEFAULTS).nobodyFits).toBe(false);
  });

  test('somebody who fits, but was not in post on any day of the mark, is told apart', () => {
    const shares = sharesOf(question(even, [candidate('p1', [post(slope(1000, 1001, 1002, 1003))])]), DEFAULTS);
    expect(shares.outOfTime.map(({ person }) => person)).toEqual(['p1']);
    expect(shares.nobodyFits).toBe(true);
  });
});

describe('what is said of one candidate', () => {
  const even = uniform(span(0, days));
  const tenure = {
    start: { earliest: 100 as Day, latest: 100 as Day },
    end: { earliest: 200 as Day, latest: 200 as Day },
    possible: span(100, 200),
    certain: span(100, 200),
  };
  const held = post(slope(100, 100, 200, 200), { id: 't1', tenure });
  const kept = post(slope(200, 200, 900, 900), { standing: 'courtesy', rankBits: 3, provisional: true });

  test('when the mark was put on, if by them: the shortest 95 % of f · a · μ', () => {
    const [first] = sharesOf(question(even, [candidate('p1', [held])]), DEFAULTS).ranked;
    const told = first && describeCandidate(first, 1, markDays(even), span(150, 250));
    expect(told?.markedBetween).toEqual(span(100, 195));
    expect(told?.certain).toEqual({ span: span(150, 200), days: 50 });
    expect(told?.relations).toEqual(['overlaps']);
    expect(told?.tenures).toEqual(['t1']);
    expect(told?.provisional).toBe(false);
  });

  test('a courtesy counts as the same candidate, and makes them provisional with its own bounds', () => {
    const [first, second] = sharesOf(question(even, [candidate('p1', [held, kept])]), DEFAULTS).ranked;
    expect(second).toBeUndefined();
    expect(first?.weight).toBeCloseTo(0.25 + 0.5 / 8, 12);
    const told = first && describeCandidate(first, 1, markDays(even), span(0, 400));
    expect(told?.provisional).toBe(true);
    expect(told?.bits.rank).toBe(0);
    // 100 days at 1 and 200 at an eighth: 95 % of 125 are reached 150 days into the courtesy, all of it from day 100 on.
    expect(told?.markedBetween).toEqual(span(100, 350));
  });
});
