import { describe, expect, test } from 'vitest';
import { compareWithWindow, overlap } from '../../src/attribution/overlap.ts';
import { type Day, NO_END, NO_START, type Span } from '../../src/time/span.ts';
import { candidate, post, slope, span } from './made-up.ts';

describe('days shared with the window', () => {
  const window = span(100, 200);
  test.each<[rule: string, spans: Span[], expected: { span: Span; days: number } | undefined]>([
    ['1. none', [span(0, 100), span(200, 300)], undefined],
    ['2. an open tenure', [span(150, NO_END)], { span: span(150, 200), days: 50 }],
    ['3. two that meet', [span(90, 150), span(150, 160)], { span: span(100, 160), days: 60 }],
    ['4. a gap does not count', [span(180, 190), span(NO_START, 110)], { span: span(100, 190), days: 20 }],
    [
      '5. days held twice count once',
      [span(100, 160), span(120, 170), span(130, 140)],
      { span: span(100, 170), days: 70 },
    ],
  ])('%s', (_rule, spans, expected) => expect(overlap(spans, window)).toEqual(expected));
});

describe('a candidate beside the window', () => {
  const bounds = (earliest: number, latest: number) => ({ earliest: earliest as Day, latest: latest as Day });
  const tenure = {
    start: bounds(50, 120),
    end: bounds(150, 300),
    possible: span(50, 300),
    certain: span(120, 150),
  };

  test('certain and possible days, and relations, are those of the tenures; a courtesy is none', () => {
    const both = candidate('p1', [
      post(slope(50, 120, 150, 300), { tenure }),
      post(slope(150, 300, 900, 900), { standing: 'courtesy' }),
    ]);
    const compared = compareWithWindow(both, span(140, 160));
    expect(compared.possible).toEqual({ span: span(140, 160), days: 20 });
    expect(compared.certain).toEqual({ span: span(140, 150), days: 10 });
    expect(compared.relations).toEqual(['overlaps', 'finished by', 'contains']);
  });

  test('no certain days, no overlap at all', () => {
    const uncertain = candidate('p1', [post(slope(50, 120, 150, 300), { tenure: { ...tenure, certain: undefined } })]);
    expect(compareWithWindow(uncertain, span(140, 160)).certain).toBeUndefined();
    expect(compareWithWindow(uncertain, span(400, 500)).possible).toBeUndefined();
  });
});
