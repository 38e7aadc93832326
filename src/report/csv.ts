import { visible } from './safe-text.ts';

/** A spreadsheet takes a cell that begins so for a formula, in full-width letters too; or drops what begins it. */
const FORMULA = /^[=+\-@\t\r＝＋－＠]/;

export type CsvCell = string | number | boolean | null | undefined;

/**
 * Lines of CSV after RFC 4180: commas, CRLF, quotation marks only where they are needed. `safe`: a cell that a
 * spreadsheet would take for a formula begins with an apostrophe, and signs that cannot be seen are shown as numbers.
 * Otherwise cells are as recorded, for a program to read.
 */
export const csvLine = (cells: readonly CsvCell[], safe = true): string =>
  `${cells.map((cell) => csvCell(cell, safe)).join(',')}\r\n`;

function csvCell(cell: CsvCell, safe: boolean): string {
  if (cell === null || cell === undefined) return '';
  if (typeof cell !== 'string') return String(cell);
  const text = safe
    ? cell
        .split(/\r\n|\n/)
        .map(visible)
        .join('\n')
    : cell;
  const guarded = safe && FORMULA.test(text.trimStart()) ? `'${text}` : text;
  return /[",\r\n]|^\s|\s$/.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}
