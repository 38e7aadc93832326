import { describe, expect, test } from 'vitest';
import { DAYS_PER_YEAR } from '../../src/assumptions.ts';
import { type Force, multiplyByWindow, type Weight } from '../../src/dating/window-factor.ts';
import { type Day, NO_END, NO_START, type Span } from '../../src/time/span.ts';

const span = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });

/** The rule for one day, written out. */
function factorOn(day: number, { from, until }: Span, force: Force, weight: Weight): number {
  if (day >= from && day < until) return 1;
  if (force === 'hard') return 0;
  const floor = { strong: 0.02, moderate: 0.1, weak: 0.35 }[weight];
  const width = until - from;
  const shoulder = Number.isFinite(width) ? Math.max(5 * DAYS_PER_YEAR, 0.15 * width) : 5 * DAYS_PER_YEAR;
  const distance = day < from ? from - day : day - (until - 1);
  if (distance <= shoulder) return 1 - ((1 - floor) * distance) / shoulder;
  return floor * 2 ** (-(distance - shoulder) / (10 * DAYS_PER_YEAR));
}

describe('a window, day by day', () => {
  test.each<[rule: string, window: Span, force: Force, weight: Weight]>([
    ['1. hard', span(9000, 12_000), 'hard', 'strong'],
    ['2. usual and narrow: a shoulder of five years', span(9000, 9400), 'usual', 'strong'],
    ['3. usual and wide: a shoulder of 15 % of the width', span(5000, 22_000), 'usual', 'moderate'],
    ['4. usual, open at the start', span(NO_START, 9000), 'usual', 'weak'],
    ['5. usual, open at the end', span(15_000, NO_END), 'usual', 'moderate'],
    ['6. usual, wholly before the horizon', span(-40_000, -30_000), 'usual', 'weak'],
    ['7. usual, ending just before the horizon', span(-5000, -100), 'usual', 'strong'],
    ['8. usual, wholly after the horizon', span(40_000, 40_100), 'usual', 'moderate'],
    ['9. hard, wholly outside', span(40_000, 40_100), 'hard', 'strong'],
    ['10. open on both sides', span(NO_START, NO_END), 'usual', 'strong'],
  ])('%s', (_rule, window, force, weight) => {
    const firstDay = 1000;
    const out = new Float64Array(24_000).fill(1);
    multiplyByWindow(out, firstDay, window, force, weight);
    let worst = 0;
    for (let i = 0; i < out.length; i += 1) {
      worst = Math.max(worst, Math.abs((out[i] ?? Number.NaN) - factorOn(firstDay + i, window, force, weight)));
    }
    expect(worst).toBeLessThan(1e-9);
  });

  test('a strong usual window falls to 0.02 in five years, and to 0.01 in fifteen', () => {
    const out = new Float64Array(8000).fill(1);
    multiplyByWindow(out, 0, span(-50, 1), 'usual', 'strong');
    expect(out[Math.round(5 * DAYS_PER_YEAR)]).toBeCloseTo(0.02, 3);
    expect(out[Math.round(15 * DAYS_PER_YEAR)]).toBeCloseTo(0.01, 4);
  });
});
