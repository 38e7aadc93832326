import { gregorianDay } from '../time/calendar.ts';
import type { Axis } from './bars.ts';

/** Nothing to an eighth of a column high, in steps of an eighth. */
const HEIGHTS = ' ▁▂▃▄▅▆▇█';
/** Less than this part of the highest column is shown as nothing. */
const LEAST = 0.01;

/**
 * A density as one line of columns, the highest of them full. Each column has what the years in it weigh by the days
 * that they share with it.
 */
export function strip(axis: Axis, { firstYear, shares }: { firstYear: number; shares: readonly number[] }): string {
  const width = (axis.until - axis.from) / axis.columns;
  const columns = new Float64Array(axis.columns);
  for (const [place, share] of shares.entries()) {
    if (share === 0) continue;
    const from = gregorianDay(firstYear + place, 1, 1);
    const until = gregorianDay(firstYear + place + 1, 1, 1);
    const first = Math.max(0, Math.floor((from - axis.from) / width));
    for (let at = first; at < axis.columns; at += 1) {
      const start = Math.max(from, axis.from + at * width);
      const end = Math.min(until, axis.from + (at + 1) * width);
      if (start >= until) break;
      if (end > start) columns[at] = (columns[at] as number) + (share * (end - start)) / (until - from);
    }
  }
  const highest = columns.reduce((a, b) => Math.max(a, b), 0);
  return [...columns]
    .map((value) => {
      const part = highest === 0 ? 0 : value / highest;
      return HEIGHTS[part < LEAST ? 0 : Math.max(1, Math.round(part * (HEIGHTS.length - 1)))];
    })
    .join('');
}

/** A line under a strip: `━` where half of the density lies, `─` where 95 % lies. */
export function spansLine(axis: Axis, span: Ends, half: Ends): string {
  const cells: string[] = new Array<string>(axis.columns).fill(' ');
  const width = (axis.until - axis.from) / axis.columns;
  const draw = ({ from, until }: Ends, sign: string): void => {
    const first = Math.max(0, Math.floor((from - axis.from) / width));
    const last = Math.min(axis.columns - 1, Math.ceil((until - axis.from) / width) - 1);
    for (let at = first; at <= last; at += 1) cells[at] = sign;
  };
  draw(span, '─');
  draw(half, '━');
  return cells.join('');
}

type Ends = { readonly from: number; readonly until: number };
