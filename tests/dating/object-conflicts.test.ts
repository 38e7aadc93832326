import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { type FeatureWindow, makingDensity } from '../../src/dating/making.ts';
import { type MarkClue, markDensity } from '../../src/dating/marking.ts';
import { objectConflicts } from '../../src/dating/object-conflicts.ts';
import type { Day, Span } from '../../src/time/span.ts';
import { minimalConflicts } from '../careers/brute-force.ts';

const span = (first: number, last: number): Span => ({ from: first as Day, until: (last + 1) as Day });
const HORIZON = span(0, 99);

const feature = (id: string, first: number, last: number, more: Partial<FeatureWindow> = {}): FeatureWindow => ({
  id,
  text: id,
  window: span(first, last),
  force: 'hard',
  weight: 'moderate',
  state: 'original',
  recorded: Number(id.slice(1)),
  ...more,
});

type MarkParts = {
  readonly id: string;
  readonly stated?: Span;
  readonly over?: string;
  readonly clues?: readonly MarkClue[];
};

const clue = (id: string, first: number, last: number, confidence: MarkClue['confidence'] = 'medium'): MarkClue => ({
  id,
  window: span(first, last),
  force: 'hard',
  weight: 'strong',
  confidence,
  recorded: 1,
});

function found(features: readonly FeatureWindow[], marks: readonly MarkParts[]) {
  const making = makingDensity(features, HORIZON);
  const ordered = marks.map(({ id, stated, over, clues = [] }) => ({
    id,
    stated,
    over,
    clues,
    recorded: Number(id.slice(1)),
    marking: markDensity({ id, roles: [{ role: 'owner', weight: 1 }], stated, clues }, making.density, DEFAULTS),
  }));
  return objectConflicts(features, ordered, making);
}

/** Conflicts as "members | set aside". */
const told = (features: readonly FeatureWindow[], marks: readonly MarkParts[]): string[] =>
  found(features, marks).map(({ members, setAside }) =>
    [members, setAside].map((claims) => claims.map(({ id, part }) => `${id} ${part}`).join(', ')).join(' | '),
  );

describe('windows and marks that cannot all be true', () => {
  test.each<
    [rule: string, features: readonly FeatureWindow[], marks: readonly MarkParts[], expected: readonly string[]]
  >([
    ['none', [feature('f1', 10, 50)], [{ id: 'm1', stated: span(20, 30) }], []],
    [
      'two windows without a common day: the later recorded gives way',
      [feature('f1', 10, 20), feature('f2', 30, 40)],
      [],
      ['f1 window, f2 window | f2 window'],
    ],
    [
      'the less sure gives way',
      [feature('f1', 10, 20, { confidence: 'low' }), feature('f2', 30, 40)],
      [],
      ['f1 window, f2 window | f1 window'],
    ],
    ['a usual window never', [feature('f1', 10, 20, { force: 'usual' }), feature('f2', 30, 40)], [], []],
    [
      'an added part bounds the making by its end alone',
      [feature('f1', 30, 40, { state: 'added' }), feature('f2', 10, 20)],
      [],
      [],
    ],
    [
      'an added part of before the making',
      [feature('f1', 10, 20, { state: 'added' }), feature('f2', 30, 40)],
      [],
      ['f1 window, f2 window | f2 window'],
    ],
    ['a window outside the horizon alone', [feature('f1', 200, 240)], [], ['f1 window | f1 window']],
    [
      'a mark dated before the object can have been made',
      [feature('f1', 30, 40)],
      [{ id: 'm1', stated: span(10, 20) }],
      ['f1 window, m1 made | m1 made'],
    ],
    [
      'a mark older than its wording',
      [],
      [{ id: 'm1', stated: span(10, 20), clues: [clue('c1', 30, 90)] }],
      ['m1 made, c1 clue | c1 clue'],
    ],
    [
      'two wordings of one mark',
      [],
      [{ id: 'm1', clues: [clue('c1', 30, 90), clue('c2', 5, 10, 'high')] }],
      ['c1 clue, c2 clue | c1 clue'],
    ],
    [
      'over a mark that is younger',
      [],
      [
        { id: 'm1', stated: span(40, 45) },
        { id: 'm2', stated: span(10, 20), over: 'm1' },
      ],
      ['m1 made, m2 made, m2 over | m2 over'],
    ],
    [
      'over one that lies over a younger one',
      [],
      [
        { id: 'm1', stated: span(40, 45) },
        { id: 'm2', over: 'm1' },
        { id: 'm3', stated: span(10, 20), over: 'm2' },
      ],
      ['m1 made, m2 over, m3 made, m3 over | m2 over, m3 over'],
    ],
    [
      'over one of the same time',
      [],
      [
        { id: 'm1', stated: span(40, 45) },
        { id: 'm2', stated: span(42, 42), over: 'm1' },
      ],
      [],
    ],
  ])('%s', (_rule, features, marks, expected) => expect(told(features, marks)).toEqual(expected));

  test('what it frees, and what could give way instead', () => {
    const [first] = found([feature('f1', 10, 20), feature('f2', 30, 40), feature('f3', 12, 14)], []);
    expect(first).toMatchObject({ frees: 2, setAside: [{ id: 'f2' }], otherWayOut: [{ id: 'f1' }, { id: 'f3' }] });
  });
});

const anySpan = fc
  .tuple(fc.integer({ min: 2, max: 9 }), fc.integer({ min: 0, max: 4 }))
  .map(([a, b]) => [a, a + b] as const);
const anyObject = fc.record({
  features: fc.array(anySpan, { maxLength: 3 }),
  marks: fc.array(fc.record({ stated: fc.option(anySpan, { nil: undefined }), over: fc.boolean() }), { maxLength: 3 }),
});

test('the sets are all minimal ones, by trying every day', () => {
  fc.assert(
    fc.property(anyObject, ({ features, marks }) => {
      const claims: { name: string; holds: (made: number, days: readonly number[]) => boolean }[] = [
        ...features.map(([first, last], k) => ({
          name: `f${k} window`,
          holds: (made: number) => first <= made && made <= last,
        })),
        ...marks.flatMap(({ stated, over }, k) => [
          ...(stated === undefined
            ? []
            : [
                {
                  name: `m${k} made`,
                  holds: (_: number, days: readonly number[]) =>
                    stated[0] <= (days[k] ?? 0) && (days[k] ?? 0) <= stated[1],
                },
              ]),
          ...(over && k > 0
            ? [
                {
                  name: `m${k} over`,
                  holds: (_: number, days: readonly number[]) => (days[k] ?? 0) >= (days[k - 1] ?? 0),
                },
              ]
            : []),
        ]),
      ];
      const masks = new Set<number>();
      const days: number[] = [];
      const tryAll = (made: number, at: number): void => {
        if (at === marks.length) {
          masks.add(claims.reduce((mask, { holds }, k) => (holds(made, days) ? mask | (1 << k) : mask), 0));
          return;
        }
        for (let day = made; day <= 15; day++) {
          days[at] = day;
          tryAll(made, at + 1);
        }
      };
      for (let made = 0; made <= 15; made++) tryAll(made, 0);
      const expected = minimalConflicts(claims.length, [...masks]).map((set) =>
        claims
          .flatMap(({ name }, k) => (set & (1 << k) ? [name] : []))
          .sort()
          .join(', '),
      );
      const given = found(
        features.map(([first, last], k) => feature(`f${k}`, first, last)),
        marks.map(({ stated, over }, k) => ({
          id: `m${k}`,
          ...(stated === undefined ? {} : { stated: span(...stated) }),
          ...(over && k > 0 ? { over: `m${k - 1}` } : {}),
        })),
      );
      const sets = given.map(({ members }) =>
        members
          .map(({ id, part }) => `${id} ${part}`)
          .sort()
          .join(', '),
      );
      expect(sets.sort()).toEqual(expected.sort());
      for (const { setAside } of given) expect(setAside.length).toBeGreaterThan(0);
    }),
    { numRuns: 150, seed: 5 },
  );
});
