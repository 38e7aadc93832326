import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type HardWindow, settleHardWindows } from '../../src/dating/hard-windows.ts';
import { type Day, intersection, type Span } from '../../src/time/span.ts';

const span = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });
const hard = (id: string, from: number, until: number, rest: Partial<HardWindow> = {}): HardWindow => ({
  id,
  window: span(from, until),
  confidence: 'medium',
  recorded: Number(id.slice(1)),
  ...rest,
});
const horizon = span(0, 1000);

describe('hard windows that cannot all hold', () => {
  test.each<[rule: string, windows: HardWindow[], kept: string[], setAside: string[][]]>([
    ['1. windows that share a day', [hard('f1', 0, 50), hard('f2', 49, 90)], ['f1', 'f2'], []],
    ['2. of equal confidence the later recorded gives way', [hard('f2', 0, 50), hard('f1', 50, 90)], ['f1'], [['f2']]],
    [
      '3. the one of least confidence gives way, though recorded first',
      [hard('f1', 0, 50, { confidence: 'low' }), hard('f2', 50, 90)],
      ['f2'],
      [['f1']],
    ],
    [
      '4. one that contradicts two is set aside for both',
      [hard('f1', 0, 60), hard('f2', 50, 90), hard('f3', 200, 300)],
      ['f1', 'f2'],
      [['f3'], ['f3']],
    ],
    ['5. outside the horizon', [hard('f1', 2000, 2100), hard('f2', 5, 9)], ['f2'], [['f1']]],
  ])('%s', (_rule, windows, kept, setAside) => {
    const settled = settleHardWindows(windows, horizon);
    expect([...settled.kept].sort()).toEqual(kept);
    expect(settled.conflicts.map((conflict) => conflict.setAside)).toEqual(setAside);
  });

  const anyWindow = fc
    .tuple(fc.integer({ min: -20, max: 60 }), fc.integer({ min: 1, max: 30 }), fc.constantFrom('high', 'medium', 'low'))
    .map(([from, length, confidence]) => ({ from, length, confidence }) as const);

  test('what is kept has a common day, every conflict is one, and the order of recording files does not matter', () =>
    fc.assert(
      fc.property(fc.array(anyWindow, { maxLength: 7 }), (given) => {
        const windows = given.map(({ from, length, confidence }, i) =>
          hard(`f${i}`, from, from + length, { confidence }),
        );
        const small = span(0, 40);
        const settled = settleHardWindows(windows, small);
        const common = windows
          .filter(({ id }) => settled.kept.has(id))
          .reduce<Span | undefined>((shared, { window }) => shared && intersection(shared, window), small);
        expect(common).toBeDefined();
        for (const { members, setAside } of settled.conflicts) {
          const all = windows.filter(({ id }) => members.includes(id));
          expect(
            all.reduce<Span | undefined>((shared, { window }) => shared && intersection(shared, window), small),
          ).toBeUndefined();
          expect(setAside.length).toBeGreaterThan(0);
        }
        expect(settleHardWindows([...windows].reverse(), small)).toEqual(settled);
      }),
      { seed: 11, numRuns: 200 },
    ));
});
