import { HeldbyError } from '../errors.ts';

/** A cell in which a number stands that no format makes a day of, as it is stored. */
export class SheetNumber {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

/** A number that was read as the day that spreadsheets count so; `line` is the row of the sheet. */
export type DayOfNumber = {
  readonly line: number;
  readonly column: string;
  readonly number: string;
  readonly day: string;
};

/** A number up to this may be a year; judgement. Counted from 1900 it is a day of September 1905. */
const LAST_YEAR = 2100;
/** 31 December 2199: what is greater counts no days. */
const LAST_SERIAL = 109_574;
const MS_A_DAY = 86_400_000;
const MOST_NAMED = 5;

/**
 * The days that bare numbers stand for in a column in which the other cells are mostly days: there a cell has lost its
 * format. Rows are changed in place.
 * @param since1904 the sheet counts from 1 January 1904 as day 0, not from 1 January 1900 as day 1 (ISO/IEC 29500-1,
 * 18.17.4.1; there is a 29 February 1900 in the latter).
 * @throws HeldbyError INPUT_FILE where such a number can be a year too
 */
export function daysOfNumbers(rows: unknown[][], headerRow: number, since1904: boolean): DayOfNumber[] {
  const headers = rows[headerRow] ?? [];
  const found: DayOfNumber[] = [];
  const doubtful: DayOfNumber[] = [];
  for (const [at, header] of headers.entries()) {
    const below = rows.slice(headerRow + 1).map((row) => row[at]);
    const days = below.filter((cell) => cell instanceof Date).length;
    const numbers = below.filter((cell) => cell instanceof SheetNumber).length;
    if (numbers === 0 || days <= numbers) continue;
    for (const [index, cell] of below.entries()) {
      if (!(cell instanceof SheetNumber) || !/^\d+$/.test(cell.text) || Number(cell.text) > LAST_SERIAL) continue;
      const day = dayOf(Number(cell.text), since1904);
      const read = { line: headerRow + index + 2, column: String(header), number: cell.text, day };
      if (Number(cell.text) <= LAST_YEAR) doubtful.push(read);
      else found.push(read);
      const row = rows[headerRow + 1 + index];
      if (row !== undefined) row[at] = day;
    }
  }
  refuseYears(doubtful);
  return found;
}

function dayOf(serial: number, since1904: boolean): string {
  const zero = since1904 ? Date.UTC(1904, 0, 1) : Date.UTC(1899, 11, 30);
  return new Date(zero + serial * MS_A_DAY).toISOString().slice(0, 10);
}

function refuseYears(doubtful: readonly DayOfNumber[]): void {
  const [first] = doubtful;
  if (first === undefined) return;
  const named = doubtful.slice(0, MOST_NAMED).map(({ line, number }) => `${number} in line ${line}`);
  const more = doubtful.length - named.length;
  throw new HeldbyError(
    'INPUT_FILE',
    `Among the days of column ${first.column} stand bare numbers that can be years or days: ${named.join(', ')}${more > 0 ? ` and ${more} more` : ''} (${first.number} would be ${first.day}).`,
    'In the sheet, give such a cell the format text where a year is meant, or that of a date where a day is.',
    `line ${first.line}, column ${first.column}`,
  );
}
