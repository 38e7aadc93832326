import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Assumptions, DEFAULTS } from '../../src/assumptions.ts';
import type { NoticeEvent } from '../../src/careers/evidence.ts';
import { type Kinship, type LifeRecord, type LivesInput, lifeConflicts } from '../../src/careers/lives.ts';
import type { Day } from '../../src/time/span.ts';
import { minimalConflicts } from './brute-force.ts';
import { captain, date, evidence, life, listed, notice } from './recorded.ts';

const person = (id: string, parts: Parameters<typeof evidence>[0] = {}): LifeRecord => ({
  id,
  evidence: evidence(parts),
});

const kin = (id: string, of: string, relation: string, relative: string): Kinship => ({
  id,
  key: undefined,
  person: of,
  relation,
  relative,
  said: `${relative} is ${relation} of ${of}`,
});

const one = (id: string, of: string, other: string) => ({
  id,
  key: undefined,
  person: of,
  other,
  said: `${of} = ${other}`,
});

/** Conflicts as "members | set aside | next best". */
function told(input: Partial<LivesInput>, known: readonly string[][] = [], aside: readonly string[] = []): string[] {
  const { conflicts } = lifeConflicts(
    { records: [], kinships: [], samenesses: [], ...input },
    known.map((set) => new Set(set)),
    new Set(aside),
    DEFAULTS,
  );
  const list = (claims: readonly { id: string; part: string }[] | undefined) =>
    (claims ?? [])
      .map(({ id, part }) => `${id} ${part}`)
      .sort()
      .join(', ');
  return conflicts.map(({ members, setAside, otherWayOut }) =>
    [list(members), list(setAside), list(otherWayOut)].join(' | '),
  );
}

describe('lives that cannot all be as recorded', () => {
  test.each<[rule: string, input: Partial<LivesInput>, expected: readonly string[]]>([
    [
      'none',
      {
        records: [person('p1', { born: life('p1', '1812-01-01') }), person('p2', { born: life('p2', '1785-05-05') })],
        kinships: [kin('k1', 'p1', 'parent', 'p2')],
      },
      [],
    ],
    [
      'a child older than the parent: the kinship weighs least',
      {
        records: [person('p1', { born: life('p1', '1812-01-01') }), person('p2', { born: life('p2', '1815-01-01') })],
        kinships: [kin('k1', 'p1', 'parent', 'p2')],
      },
      ['k1 kin, p1 born, p2 born | k1 kin | p2 born'],
    ],
    [
      'the same said from the parent’s side',
      {
        records: [person('p1', { born: life('p1', '1812-01-01') }), person('p2', { born: life('p2', '1815-01-01') })],
        kinships: [kin('k1', 'p2', 'child', 'p1')],
      },
      ['k1 kin, p1 born, p2 born | k1 kin | p2 born'],
    ],
    [
      'a parent of eleven years',
      {
        records: [person('p1', { born: life('p1', '1812-01-01') }), person('p2', { born: life('p2', '1801-01-01') })],
        kinships: [kin('k1', 'p1', 'parent', 'p2')],
      },
      ['k1 kin, p1 born, p2 born | k1 kin | p1 born'],
    ],
    [
      'a child listed as an officer before the parent can have had it',
      {
        records: [
          person('p1', { entries: [listed('e1', '1820-01-01', captain)] }),
          person('p2', { born: life('p2', '1805-01-01') }),
        ],
        kinships: [kin('k1', 'p1', 'parent', 'p2')],
      },
      ['e1 listed, k1 kin, p2 born | k1 kin | e1 listed'],
    ],
    [
      'born years after the death of the parent',
      {
        records: [person('p1', { born: life('p1', '1812-01-01') }), person('p2', { died: life('p2', '1810-01-01') })],
        kinships: [kin('k1', 'p1', 'parent', 'p2')],
      },
      ['k1 kin, p1 born, p2 died | k1 kin | p1 born'],
    ],
    [
      'born 300 days after the death of the parent is possible',
      {
        records: [person('p1', { born: life('p1', '1812-10-27') }), person('p2', { died: life('p2', '1812-01-01') })],
        kinships: [kin('k1', 'p1', 'parent', 'p2')],
      },
      [],
    ],
    [
      'each the parent of the other, without any date',
      {
        records: [person('p1'), person('p2')],
        kinships: [kin('k1', 'p1', 'parent', 'p2'), kin('k2', 'p2', 'parent', 'p1')],
      },
      ['k1 kin, k2 kin | k1 kin | k2 kin'],
    ],
    [
      'over a generation of which nothing is known',
      {
        records: [
          person('p1', { born: life('p1', '1812-01-01') }),
          person('p2'),
          person('p3', { born: life('p3', '1795-01-01') }),
        ],
        kinships: [kin('k1', 'p1', 'parent', 'p2'), kin('k2', 'p2', 'parent', 'p3')],
      },
      ['k1 kin, k2 kin, p1 born, p3 born | k2 kin | k1 kin'],
    ],
    [
      'spouses whose lives do not meet',
      {
        records: [person('p1', { died: life('p1', '1800-01-01') }), person('p2', { born: life('p2', '1801-01-01') })],
        kinships: [kin('k1', 'p1', 'spouse', 'p2')],
      },
      ['k1 kin, p1 died, p2 born | k1 kin | p2 born'],
    ],
    [
      'two births of one person that differ',
      { records: [person('p1', { born: life('p1', '1812-01-01'), notices: [notice('n1', 'born', '1815-01-01')] })] },
      ['n1 born, p1 born | n1 born | p1 born'],
    ],
    [
      'two births of two records found to be one',
      {
        records: [person('p1', { born: life('p1', '1812-01-01') }), person('p2', { born: life('p2', '1815-01-01') })],
        samenesses: [one('sm1', 'p1', 'p2')],
      },
      ['p1 born, p2 born, sm1 same | sm1 same | p2 born'],
    ],
    [
      'married after death',
      { records: [person('p1', { died: life('p1', '1840-01-01'), notices: [notice('n1', 'married', '1841-01-01')] })] },
      ['n1 alive, p1 died | n1 alive | p1 died'],
    ],
    [
      'siblings bound nothing',
      {
        records: [person('p1', { born: life('p1', '1812-01-01') }), person('p2', { born: life('p2', '1600-01-01') })],
        kinships: [kin('k1', 'p1', 'sibling', 'p2')],
      },
      [],
    ],
  ])('%s', (_rule, input, expected) => expect(told(input)).toEqual(expected));

  test('what a career says already is not said again, and what it set aside stays so', () => {
    const input = {
      records: [person('p1', { born: life('p1', '1830-01-01'), entries: [listed('e1', '1835-01-01', captain)] })],
    };
    expect(told(input)).toEqual(['e1 listed, p1 born | e1 listed | p1 born']);
    expect(told(input, [['e1 listed', 'p1 born']])).toEqual([]);
    const kinToo = {
      records: [person('p1', { born: life('p1', '1812-01-01') }), person('p2', { born: life('p2', '1815-01-01') })],
      kinships: [kin('k1', 'p1', 'parent', 'p2')],
    };
    expect(told(kinToo, [], ['p2 born'])).toEqual(['k1 kin, p1 born, p2 born | p2 born | k1 kin']);
    const [son, father] = kinToo.records;
    const listedToo = {
      ...kinToo,
      records: [
        person('p1', { born: life('p1', '1812-01-01'), entries: [listed('e1', '1826-01-01', captain)] }),
        ...(son && father ? [father] : []),
      ],
    };
    // The kinship alone gets out of what is left: what the career set aside is no part of its price.
    expect(told(listedToo, [], ['e1 listed'])).toEqual([
      'e1 listed, k1 kin, p2 born | e1 listed | k1 kin',
      'k1 kin, p1 born, p2 born | k1 kin | p2 born',
    ]);
  });

  test('a large kin with one mistake: found, though not every way round it is gone through', () => {
    const people = Array.from({ length: 240 }, (_, k) =>
      person(`p${k + 1}`, { born: life(`p${k + 1}`, `${1500 + 25 * Math.floor(k / 24)}-01-01`) }),
    );
    const kinships = people.flatMap((_, k) =>
      k < 24
        ? []
        : [
            kin(`k${2 * k}`, `p${k + 1}`, 'parent', `p${k - 23}`),
            kin(`k${2 * k + 1}`, `p${k + 1}`, 'parent', `p${((k + 1) % 24) + k - (k % 24) - 23}`),
          ],
    );
    const wrong = [...kinships, kin('k9999', 'p1', 'parent', 'p240')];
    const { conflicts } = lifeConflicts({ records: people, kinships: wrong, samenesses: [] }, [], new Set(), DEFAULTS);
    expect(conflicts.length).toBeGreaterThan(0);
    expect(conflicts.every(({ members }) => members.some(({ id }) => id === 'k9999'))).toBe(true);
    expect(conflicts.every(({ setAside }) => setAside.some(({ id }) => id === 'k9999'))).toBe(true);
  });
});

/** Ages of none, so that few days are enough to try everything. */
const AGELESS: Assumptions = { ...DEFAULTS, values: { ...DEFAULTS.values, 'minimum.age': 0, 'parent.age': 0 } };

type Told =
  | { readonly says: NoticeEvent; readonly of: number; readonly from: number; readonly last: number }
  | { readonly says: 'parent' | 'spouse'; readonly of: number; readonly other: number }
  | { readonly says: 'same'; readonly of: number; readonly other: number };

const PEOPLE = 3;
/** Claims are about days 2 to 5 of 0 to 7, so that nobody wants for room at either end. */
const anyTold: fc.Arbitrary<Told> = fc.oneof(
  fc.record({
    says: fc.constantFrom('born' as const, 'died' as const, 'married' as const),
    of: fc.nat(PEOPLE - 1),
    from: fc.integer({ min: 2, max: 4 }),
    last: fc.integer({ min: 4, max: 5 }),
  }),
  fc
    .record({
      says: fc.constantFrom('parent' as const, 'spouse' as const, 'same' as const),
      of: fc.nat(PEOPLE - 1),
      other: fc.nat(PEOPLE - 1),
    })
    .filter(({ of, other }) => of !== other),
);

type Lives = readonly (readonly [birth: number, death: number])[];

function holds(claim: Told, lives: Lives): boolean {
  const [birth, death] = lives[claim.of] as readonly [number, number];
  if ('other' in claim) {
    const [otherBirth, otherDeath] = lives[claim.other] as readonly [number, number];
    if (claim.says === 'same') return birth === otherBirth && death === otherDeath;
    if (claim.says === 'spouse') return birth <= otherDeath && otherBirth <= death;
    return otherBirth < birth; // 300 days are more than there are
  }
  if (claim.says === 'married') {
    for (let day = claim.from; day <= claim.last; day++) if (birth <= day && day <= death) return true;
    return false;
  }
  const day = claim.says === 'born' ? birth : death;
  return claim.from <= day && day <= claim.last;
}

const EVERY_LIFE = Array.from({ length: 8 }, (_, birth) =>
  Array.from({ length: 8 - birth }, (_, more) => [birth, birth + more] as const),
).flat();

test('the sets are all minimal ones, by trying every life', () => {
  fc.assert(
    fc.property(fc.array(anyTold, { maxLength: 6 }), (claims) => {
      const masks = new Set<number>();
      for (const a of EVERY_LIFE)
        for (const b of EVERY_LIFE)
          for (const c of EVERY_LIFE)
            masks.add(claims.reduce((mask, claim, k) => (holds(claim, [a, b, c]) ? mask | (1 << k) : mask), 0));
      const expected = minimalConflicts(claims.length, [...masks]);
      const records = Array.from({ length: PEOPLE }, (_, at) =>
        person(`p${at}`, {
          notices: claims.flatMap((claim, k) =>
            'other' in claim || claim.of !== at
              ? []
              : [
                  {
                    ...notice(`n${k}`, claim.says, 0),
                    date: { ...date(0), span: { from: claim.from as Day, until: (claim.last + 1) as Day } },
                  },
                ],
          ),
        }),
      );
      const kinships = claims.flatMap((claim, k) =>
        'other' in claim && claim.says !== 'same' ? [kin(`k${k}`, `p${claim.of}`, claim.says, `p${claim.other}`)] : [],
      );
      const samenesses = claims.flatMap((claim, k) =>
        claim.says === 'same' ? [one(`sm${k}`, `p${claim.of}`, `p${(claim as { other: number }).other}`)] : [],
      );
      const { conflicts, complete } = lifeConflicts({ records, kinships, samenesses }, [], new Set(), AGELESS);
      const found = conflicts.map(({ members }) =>
        members.reduce((mask, { id }) => mask | (1 << Number(id.replace(/\D+/, ''))), 0),
      );
      expect(complete).toBe(true);
      expect(found.sort()).toEqual([...expected].sort());
    }),
    { numRuns: 60, seed: 11 },
  );
});
