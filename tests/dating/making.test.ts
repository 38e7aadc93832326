import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DAYS_PER_YEAR } from '../../src/assumptions.ts';
import { shortestSpan } from '../../src/dating/density.ts';
import { type FeatureWindow, makingDensity, type PartState } from '../../src/dating/making.ts';
import { type Day, NO_END, NO_START, type Span } from '../../src/time/span.ts';

const span = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });
const feature = (id: string, from: number, until: number, rest: Partial<FeatureWindow> = {}): FeatureWindow => ({
  id,
  text: `trait ${id}`,
  window: span(from, until),
  force: 'usual',
  weight: 'strong',
  state: 'original',
  recorded: Number(id.slice(1)),
  ...rest,
});

/** The density by the rule, one day after another, without hard windows that contradict. */
function byTheRule(features: readonly FeatureWindow[], { from, until }: Span): number[] {
  const factorOn = (day: number, { window, force, weight, state }: FeatureWindow): number => {
    if (state === 'replaced' || state === 'added') return force === 'hard' && day >= window.until ? 0 : 1;
    if (day >= window.from && day < window.until) return 1;
    if (force === 'hard') return 0;
    const floor = { strong: 0.02, moderate: 0.1, weak: 0.35 }[weight];
    const width = window.until - window.from;
    const shoulder = Number.isFinite(width) ? Math.max(5 * DAYS_PER_YEAR, 0.15 * width) : 5 * DAYS_PER_YEAR;
    const distance = day < window.from ? window.from - day : day - (window.until - 1);
    if (distance <= shoulder) return 1 - ((1 - floor) * distance) / shoulder;
    return floor * 2 ** (-(distance - shoulder) / (10 * DAYS_PER_YEAR));
  };
  const days = Array.from({ length: until - from }, (_, i) => from + i);
  const product = days.map(() => 1);
  for (const given of features) {
    const factors = days.map((day) => factorOn(day, given));
    const mean = factors.reduce((a, b) => a + b, 0) / factors.length;
    const r = { original: 0, 'thought-original': 0.1, doubtful: 0.5, replaced: 0, added: 0 }[given.state];
    for (const [i, value] of factors.entries()) product[i] = (product[i] ?? 0) * ((1 - r) * value + r * mean);
  }
  const total = product.reduce((a, b) => a + b, 0);
  return product.map((value) => value / total);
}

describe('when it was made', () => {
  const horizon = span(0, 9000);
  const states: PartState[] = ['original', 'thought-original', 'doubtful', 'replaced', 'added'];
  const anyUsual = fc.record({
    from: fc.integer({ min: -3000, max: 9000 }),
    length: fc.constantFrom(1, 365, 4000, 20_000, Number.POSITIVE_INFINITY),
    weight: fc.constantFrom('strong', 'moderate', 'weak'),
    state: fc.constantFrom(...states),
    hard: fc.boolean(),
  });

  test('agrees with the product over every day', () =>
    fc.assert(
      fc.property(fc.array(anyUsual, { maxLength: 4 }), (given) => {
        const features = given.map(({ from, length, weight, state, hard }, i) =>
          feature(`f${i}`, from, from + length, {
            weight,
            state,
            force: hard && state !== 'original' ? 'hard' : 'usual',
          }),
        );
        // Hard windows that cut everything away are another matter; see below.
        const possible = features.every(
          ({ force, state, window }) =>
            force === 'usual' ||
            (window.until > 0 && (window.from < 9000 || state === 'replaced' || state === 'added')),
        );
        fc.pre(possible);
        const expected = byTheRule(features, horizon);
        const { weights } = makingDensity(features, horizon).density;
        let worst = 0;
        for (const [i, value] of expected.entries())
          worst = Math.max(worst, Math.abs(value - (weights[i] ?? Number.NaN)));
        expect(worst).toBeLessThan(1e-12);
      }),
      { seed: 3, numRuns: 40 },
    ));

  test.each<[rule: string, features: FeatureWindow[], expected: Span]>([
    ['1. no feature: every day alike', [], span(0, 8550)],
    ['2. a hard window of an original part', [feature('f1', 100, 200, { force: 'hard' })], span(100, 195)],
    [
      '3. a replaced part with a hard window: not later than its end',
      [feature('f1', 500, 1000, { force: 'hard', state: 'replaced' })],
      span(0, 950),
    ],
    [
      '4. an added part with a hard window open at the end says nothing',
      [feature('f1', 500, NO_END, { force: 'hard', state: 'added' })],
      span(0, 8550),
    ],
    [
      '5. a replaced part with a usual window says nothing',
      [feature('f1', 500, 1000, { state: 'replaced' })],
      span(0, 8550),
    ],
    [
      '6. contradicting hard windows: the later recorded gives way',
      [feature('f2', 2000, 2100, { force: 'hard' }), feature('f1', 100, 200, { force: 'hard' })],
      span(100, 195),
    ],
    [
      '7. a hard window outside the horizon gives way',
      [feature('f1', 20_000, 20_100, { force: 'hard' })],
      span(0, 8550),
    ],
    [
      '8. the same of a doubtful part',
      [feature('f1', 20_000, 20_100, { force: 'hard', state: 'doubtful' })],
      span(0, 8550),
    ],
  ])('%s', (_rule, features, expected) =>
    expect(shortestSpan(makingDensity(features, horizon).density, 0.95)).toEqual(expected),
  );

  test('conflicts are told, and what is not used is not named as used', () => {
    const made = makingDensity(
      [
        feature('f1', 0, 10, { force: 'hard' }),
        feature('f2', 20, 30, { force: 'hard' }),
        feature('f3', 5, 9, { state: 'added' }),
      ],
      horizon,
    );
    expect(made.conflicts).toEqual([{ members: ['f1', 'f2'], setAside: ['f2'] }]);
    expect(made.used).toEqual(['f1']);
  });

  test('sixty usual windows far apart leave a density all the same', () => {
    const features = Array.from({ length: 60 }, (_, i) => feature(`f${i}`, i * 150, i * 150 + 10));
    const { density } = makingDensity(features, horizon);
    expect(density.weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
    expect(density.weights[4500]).toBeGreaterThan(density.weights[10] ?? Number.NaN);
  });

  test('the order of the features does not matter', () => {
    const features = [
      feature('f1', NO_START, 4000, { weight: 'moderate' }),
      feature('f2', 3000, 5000, { state: 'doubtful' }),
      feature('f3', 2000, NO_END, { force: 'hard' }),
    ];
    const forwards = makingDensity(features, horizon).density.weights;
    const backwards = makingDensity([...features].reverse(), horizon).density.weights;
    for (let i = 0; i < forwards.length; i += 1) expect(backwards[i]).toBeCloseTo(forwards[i] ?? Number.NaN, 14);
  });
});
