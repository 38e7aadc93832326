import type { Cursor } from './cursor.ts';
import { monthsFrom } from './edtf-date.ts';
import { type Piece, pieceOf } from './piece.ts';

/** `1830s`, `the 1830s`, `1830's`. */
export function readDecade(cursor: Cursor): Piece | undefined {
  cursor.word('the', 'in');
  const number = cursor.number((value, token) => token.text.length === 4 && value % 10 === 0);
  if (number === undefined) return undefined;
  cursor.take((token) => token.glued && token.text === "'");
  if (cursor.take((token) => token.glued && token.text === 's') === undefined) return undefined;
  return pieceOf(monthsFrom(Number(number.text), 1, 120, 'gregorian'), 'year');
}

/** `the 19th century`: 1800 to 1899, as catalogues count and EDTF writes it (`18XX`), not 1801 to 1900. */
export function readCentury(cursor: Cursor): Piece | undefined {
  cursor.word('the', 'in');
  const number = cursor.number((value) => value >= 1 && value <= 99);
  if (number === undefined || !cursor.take((token) => token.glued && /^(?:st|nd|rd|th)$/.test(token.text)))
    return undefined;
  cursor.sign('-');
  if (!cursor.word('century', 'cent', 'c')) return undefined;
  return pieceOf(monthsFrom((Number(number.text) - 1) * 100, 1, 1200, 'gregorian'), 'year');
}
