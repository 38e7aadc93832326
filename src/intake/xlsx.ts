import { createRequire } from 'node:module';
import type readExcelFile from 'read-excel-file/node';
import { HeldbyError } from '../errors.ts';

/** A sheet as a list of comma-separated values; line N of it is row N of the sheet. */
export type SheetAsList = { readonly bytes: Buffer; readonly sheet: string; readonly others: readonly string[] };

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
    sheets = (await read(bytes, { parseNumber: (text: string) => text, trim: false } as never)) as never;
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
  return {
    bytes: Buffer.from(asList(found.data), 'utf8'),
    sheet: found.sheet,
    others: names.filter((name) => name !== found.sheet),
  };
}

/** Columns beyond the last header are notes beside the list and are left out. */
function asList(rows: readonly (readonly unknown[])[]): string {
  const texts = rows.map((row) => row.map(cellText));
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
  const text = String(cell).replaceAll(/\s+/g, ' ').trim();
  // What a sheet keeps as 2.13E2 stands on it as 213.
  return /^-?\d+(?:\.\d+)?E[+-]?\d+$/.test(text) ? String(Number(text)) : text;
}

const quoted = (text: string): string => (/[",]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
