/** Breaks a text into lines of at most so many columns, at spaces. */
export function wrapped(text: string, columns: number): string[] {
  const lines: string[] = [];
  for (const paragraph of text.split('\n')) {
    let line = '';
    for (const word of paragraph.split(' ')) {
      if (line !== '' && widthOfText(line) + 1 + widthOfText(word) > columns) {
        lines.push(line);
        line = word;
      } else line = line === '' ? word : `${line} ${word}`;
    }
    lines.push(line);
  }
  return lines.map((line) => line.trimEnd());
}

/** Columns that a text takes: combining signs take none. */
export const widthOfText = (text: string): number =>
  PLAIN.test(text) ? text.length : [...text.replaceAll(/\p{M}/gu, '')].length;

/** Nearly every text; patterns over all of Unicode take longer to make than an answer to print. */
const PLAIN = /^[\x20-\x7e\u00a1-\u00ac\u00ae-\u02ff\u2010-\u2027\u2030-\u205e]*$/;

export const padded = (text: string, columns: number): string =>
  text + ' '.repeat(Math.max(0, columns - widthOfText(text)));
export const paddedLeft = (text: string, columns: number): string =>
  ' '.repeat(Math.max(0, columns - widthOfText(text))) + text;

/** Cut to so many columns, with a sign that it was cut. */
export function fitted(text: string, columns: number): string {
  if (widthOfText(text) <= columns) return text;
  return `${[...text].slice(0, Math.max(0, columns - 1)).join('')}…`;
}

/**
 * What a person recorded, safe to print on a terminal: control signs, and signs that turn the direction of writing or
 * take no room, are shown as what they are.
 */
export const shown = (text: string): string =>
  PLAIN.test(text)
    ? text
    : text.replaceAll(/[\p{Cc}\p{Cf}]/gu, (sign) => `\\u{${(sign.codePointAt(0) ?? 0).toString(16)}}`);

/** Rows as columns that stand under each other; the last column is not padded. */
export function table(
  rows: readonly (readonly string[])[],
  options: { readonly gap?: number; readonly right?: readonly number[] } = {},
): string[] {
  const widths: number[] = [];
  for (const row of rows)
    for (const [column, cell] of row.entries()) widths[column] = Math.max(widths[column] ?? 0, widthOfText(cell));
  const gap = ' '.repeat(options.gap ?? 2);
  return rows.map((row) =>
    row
      .map((cell, column) => {
        if (options.right?.includes(column)) return paddedLeft(cell, widths[column] ?? 0);
        return column === row.length - 1 ? cell : padded(cell, widths[column] ?? 0);
      })
      .join(gap)
      .trimEnd(),
  );
}

/** A share as print has it, in six columns and the sign: ` 62.3 %`; very small ones with two decimals. */
export const percent = (share: number): string =>
  `${(share * 100).toFixed(share > 0 && share < 0.001 ? 2 : 1).padStart(5)} %`;
