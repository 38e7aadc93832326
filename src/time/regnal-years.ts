import { dayOf } from './calendar.ts';
import { label } from './places.ts';
import data from './reigns.json' with { type: 'json' };
import { type Day, NO_END, type Span } from './span.ts';

/** A sovereign, and how the years of the reign are counted. */
export type Reign = {
  readonly sovereign: string;
  /** Names and abbreviations, folded, without the number. */
  readonly names: readonly string[];
  /** Two names joined by `&`, of a joint reign. */
  readonly pairs: readonly (readonly string[])[];
  /** III of George III; nothing where no number is written. */
  readonly number: number | undefined;
  /** From the accession to the last day; open for a reign that goes on. */
  readonly span: Span;
  readonly firstYear: number;
  readonly lastYear: number;
  /** The days of regnal year n, firstYear <= n <= lastYear. */
  year(count: number): Span;
};

let reigns: readonly Reign[] | undefined;

export const allReigns = (): readonly Reign[] => {
  reigns ??= data.reigns.map(reignOf);
  return reigns;
};

/** A day of the calendar in force in England: Old Style up to 2 September 1752. */
export const englishDay = (year: number, month: number, day: number): Day =>
  dayOf(year, month, day, label(year, month, day) <= 1752_09_02 ? 'julian' : 'gregorian');

const fieldsOf = (iso: string): [number, number, number] => {
  const [year = 0, month = 1, day = 1] = iso.split('-').map(Number);
  return [year, month, day];
};

function reignOf(entry: (typeof data.reigns)[number]): Reign {
  const from = englishDay(...fieldsOf(entry.accession));
  const until = entry.last === null ? NO_END : ((englishDay(...fieldsOf(entry.last)) + 1) as Day);
  const first = entry.firstYearBegins === undefined ? from : englishDay(...fieldsOf(entry.firstYearBegins));
  const anniversary = (count: number): Day => {
    const year = entry.countedFrom + count - 1;
    const changed = entry.yearStartsNewStyle !== undefined && year > 1752 ? entry.yearStartsNewStyle : entry.yearStarts;
    return englishDay(...fieldsOf(`${year}-${changed}`));
  };
  let lastYear = entry.firstYear;
  while (anniversary(lastYear + 1) < until && until !== NO_END) lastYear++;
  return {
    sovereign: entry.sovereign,
    names: entry.names,
    pairs: entry.pairs ?? [],
    number: entry.number ?? undefined,
    span: { from, until },
    firstYear: entry.firstYear,
    lastYear: until === NO_END ? Infinity : lastYear,
    year: (count) => ({
      from: Math.max(anniversary(count), first) as Day,
      until: Math.min(anniversary(count + 1), until) as Day,
    }),
  };
}
