import { beforeAll, describe, expect, test } from 'vitest';
import { inBands, judge, losses, type Verdict } from './calibration/measure.ts';
import { AS_ASSUMED, chance, drawCase, type World } from './calibration/story.ts';

const MARKS = 2000;
/** Fewer where only the losses are compared; HELDBY_FIGURES=1 draws as many and prints what DEVELOPERS.md tells. */
const MARKS_OTHERWISE = process.env['HELDBY_FIGURES'] ? MARKS : 300;
const PATIENCE_MS = 600_000;

const verdictsIn = (world: World, seed: number, marks: number): Verdict[] => {
  const next = chance(seed);
  return Array.from({ length: marks }, () => judge(drawCase(next, world)));
};

const told = (name: string, verdicts: readonly Verdict[]): string => {
  const bands = inBands(verdicts).map(
    ({ from, marks, said, right }) =>
      `  from ${from}: ${marks} marks, said ${said.toFixed(3)}, right ${right.toFixed(3)}`,
  );
  const [ours, plain] = [losses(verdicts, 'shares'), losses(verdicts, 'plain')];
  return [
    name,
    ...bands,
    `  log loss ${ours.log.toFixed(3)} (plain rule ${plain.log.toFixed(3)}), Brier ${ours.brier.toFixed(3)} (${plain.brier.toFixed(3)})`,
  ].join('\n');
};

const print = (name: string, verdicts: readonly Verdict[]): void => {
  if (process.env['HELDBY_FIGURES']) process.stdout.write(`${told(name, verdicts)}\n`);
};

describe('marks of which the truth is known, drawn from the story that the arithmetic tells', () => {
  let verdicts: Verdict[] = [];
  beforeAll(() => {
    verdicts = verdictsIn(AS_ASSUMED, 20_260, MARKS);
    print('as assumed', verdicts);
  }, PATIENCE_MS);
  test('in each band the best named holder is right as often as said', () => {
    for (const { marks, said, right } of inBands(verdicts)) {
      const error = Math.sqrt((said * (1 - said)) / marks);
      expect(marks, told('as assumed', verdicts)).toBeGreaterThan(50);
      expect(Math.abs(right - said), told('as assumed', verdicts)).toBeLessThanOrEqual(Math.max(0.05, 2 * error));
    }
  });
  test('somebody unrecorded owns as many marks as said', () => {
    const said = verdicts.reduce((sum, { shares }) => sum + (shares.get(undefined) ?? 0), 0) / MARKS;
    const owned = verdicts.filter(({ owner }) => owner === undefined).length / MARKS;
    expect(Math.abs(said - owned)).toBeLessThan(2.5 * Math.sqrt((said * (1 - said)) / MARKS));
  });
  test('it loses less than a plain rule', () => {
    const [ours, plain] = [losses(verdicts, 'shares'), losses(verdicts, 'plain')];
    expect(ours.log).toBeLessThan(plain.log);
    expect(ours.brier).toBeLessThan(plain.brier);
  });
});

describe('where the world goes otherwise than assumed', () => {
  test.each<[name: string, change: Partial<World>]>([
    ['times in post are half as long', { tenure: 0.5 }],
    ['times in post are twice as long', { tenure: 2 }],
    ['five times as many are not in the ledger', { unrecorded: 5 }],
    ['owners put their names on late', { soonShare: 0.1 }],
    ['one listing in twenty stands in the wrong year', { misprints: 0.05 }],
  ])(
    '%s: it still loses less than a plain rule',
    (name, change) => {
      const verdicts = verdictsIn({ ...AS_ASSUMED, ...change }, 7, MARKS_OTHERWISE);
      const [ours, plain] = [losses(verdicts, 'shares'), losses(verdicts, 'plain')];
      expect(ours.log, told(name, verdicts)).toBeLessThan(plain.log);
      expect(ours.brier, told(name, verdicts)).toBeLessThan(plain.brier);
      print(name, verdicts);
    },
    PATIENCE_MS,
  );
});
