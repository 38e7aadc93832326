import { expect, test } from 'vitest';
import { type FeatureWindow, makingDensity } from '../../src/dating/making.ts';
import { type RecordedForce, splitForce } from '../../src/dating/recorded-force.ts';
import { type Day, NO_END, NO_START, type Span } from '../../src/time/span.ts';

const span = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });
const window = span(100, 200);

test.each<[force: RecordedForce, expected: { window: Span; force: string }[]]>([
  ['hard', [{ window, force: 'hard' }]],
  ['usual', [{ window, force: 'usual' }]],
  [
    'hard-start',
    [
      { window: { from: 100 as Day, until: NO_END }, force: 'hard' },
      { window, force: 'usual' },
    ],
  ],
  [
    'hard-end',
    [
      { window: { from: NO_START, until: 200 as Day }, force: 'hard' },
      { window, force: 'usual' },
    ],
  ],
])('%s', (force, expected) => expect(splitForce({ window, force })).toEqual(expected));

test('a window firm at its start leaves no day before, and fewer after it than in it', () => {
  const feature = {
    id: 'f1',
    text: 't',
    window: span(20_000, 40_000),
    weight: 'moderate',
    state: 'original',
    recorded: 1,
  } as const;
  const { density, used } = makingDensity(
    splitForce<Omit<FeatureWindow, 'force'> & { force: RecordedForce }>({ ...feature, force: 'hard-start' }),
    span(0, 80_000),
  );
  const at = (day: number): number => density.weights[day] ?? Number.NaN;
  expect(at(19_999)).toBe(0);
  expect(at(30_000)).toBeGreaterThan(0);
  expect(at(79_999)).toBeGreaterThan(0);
  expect(at(79_999)).toBeLessThan(at(30_000) / 5);
  expect(new Set(used)).toEqual(new Set(['f1']));
});
