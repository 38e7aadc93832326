import type { DateColumns } from './coded.ts';

/** The levels of the fields of the date of rank, counted from their first. */
const SAME = 0;
const ONE_PART_DIFFERS = 1;
const LATER_SINCE = 2;
const LATER_BEFORE = 3;
const EARLIER = 4;

/**
 * How one date of rank stands to another, as a level of its fields.
 * @param since the day from which the earlier list could not know: a promotion dated before it should have stood there.
 */
export function datedLevel({ spans, parts }: DateColumns, before: number, after: number, since: number): number {
  if (before === after) return SAME;
  const [a, b] = [spans[before], spans[after]];
  if (a === undefined || b === undefined) return EARLIER;
  if (a.from < b.until && b.from < a.until) return SAME; // a month and a day in it are no contradiction
  if (differInOnePart(parts[before] as number, parts[after] as number)) return ONE_PART_DIFFERS;
  if (b.from < a.from) return EARLIER;
  return b.until > since ? LATER_SINCE : LATER_BEFORE;
}

function differInOnePart(a: number, b: number): boolean {
  if (a < 0 || b < 0) return false;
  const years = a >> 9 !== b >> 9;
  const months = ((a >> 5) & 15) !== ((b >> 5) & 15);
  const days = (a & 31) !== (b & 31);
  return Number(years) + Number(months) + Number(days) === 1;
}
