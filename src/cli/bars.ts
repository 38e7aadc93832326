import { toGregorian } from '../time/calendar.ts';
import type { Day } from '../time/span.ts';

/** The years that a picture covers, and how many columns it has for them. */
export type Axis = { readonly from: Day; readonly until: Day; readonly columns: number };

const CERTAIN = '█';
const POSSIBLE = '░';
const OPEN_LEFT = '◁';
const OPEN_RIGHT = '▷';

/** A bar: hollow where the days are possible, solid where they are certain, an arrow where a side is open. */
export function bar(
  axis: Axis,
  possible: { readonly from: Day; readonly until: Day },
  certain: { readonly from: Day; readonly until: Day } | undefined,
): string {
  const cells: string[] = new Array<string>(axis.columns).fill(' ');
  const width = (axis.until - axis.from) / axis.columns;
  const paint = (from: number, until: number, sign: string) => {
    const first = Math.max(0, Math.floor((from - axis.from) / width));
    const last = Math.min(axis.columns - 1, Math.ceil((until - axis.from) / width) - 1);
    for (let at = first; at <= last; at += 1) cells[at] = sign;
  };
  paint(possible.from, possible.until, POSSIBLE);
  if (certain) paint(certain.from, certain.until, CERTAIN);
  if (possible.from < axis.from) cells[0] = OPEN_LEFT;
  if (possible.until > axis.until) cells[axis.columns - 1] = OPEN_RIGHT;
  return cells.join('');
}

/** An axis that holds every finite day given, with some room where a side is open. */
export function axisFor(days: readonly number[], columns: number): Axis | undefined {
  const finite = days.filter(Number.isFinite);
  if (finite.length === 0) return undefined;
  const from = finite.reduce((a, b) => Math.min(a, b));
  const until = finite.reduce((a, b) => Math.max(a, b));
  const margin = Math.max(365, Math.round((until - from) * 0.06));
  return { from: (from - margin) as Day, until: (until + margin) as Day, columns };
}

/** Years under the bars, as many as fit. */
export function yearLine(axis: Axis): string {
  const firstYear = toGregorian(axis.from).year + 1;
  const lastYear = toGregorian((axis.until - 1) as Day).year;
  const days = axis.until - axis.from;
  const step =
    [1, 2, 5, 10, 20, 25, 50, 100].find((each) => ((lastYear - firstYear + 1) / each) * 7 <= axis.columns) ?? 200;
  const cells: string[] = new Array<string>(axis.columns).fill(' ');
  for (let year = Math.ceil(firstYear / step) * step; year <= lastYear; year += step) {
    const day = 365.2425 * year + 1721059.5;
    const at = Math.round(((day - axis.from) / days) * axis.columns);
    const label = String(year);
    if (at < 0 || at + label.length > axis.columns) continue;
    for (const [place, sign] of [...label].entries()) cells[at + place] = sign;
  }
  return cells.join('').trimEnd();
}
