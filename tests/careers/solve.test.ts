import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import type { Career } from '../../src/careers/career.ts';
import type { CareerEvidence, ListedEntry, Notice } from '../../src/careers/evidence.ts';
import { solveCareer } from '../../src/careers/solve.ts';
import type { Rank } from '../../src/services/rank.ts';
import {
  type Absence,
  type Assignment,
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
import {
  captain,
  captainLieutenant,
  colonel,
  condition,
  date,
  day,
  ensign,
  evidence,
  lieutenant,
  life,
  listed,
  major,
  notFound,
  notice,
  office,
} from './recorded.ts';

/** Days on which random evidence lies, and those among which the reference looks. */
const FIRST = 3;
const LAST = 9;
const WORLD: Window = [-6, 18];

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
          least: fc.integer({ min: 1, max: 2 }),
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
const open = (day: number): number => (day <= -3 ? -Infinity : day >= 15 ? Infinity : day);

/** A second appointment to a post is another matter; the reference knows only one to each. */
const isSimple = (random: Random): boolean => solveCareer(recordsOf(random), DEFAULTS).tenures.length === random.posts;

describe('solveCareer against every assignment of days', () => {
  test('conflicts are all the minimal ones, and what is set aside weighs the least', { timeout: 300_000 }, () => {
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
      { seed: 7, numRuns: 1000 },
    );
    expect(conflicting).toBeGreaterThan(300);
  });

  test('provisional is what another way out would change', () => {
    const counts = { provisional: 0, firm: 0 };
    fc.assert(
      fc.property(anyCareer, (random) => {
        fc.pre(isSimple(random));
        const career = solveCareer({ ...recordsOf(random), nilSearches: [] }, DEFAULTS);
        fc.pre(career.conflicts.length > 0);
        const all = assignments(shapeOf(random), WORLD);
        // Each way out, nothing of which is needless, leaves a set of true statements that cannot be enlarged.
        const masks = truths(random.statements, all);
        const largest = masks.filter((mask) => !masks.some((other) => other !== mask && (other & mask) === mask));
        const bounds = largest.map((mask) => {
          const left = all.filter((one) =>
            random.statements.every((each, k) => !(mask & (1 << k)) || holds(each, one)),
          );
          return boundsIn(left, random.posts);
        });
        career.tenures.forEach(({ provisional }, post) => {
          const different = new Set(bounds.map((one) => String(one[post]))).size > 1;
          expect(provisional).toBe(different);
          counts[different ? 'provisional' : 'firm']++;
        });
      }),
      { seed: 33, numRuns: 120 },
    );
    expect(counts.provisional).toBeGreaterThan(40);
    expect(counts.firm).toBeGreaterThan(2);
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
          const expected = boundsIn(left, shape.posts)[post] as number[];
          expect([start.earliest, start.latest, end.earliest, end.latest]).toEqual(expected);
          if (expected.every(Number.isFinite)) closed++;
        });
        gapsOf.forEach((gaps, k) => {
          const reported = career.conflicts.some(({ members }) => members.some(({ id }) => id === `s${k}`));
          if (gaps.length === 0) expect(reported).toBe(true);
          if (gaps.length > 1) expect(career.unused.map(({ id }) => id)).toContain(`s${k}`);
        });
      }),
      { seed: 12, numRuns: 250 },
    );
    expect(closed).toBeGreaterThan(50);
  });
});

/** Earliest and latest start, earliest and latest end of each post. */
function boundsIn(all: readonly Assignment[], posts: number): number[][] {
  return days(posts).map((post) => {
    const bounds = [Infinity, -Infinity, Infinity, -Infinity];
    for (const one of all) {
      const [start, end] = one[post] as readonly [number, number];
      bounds[0] = Math.min(bounds[0] as number, start);
      bounds[1] = Math.max(bounds[1] as number, start);
      bounds[2] = Math.min(bounds[2] as number, end);
      bounds[3] = Math.max(bounds[3] as number, end);
    }
    return bounds.map(open);
  });
}

function possibleGaps(absence: Absence, { posts, apart }: Shape, kept: readonly Statement[]): number[] {
  return days(posts + 1).filter((gap) => {
    const opened = apart.map((one, post) => one || post + 1 === gap);
    return assignments({ posts, apart: opened }, WORLD).some(
      (one) => kept.every((statement) => holds(statement, one)) && absentIn(absence, gap, one),
    );
  });
}

const solve = (parts: Partial<CareerEvidence>): Career => solveCareer(evidence(parts), DEFAULTS);

/** What can be compared: getters are read, infinities kept. */
const plain = (career: Career) => ({ ...career, tenures: career.tenures.map((tenure) => ({ ...tenure })) });

describe('laws', () => {
  test('the order of the records never matters', () => {
    fc.assert(
      fc.property(
        anyCareer.chain((random) => {
          const { entries, notices, nilSearches, conditions } = recordsOf(random);
          const shuffled = <T>(all: readonly T[]) => fc.shuffledSubarray([...all], { minLength: all.length });
          return fc.record({
            before: fc.constant(recordsOf(random)),
            entries: shuffled(entries),
            notices: shuffled(notices),
            nilSearches: shuffled(nilSearches),
            conditions: shuffled(conditions),
          });
        }),
        ({ before, ...after }) => {
          expect(plain(solveCareer({ ...before, ...after }, DEFAULTS))).toEqual(plain(solveCareer(before, DEFAULTS)));
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });

  test('nor does the order of recording, where the senders’ keys are the same', () => {
    fc.assert(
      fc.property(
        anyCareer.chain((random) => fc.tuple(fc.constant(random), fc.shuffledSubarray(days(20), { minLength: 20 }))),
        ([random, numbers]) => {
          const keyed = recordsOf(random);
          const entries = keyed.entries.map((entry) => ({ ...entry, key: entry.id }));
          // The same entries, recorded in another order.
          const again = entries.map((entry) => ({ ...entry, id: `e${numbers[Number(entry.id.slice(1))]}` }));
          const bounds = (records: readonly ListedEntry[]) =>
            solveCareer({ ...keyed, entries: records }, DEFAULTS).tenures.map(
              ({ start, end, possible, provisional }) => [start, end, possible, provisional],
            );
          expect(bounds(again)).toEqual(bounds(entries));
        },
      ),
      { seed: 8, numRuns: 300 },
    );
  });

  /** A true career of three posts that touch, and true evidence on it in no particular order. */
  const anyTruth = fc
    .record({
      starts: fc
        .uniqueArray(fc.integer({ min: 0, max: 400 }), { minLength: 4, maxLength: 4 })
        .map((all) => all.sort((a, b) => a - b)),
      lists: fc.array(
        fc.record({
          asAt: fc.integer({ min: 0, max: 400 }),
          more: fc.nat(20),
          lag: fc.nat(40),
          late: fc.nat(40),
          dated: fc.boolean(),
        }),
        {
          minLength: 1,
          maxLength: 12,
        },
      ),
    })
    .map(({ starts, lists }) => {
      const entries = lists.flatMap(({ asAt, more, lag, late, dated }, k): ListedEntry[] => {
        const seen = asAt + more - Math.min(late, lag + more); // the day on which the list was true
        const post = [0, 1, 2].find((at) => (starts[at] ?? 0) <= seen && seen < (starts[at + 1] ?? 0));
        if (post === undefined) return [];
        const rank = RANKS[post] as Rank;
        const printed = dated ? { dated: date(starts[post] ?? 0) } : {};
        return [listed(`e${k}`, asAt, rank, { last: asAt + more, lag, ...printed })];
      });
      return { starts, entries };
    });

  test('true evidence gives bounds that hold the truth, and more of it never widens them', () => {
    fc.assert(
      fc.property(anyTruth, ({ starts, entries }) => {
        let earlier: Career | undefined;
        for (let count = 1; count <= entries.length; count++) {
          const career = solve({ entries: entries.slice(0, count), mainSteps: new Map() });
          expect(career.conflicts).toEqual([]);
          // A post between two that are known is not known itself until it is listed: then they no longer touch.
          const whole = career.tenures.every(
            ({ rank }, at) => at === 0 || rank.order === (career.tenures[at - 1]?.rank.order ?? 0) + 1,
          );
          if (!whole) continue;
          for (const { rank, start, end } of career.tenures) {
            const post = rank.order ?? 0;
            expect(start.earliest).toBeLessThanOrEqual(starts[post] ?? 0);
            expect(start.latest).toBeGreaterThanOrEqual(starts[post] ?? 0);
            expect(end.earliest).toBeLessThanOrEqual(starts[post + 1] ?? 0);
            expect(end.latest).toBeGreaterThanOrEqual(starts[post + 1] ?? 0);
            const before = earlier?.tenures.find((other) => other.rank.id === rank.id);
            if (before === undefined) continue;
            expect(start.earliest).toBeGreaterThanOrEqual(before.start.earliest);
            expect(start.latest).toBeLessThanOrEqual(before.start.latest);
            expect(end.earliest).toBeGreaterThanOrEqual(before.end.earliest);
            expect(end.latest).toBeLessThanOrEqual(before.end.latest);
          }
          earlier = career;
        }
      }),
      { seed: 1834, numRuns: 400 },
    );
  });
});

describe('what a career tells', () => {
  const misprint = [
    listed('e1', '1834-01-01', lieutenant, { dated: date('1843-05-16') }),
    listed('e2', '1835-01-01', lieutenant),
    listed('e3', '1840-01-01', major),
  ];

  test('bounds of a usual person, with their grounds', () => {
    const { tenures } = solve({
      entries: [
        listed('e1', '1834-01-01', lieutenant, { lag: 60, dated: date('1833-05-16') }),
        listed('e2', '1838-01-01', lieutenant, { lag: 60 }),
        listed('e3', '1840-01-01', major, { lag: 60 }),
      ],
      nilSearches: [notFound('s1', '1850-01-01')],
      born: life('p1', '1812-01-01', '1812-12-31'),
      died: life('p1', '1871-03-04'),
    });
    expect(
      tenures.map(({ rank, implied, start, end, grounds }) => ({ rank: rank.id, implied, start, end, grounds })),
    ).toEqual([
      {
        rank: 'lieutenant',
        implied: false,
        start: { earliest: day('1833-05-16'), latest: day('1833-05-16') },
        end: { earliest: day('1837-11-03'), latest: day('1839-12-31') },
        grounds: { startEarliest: ['e1'], startLatest: ['e1'], endEarliest: ['e2'], endLatest: ['e3'] },
      },
      {
        rank: 'captain',
        implied: true,
        start: { earliest: day('1837-11-03'), latest: day('1839-12-31') },
        end: { earliest: day('1837-11-04'), latest: day('1840-01-01') },
        grounds: { startEarliest: ['e2'], startLatest: ['e3'], endEarliest: ['e2'], endLatest: ['e3'] },
      },
      {
        rank: 'major',
        implied: false,
        start: { earliest: day('1837-11-04'), latest: day('1840-01-01') },
        end: { earliest: day('1839-11-03'), latest: day('1850-01-01') },
        grounds: { startEarliest: ['e2'], startLatest: ['e3'], endEarliest: ['e3'], endLatest: ['s1'] },
      },
    ]);
    expect(tenures.map(({ certain }) => certain)).toEqual([
      { from: day('1833-05-16'), until: day('1837-11-03') },
      undefined,
      undefined,
    ]);
    expect(tenures[2]?.possible).toEqual({ from: day('1837-11-04'), until: day('1850-01-01') });
  });

  test('the day of birth bounds the first start where no list does', () => {
    const { tenures } = solve({ entries: [listed('e1', '1834-01-01', lieutenant)], born: life('p1', '1812-06-01') });
    expect(tenures[0]?.start.earliest).toBe(day('1822-06-01'));
    expect(tenures[0]?.grounds.startEarliest).toEqual(['p1']);
  });

  test('a bound that another choice would change is provisional', () => {
    const { tenures, otherWayOut } = solve({ entries: misprint });
    expect(tenures.map(({ provisional }) => provisional)).toEqual([true, true, true]);
    expect(otherWayOut.map(({ id, part }) => `${id} ${part}`)).toEqual(['e1 listed', 'e2 listed', 'e3 listed']);
    const harmless = solve({
      entries: [listed('e1', '1840-01-01', lieutenant), listed('e2', '1850-01-01', captain)],
      notices: [
        notice('n1', 'promoted', '1845-02-08', { rank: captain, corps: '2nd Fencibles' }),
        notice('n2', 'promoted', '1845-02-09', { rank: captain, corps: '2nd Fencibles' }),
        notice('n3', 'retired', '1855-01-01', { rank: captain, corps: '2nd Fencibles' }),
      ],
    });
    expect(harmless.conflicts).toHaveLength(1);
    expect(harmless.tenures.map(({ provisional, start }) => [provisional, start.earliest])).toEqual([
      [true, -Infinity],
      [true, day('1845-02-08')],
    ]);
    expect(harmless.tenures[1]?.end).toEqual({ earliest: day('1855-01-01'), latest: day('1855-01-01') });
  });

  test('a conflict in one service leaves another as it is', () => {
    const { tenures } = solve({
      entries: [
        ...misprint,
        listed('e8', '1850-01-01', office('warden'), { corps: undefined }),
        listed('e9', '1852-01-01', office('warden'), { corps: undefined }),
      ],
    });
    expect(tenures.map(({ rank, provisional }) => [rank.id, provisional])).toEqual([
      ['lieutenant', true],
      ['captain', true],
      ['major', true],
      ['warden', false],
    ]);
  });

  test('what the researcher sets aside is as if it had never been recorded, and nothing is provisional any more', () => {
    const career = solve({ entries: misprint, setAside: new Set(['e1']) });
    expect(career.conflicts).toEqual([]);
    expect(career.otherWayOut).toEqual([]);
    expect(plain(career)).toEqual(plain(solve({ entries: misprint.slice(1) })));
    expect(career.tenures.every(({ provisional }) => !provisional)).toBe(true);
    const alive = solve({ entries: misprint, died: life('p1', '1830-01-01'), setAside: new Set(['p1', 'e1']) });
    expect(alive.conflicts).toEqual([]);
    expect(alive.life.death).toBeUndefined();
  });

  test('an appointment of which every claim is set aside is unsupported, and so is what it implies', () => {
    const { tenures } = solve({
      entries: [
        listed('e1', '1834-01-01', lieutenant),
        listed('e2', '1836-01-01', major),
        listed('e3', '1838-01-01', lieutenant),
        listed('e4', '1840-01-01', lieutenant),
      ],
    });
    expect(tenures.map(({ rank, unsupported }) => [rank.id, unsupported])).toEqual([
      ['lieutenant', false],
      ['captain', true],
      ['major', true],
    ]);
    expect(solve({ entries: misprint }).tenures.some(({ unsupported }) => unsupported)).toBe(false);
  });

  test.each<[rule: string, parts: Partial<CareerEvidence>, life: Career['life']]>([
    ['nothing known', {}, { adultFrom: day(-Infinity), death: undefined }],
    [
      'a record and a notice agree on part of their days',
      {
        died: life('p1', '1871-01-01', '1871-12-31'),
        notices: [notice('n1', 'died', '1871-06-01', { last: '1872-06-01' })],
      },
      { adultFrom: day(-Infinity), death: { earliest: day('1871-06-01'), latest: day('1871-12-31') } },
    ],
    [
      'two deaths that do not agree leave all their days open',
      { died: life('p1', '1871-01-01'), notices: [notice('n1', 'died', '1873-01-01')] },
      { adultFrom: day(-Infinity), death: { earliest: day('1871-01-01'), latest: day('1873-01-01') } },
    ],
    [
      'of two births the later bounds more',
      { born: life('p1', '1812-01-01'), notices: [notice('n1', 'born', '1814-01-01')] },
      { adultFrom: day('1824-01-01'), death: undefined },
    ],
  ])('life: %s', (_rule, parts, expected) => expect(solve(parts).life).toEqual(expected));

  test('chains: touching, apart, and the days that conditions allow', () => {
    const { chains } = solve({
      entries: [
        listed('e1', '1834-01-01', ensign),
        listed('e2', '1838-01-01', lieutenant),
        listed('e3', '1845-01-01', captain),
        listed('e4', '1850-01-01', major),
        listed('e5', '1840-01-01', captain, { kind: 'brevet' }),
      ],
      notices: [notice('n1', 'half-pay', '1847-01-01')],
      nilSearches: [notFound('s1', '1840-01-01')],
      conditions: [condition('c1', lieutenant, 100, 3000)],
    });
    expect(chains).toEqual([
      {
        tenures: [0, 1, 2, 3],
        gaps: [undefined, 1, 0],
        leastDays: [1, 100, 1, 1],
        mostDays: [Infinity, 3000, Infinity, Infinity],
      },
      { tenures: [4], gaps: [], leastDays: [1], mostDays: [Infinity] },
    ]);
  });

  test('hundreds of claims with several conflicts are settled in less than a second', () => {
    const ladder = [lieutenant, captain, major];
    const entries = Array.from({ length: 300 }, (_, k) =>
      listed(
        `e${k}`,
        300_000 + 90 * k,
        ladder[Math.floor(k / 100)] as Rank,
        k % 60 === 30 ? { dated: date(300_000 + 90 * k + 2000) } : {},
      ),
    );
    const misread = [50, 150, 250].map((k) =>
      listed(`f${k}`, 300_001 + 90 * k, ladder[(Math.floor(k / 100) + 1) % 3] as Rank),
    );
    const from = process.cpuUsage();
    const career = solve({ entries: [...entries, ...misread], mainSteps: new Map() });
    expect(process.cpuUsage(from).user / 1000).toBeLessThan(1000);
    const aside = new Set(career.conflicts.flatMap(({ setAside }) => setAside.map(({ id, part }) => `${id} ${part}`)));
    expect([...aside].sort()).toEqual([
      'e150 dated',
      'e210 dated',
      'e270 dated',
      'e30 dated',
      'e90 dated',
      'f150 listed',
      'f250 listed',
      'f50 listed',
    ]);
  });
});
