import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import type { Career } from '../../src/careers/career.ts';
import type { CareerEvidence, ListedEntry, Notice } from '../../src/careers/evidence.ts';
import { solveCareer } from '../../src/careers/solve.ts';
import type { Rank } from '../../src/services/rank.ts';
import {
  type Absence,
  absentIn,
  assignments,
  holds,
  leastSetAside,
  minimalConflicts,
  type Shape,
  type Statement,
  truths,
  type Window,
} from './brute-force.ts';
import { captainLieutenant, colonel, condition, evidence, listed, major, notFound, notice } from './recorded.ts';

const _solve = (parts: Partial<CareerEvidence>): Career => solveCareer(evidence(parts), DEFAULTS);

/** Days on which random evidence lies, and those among which the reference looks. */
const FIRST = 3;
const LAST = 9;
const WORLD: Window = [-5, 17];

type Random = {
  readonly posts: number;
  readonly statements: readonly Statement[];
  readonly absences: readonly Absence[];
};

const anyWindow = fc
  .tuple(fc.integer({ min: FIRST, max: LAST }), fc.nat(2))
  .map(([first, more]): Window => [first, Math.min(LAST, first + more)]);

const anyStatement = (posts: number): fc.Arbitrary<Statement> =>
  fc.oneof(
    {
      weight: 5,
      arbitrary: fc.record({
        says: fc.constant('listed' as const),
        post: fc.nat(posts - 1),
        asAt: anyWindow,
        lag: fc.nat(1),
        weight: fc.constant(3),
      }),
    },
    {
      weight: 1,
      arbitrary: fc.record({
        says: fc.constant('start' as const),
        post: fc.nat(posts - 1),
        in: anyWindow,
        weight: fc.constant(6),
      }),
    },
    {
      weight: 1,
      arbitrary: fc.record({
        says: fc.constant('end' as const),
        post: fc.nat(posts - 1),
        in: anyWindow,
        weight: fc.constant(6),
      }),
    },
    {
      weight: 1,
      arbitrary: fc
        .record({
          says: fc.constant('lasts' as const),
          post: fc.nat(posts - 1),
          least: fc.integer({ min: 1, max: 4 }),
          most: fc.integer({ min: 2, max: 5 }),
          weight: fc.constant(6),
        })
        .map((one) => ({ ...one, most: Math.max(one.least, one.most) })),
    },
  );

const anyCareer: fc.Arbitrary<Random> = fc.integer({ min: 1, max: 3 }).chain((posts) =>
  fc.record({
    posts: fc.constant(posts),
    statements: fc
      .array(anyStatement(posts), { minLength: 1, maxLength: 8 })
      // One statement at least for each post, and no two of its end or of conditions, which have rules of their own.
      .map((some) => [
        ...days(posts).map(
          (post): Statement => ({
            says: 'listed',
            post,
            asAt: [FIRST + 2 * post, FIRST + 2 * post + 2],
            lag: 0,
            weight: 3,
          }),
        ),
        ...some.filter(
          (one, at) =>
            (one.says !== 'end' && one.says !== 'lasts') ||
            some.findIndex((other) => other.says === one.says && (one.says === 'lasts' || other.post === one.post)) ===
              at,
        ),
      ]),
    absences: fc.array(fc.record({ asAt: anyWindow, lag: fc.nat(1) }), { maxLength: 2 }),
  }),
);

const days = (count: number): number[] => Array.from({ length: count }, (_, at) => at);

const RANKS: readonly Rank[] = [captainLieutenant, major, colonel].map((rank, at) => ({
  ...rank,
  order: at,
  step: undefined,
}));

/** The same in records. Ranks without main steps, so that none is implied. */
function recordsOf({ statements, absences }: Random): CareerEvidence {
  const entries: ListedEntry[] = [];
  const notices: Notice[] = [];
  const conditions: CareerEvidence['conditions'][number][] = [];
  statements.forEach((one, k) => {
    const rank = RANKS[one.post] as Rank;
    if (one.says === 'listed') entries.push(listed(`e${k}`, one.asAt[0], rank, { last: one.asAt[1], lag: one.lag }));
    else if (one.says === 'lasts') conditions.push(condition(`c${k}`, rank, one.least, one.most));
    else {
      const event = one.says === 'start' ? 'promoted' : 'retired';
      notices.push(notice(`n${k}`, event, one.in[0], { last: one.in[1], rank, corps: '2nd Fencibles' }));
    }
  });
  const nilSearches = absences.map(({ asAt, lag }, k) => notFound(`s${k}`, asAt[0], { last: asAt[1], lag }));
  return evidence({ entries, notices, conditions, nilSearches, mainSteps: new Map() });
}

const shapeOf = ({ posts, statements }: Random): Shape => ({
  posts,
  apart: days(posts - 1).map((post) => statements.some((one) => one.says === 'end' && one.post === post)),
});

/** A day on the edge of the world stands for an open side; evidence reaches from day −2 to day 14. */
const open = (day: number): number => (day <= WORLD[0] + 2 ? -Infinity : day >= WORLD[1] - 1 ? Infinity : day);

/** A second appointment to a post is another matter; the reference knows only one to each. */
const isSimple = (random: Random): boolean => solveCareer(recordsOf(random), DEFAULTS).tenures.length === random.posts;

describe('solveCareer against every assignment of days', () => {
  test('conflicts are all the minimal ones, and what is set aside weighs the least', () => {
    let conflicting = 0;
    fc.assert(
      fc.property(anyCareer, (random) => {
        fc.pre(isSimple(random));
        const career = solveCareer({ ...recordsOf(random), nilSearches: [] }, DEFAULTS);
        const masks = truths(random.statements, assignments(shapeOf(random), WORLD));
        const expected = minimalConflicts(random.statements.length, masks);
        const found = career.conflicts.map(({ members }) =>
          members.reduce((set, { id }) => set | (1 << Number(id.slice(1))), 0),
        );
        expect([...found].sort()).toEqual([...expected].sort());
        const aside = new Set(
          career.conflicts.flatMap(({ setAside }) => setAside.map(({ id }) => Number(id.slice(1)))),
        );
        const weight = [...aside].reduce((sum, k) => sum + (random.statements[k]?.weight ?? 0), 0);
        expect(weight).toBe(leastSetAside(random.statements, masks));
        if (expected.length > 0) conflicting++;
      }),
      { seed: 7, numRuns: 300 },
    );
    expect(conflicting).toBeGreaterThan(80);
  });

  test('bounds are those of the assignments that remain', () => {
    let closed = 0;
    fc.assert(
      fc.property(anyCareer, (random) => {
        fc.pre(isSimple(random));
        const career = solveCareer(recordsOf(random), DEFAULTS);
        const aside = new Set(career.conflicts.flatMap(({ setAside }) => setAside.map(({ id }) => id)));
        const kept = random.statements.filter((_, k) => !['e', 'n', 'c'].some((kind) => aside.has(`${kind}${k}`)));
        const shape = shapeOf(random);
        const gapsOf = random.absences.map((absence) => possibleGaps(absence, shape, kept));
        const used = gapsOf.flatMap((gaps, k) =>
          gaps.length === 1 && !aside.has(`s${k}`) ? [{ k, gap: gaps[0] as number }] : [],
        );
        const apart = shape.apart.map((one, post) => one || used.some(({ gap }) => gap === post + 1));
        const left = assignments({ posts: shape.posts, apart }, WORLD).filter(
          (one) =>
            kept.every((statement) => holds(statement, one)) &&
            used.every(({ k, gap }) => absentIn(random.absences[k] as Absence, gap, one)),
        );
        expect(left.length).toBeGreaterThan(0);
        career.tenures.forEach(({ start, end }, post) => {
          const starts = left.map((one) => one[post]?.[0] ?? Number.NaN);
          const ends = left.map((one) => one[post]?.[1] ?? Number.NaN);
          const expected = [Math.min(...starts), Math.max(...starts), Math.min(...ends), Math.max(...ends)].map(open);
          expect([start.earliest, start.latest, end.earliest, end.latest]).toEqual(expected);
          if (expected.every(Number.isFinite)) closed++;
        });
        gapsOf.forEach((gaps, k) => {
          const reported = career.conflicts.some(({ members }) => members.some(({ id }) => id === `s${k}`));
          if (gaps.length === 0) expect(reported).toBe(true);
          if (gaps.length > 1) expect(career.unused.map(({ id }) => id)).toContain(`s${k}`);
        });
      }),
      { seed: 12, numRuns: 400 },
    );
    expect(closed).toBeGreaterThan(50);
  });
});

function possibleGaps(absence: Absence, { posts, apart }: Shape, kept: readonly Statement[]): number[] {
  return days(posts + 1).filter((gap) => {
    const opened = apart.map((one, post) => one || post + 1 === gap);
    return assignments({ posts, apart: opened }, WORLD).some(
      (one) => kept.every((statement) => holds(statement, one)) && absentIn(absence, gap, one),
    );
  });
}
