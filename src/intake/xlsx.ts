import { createRequire } from 'node:module';
import type readExcelFile from 'read-excel-file/node';
import { HeldbyError } from '../errors.ts';
import { countsFrom1904, type MergedDown, mergedDown } from './merged-cells.ts';
import { type DayOfNumber, daysOfNumbers, SheetNumber } from './sheet-days.ts';

/** A sheet as a list of comma-separated values; line N of it is row N of the sheet. */
export type SheetAsList = {
  readonly bytes: Buffer;
  readonly sheet: string;
  readonly others: readonly string[];
  /** What stands above the headers, as a title, and is left out. */
  readonly titles: readonly string[];
  /** Bare numbers that were read as days. */
  readonly days: readonly DayOfNumber[];
};

/** The sign that a ZIP archive begins with, as such a spreadsheet is one; and that of the older binary format. */
const ZIP = 'PK';
const OLDER = 'd0cf11e0a1b11ae1';

/**
 * Reads a spreadsheet (Office Open XML, ISO/IEC 29500): each cell as text, numbers as they are stored, dates as
 * `1834-05-16`.
 * @param sheet its name; the first one without.
 * @throws HeldbyError INPUT_FILE
 */
export async function sheetAsList(bytes: Buffer, sheet: string | undefined): Promise<SheetAsList> {
  if (bytes.subarray(0, 8).toString('hex') === OLDER)
    throw new HeldbyError(
      'INPUT_FILE',
      'The file is a spreadsheet of the older kind (XLS).',
      'Save it as XLSX, or as CSV, and import that.',
    );
  if (bytes.subarray(0, 2).toString('latin1') !== ZIP)
    throw new HeldbyError(
      'INPUT_FILE',
      'The file is no XLSX spreadsheet.',
      'Say what it is: --format csv or --format jsonl.',
    );
  // Read only here: no other command needs it, and loading it takes longer than many an answer.
  const loaded: unknown = createRequire(import.meta.url)('read-excel-file/node');
  const read = (
    typeof loaded === 'function' ? loaded : (loaded as { default: unknown }).default
  ) as typeof readExcelFile;
  let sheets: { readonly sheet: string; readonly data: readonly (readonly unknown[])[] }[];
  try {
    sheets = (await read(bytes, {
      parseNumber: (text: string) => new SheetNumber(text),
      trim: false,
    } as never)) as never;
  } catch (error) {
    throw new HeldbyError(
      'INPUT_FILE',
      `The spreadsheet cannot be read (${error instanceof Error ? error.message : 'no reason given'}).`,
      'Open it and save it again, or save it as CSV and import that.',
    );
  }
  const names = sheets.map((each) => each.sheet);
  const found = sheet === undefined ? sheets[0] : sheets.find((each) => each.sheet === sheet);
  if (found === undefined)
    throw new HeldbyError(
      'INPUT_FILE',
      sheet === undefined ? 'The spreadsheet has no sheet.' : `The spreadsheet has no sheet "${sheet}".`,
      `Its sheets: ${names.join(', ') || 'none'}.`,
    );
  const cells = found.data.map((row) => [...row]);
  const days = daysOfNumbers(cells, rowsAboveHeaders(cells.map((row) => row.map(cellText))), countsFrom1904(bytes));
  const rows = filledDown(
    cells.map((row) => row.map(cellText)),
    mergedDown(bytes, found.sheet),
  );
  const above = rowsAboveHeaders(rows);
  return {
    // Rows keep their numbers: those above the headers are empty lines.
    bytes: Buffer.from(asList(rows.map((row, at) => (at < above ? [] : row))), 'utf8'),
    titles: rows.slice(0, above).flatMap((row) => row.find((cell) => cell !== '') ?? []),
    days,
    sheet: found.sheet,
    others: names.filter((name) => name !== found.sheet),
  };
}

/** What a cell that goes over several rows says, in each of them. */
function filledDown(rows: string[][], merged: readonly MergedDown[]): string[][] {
  for (const { column, firstRow, lastRow } of merged) {
    const said = rows[firstRow]?.[column] ?? '';
    for (const row of rows.slice(firstRow + 1, lastRow + 1)) if (column < row.length) row[column] = said;
  }
  return rows;
}

const filled = (row: readonly string[]): number => row.filter((cell) => cell !== '').length;

/** How many rows stand above the headers: a single cell is a title where a row with several follows it soon. */
function rowsAboveHeaders(rows: readonly (readonly string[])[]): number {
  const headers = rows.slice(0, LONGEST_TITLE_ROWS).findIndex((row) => filled(row) > 1);
  return Math.max(0, headers);
}

const LONGEST_TITLE_ROWS = 10;

/** Columns beyond the last header are notes beside the list and are left out. */
function asList(texts: readonly (readonly string[])[]): string {
  const header = texts.find((row) => row.some((cell) => cell !== ''));
  const width = (header?.findLastIndex((cell) => cell !== '') ?? -1) + 1;
  return texts
    .map((row) =>
      row.slice(0, width).every((cell) => cell === '')
        ? ''
        : Array.from({ length: width }, (_, at) => quoted(row[at] ?? '')).join(','),
    )
    .join('\n');
}

function cellText(cell: unknown): string {
  if (cell === null || cell === undefined) return '';
  if (cell instanceof Date) return cell.toISOString().slice(0, 10);
  if (typeof cell === 'boolean') return cell ? 'TRUE' : 'FALSE';
  const text = (cell instanceof SheetNumber ? cell.text : String(cell)).replaceAll(/\s+/g, ' ').trim();
  // What a sheet keeps as 2.13E2 stands on it as 213.
  return /^-?\d+(?:\.\d+)?E[+-]?\d+$/.test(text) ? String(Number(text)) : text;
}

const quoted = (text: string): string => (/[",]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
