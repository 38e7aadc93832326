import { closeSync, openSync, readSync } from 'node:fs';
import { delimiterIn } from './csv-bytes.ts';

/** So many lines of titles and empty ones may stand above the headers. */
const MOST_LINES = 10;

/**
 * What stands above the headers of a list, as a title does above a sheet: lines with one cell, before the first with
 * several.
 * @param head the beginning of the file
 * @returns the lines up to the headers, empty ones too; none where the list begins with its headers.
 */
export function titleLines(head: string): readonly string[] {
  const lines = head
    .replace(/^\ufeff/, '')
    .split(/\r\n|\n|\r/)
    .slice(0, MOST_LINES + 1);
  const outside = (text: string): string => text.replaceAll(/"[^"]+"/g, 'x');
  const delimiter = delimiterIn(lines.join('\n'));
  const filled = (line: string): number =>
    outside(line)
      .split(delimiter)
      .filter((cell) => cell.trim() !== '').length;
  const above = lines.slice(
    0,
    lines.findIndex((line) => filled(line) > 1),
  );
  return lines.some((line) => filled(line) > 1) && above.some((line) => filled(line) === 1) ? above : [];
}

/** The list with its titles emptied, so that its lines keep their numbers; and what they said. */
export function withoutTitles(text: string): { readonly text: string; readonly titles: readonly string[] } {
  const above = titleLines(text);
  if (above.length === 0) return { text, titles: [] };
  const rest = text.split(/\r\n|\n|\r/).slice(above.length);
  const said = above.map((line) => line.replaceAll(/^[\s",;|]+|[\s",;|]+$/g, ''));
  return { text: [...above.map(() => ''), ...rest].join('\n'), titles: said.filter((line) => line !== '') };
}

/** Whether a file has titles above its headers. */
export const hasTitleLines = (path: string): boolean => titleLines(beginningOf(path)).length > 0;

const BEGINNING_BYTES = 4096;

/** Enough of a file to see its headers; empty where it cannot be read, which is told where it is read whole. */
function beginningOf(path: string): string {
  try {
    const buffer = Buffer.alloc(BEGINNING_BYTES);
    const descriptor = openSync(path, 'r');
    try {
      return buffer.toString('utf8', 0, readSync(descriptor, buffer, 0, BEGINNING_BYTES, 0));
    } finally {
      closeSync(descriptor);
    }
  } catch {
    return '';
  }
}
