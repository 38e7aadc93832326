import { gregorianDay } from '../time/calendar.ts';
import table from './data/design-registration.json' with { type: 'json' };

/** The day of a registration, or the days between which it can lie, as an EDTF expression, and what there is to know. */
export type RegistrationDay = { readonly expression: string; readonly note: string };

type Series = 'first' | 'second';

/**
 * The day that the lozenge of British design registration tells, by its corners: ◇ Rd, the class as a Roman numeral if it
 * can be read, then the corners in the order top, left, right, bottom, as `◇ Rd IV X A 2 5`.
 * 1. 1842 to 1867: year letter at the top, month letter left, day right, parcel at the bottom.
 * 2. 1868 to 1883: day at the top, parcel left, year letter right, month letter at the bottom.
 * A letter in the right-hand corner tells the second series from the first. Undefined where the corners tell no day.
 */
export function registrationDay(words: string): RegistrationDay | undefined {
  const corners = /Rd\.?\s+(?:[IVX]+(?:\s+i{1,2})?\.?\s+)?(\S+)\s+(\S+)\s+(\S+)\s+(\S+)$/.exec(
    words.replaceAll('/', ' '),
  );
  if (corners === null) return undefined;
  const [, top = '', left = '', right = '', bottom = ''] = corners;
  return /^\d+$/.test(right)
    ? dayOf('first', top, left, Number(right), bottom)
    : dayOf('second', right, bottom, Number(top), left);
}

function dayOf(series: Series, yearLetter: string, monthLetter: string, day: number, parcel: string) {
  const years: Readonly<Record<string, number>> = table[series].years;
  const months: Readonly<Record<string, number>> = table.months;
  if (!/^\d+$/.test(parcel)) return undefined;
  const odd = table.outOfTurn.find(
    (one) =>
      one.series === series &&
      one.yearLetter === yearLetter &&
      one.monthLetter === monthLetter &&
      one.fromDay <= day &&
      day <= one.untilDay,
  );
  const year = odd?.year ?? years[yearLetter];
  const month = odd?.month ?? months[monthLetter];
  if (year === undefined || month === undefined || !exists(year, month, day)) return undefined;
  const other = table.alsoMonths.find(
    (one) =>
      one.series === series &&
      one.year === year &&
      one.letter === monthLetter &&
      one.fromDay <= day &&
      day <= one.untilDay,
  );
  const notes = [odd?.note, other?.note, monthLetter === 'O' ? table.monthO : undefined];
  return {
    // Of two days the earlier: nothing bears the mark before it.
    expression: [year, two(month), two(day)].join('-'),
    note: notes.filter((note) => note !== undefined).join(' '),
  };
}

const two = (number: number): string => String(number).padStart(2, '0');

const exists = (year: number, month: number, day: number): boolean =>
  day >= 1 && day <= gregorianDay(month === 12 ? year + 1 : year, (month % 12) + 1, 1) - gregorianDay(year, month, 1);
