import type { Cursor } from './cursor.ts';
import { severalReadings } from './date-error.ts';
import { monthsFrom } from './edtf-date.ts';
import { ordinal, readOrdinal } from './ordinals.ts';
import { type Piece, pieceOf } from './piece.ts';
import type { Token } from './tokens.ts';

const CENTURY_WORDS = [
  ...['century', 'centuries', 'cent', 'c', 'siecle', 'siecles', 's'],
  ...['jahrhundert', 'jahrhunderts', 'jahrhunderte', 'jh', 'jhs', 'jhdt', 'saeculum', 'saeculi'],
];
const JOINTS = ['-', '/', 'to', 'or', 'and', '&'];

/** A century or decade: its first year and number of years. */
export type RoundYears = { readonly first: number; readonly years: 10 | 100 };

/** From the first year to the last, which is still inside. */
export const wholeYears = (first: number, last: number): Piece =>
  pieceOf(monthsFrom(first, 1, 12 * (last - first + 1), 'gregorian'), 'year');

/**
 * `19th century`, `nineteenth century`, `C19`, `19thC`, `XIXe siècle`, `XIXe`, `19. Jh.`, `saec. XIX`, `s. xix`: 1800 to 1899, as catalogues count and EDTF
 * writes it (`18XX`), not 1801 to 1900. The word may stand once for two: `18th–19th century`.
 */
export function readCentury(cursor: Cursor): RoundYears | undefined {
  return cursor.attempt(() => {
    cursor.word('the', 'du', 'des', 'im');
    const latin = cursor.word('saec', 'saeculo', 'saeculi') !== undefined || beforeRoman(cursor);
    const abbreviated = latin || (cursor.word('c') !== undefined && cursor.peek()?.text !== '.');
    const digits = cursor.peek();
    const count = cursor.attempt(ordinalWithC) ?? readOrdinal(cursor);
    if (count === undefined || count > 99) return undefined;
    const closed = cursor.peek(-1)?.text.endsWith('thc') ?? false;
    const short = latin || (abbreviated && digits?.glued === true) || isFrenchAlone(digits, cursor);
    if (!short && !closed && !wordOfCentury(cursor)) return undefined;
    return { first: (count - 1) * 100, years: 100 };
  });
}

/** The `s.` of `s. xviii`. */
const beforeRoman = (cursor: Cursor): boolean =>
  /^x[ivx]*$/.test(cursor.peek(1)?.text ?? '') && cursor.word('s') !== undefined;

/** `fin XVIIIe`: nothing but a century is counted so in French where no other word follows. */
const isFrenchAlone = (count: Token | undefined, cursor: Cursor): boolean =>
  /^x[ivx]+(?:e|eme)$/.test(count?.text ?? '') && !['word', 'number'].includes(cursor.peek()?.kind ?? '');

function ordinalWithC(cursor: Cursor): number | undefined {
  const number = cursor.number((value) => value > 0 && value < 100);
  return number && cursor.word('thc', 'stc', 'ndc', 'rdc') ? Number(number.text) : undefined;
}

/** The word itself; or, before a joint, one that stands further on. */
function wordOfCentury(cursor: Cursor): boolean {
  const found = cursor.attempt(() => {
    cursor.sign('-');
    return cursor.word(...CENTURY_WORDS);
  });
  if (found !== undefined) return true;
  if (!JOINTS.includes(cursor.peek()?.text ?? '')) return false;
  for (let ahead = 1; ; ahead++) {
    const token = cursor.peek(ahead);
    if (token === undefined) return false;
    if (token.kind === 'word' && token.text !== 'c' && CENTURY_WORDS.includes(token.text)) return true;
  }
}

/** `1830s`, `the 1830s`, `1830's`, `1830er Jahre`, `années 1830`. */
export function readDecade(cursor: Cursor): RoundYears | undefined {
  return cursor.attempt(() => {
    cursor.word('the', 'les', 'der', 'die', 'den');
    const annees = cursor.word('annees') !== undefined;
    const number = cursor.number((value, token) => token.text.length === 4 && value % 10 === 0);
    if (number === undefined || !(annees || pluralEnding(cursor))) return undefined;
    return { first: Number(number.text), years: 10 };
  });
}

function pluralEnding(cursor: Cursor): boolean {
  if (
    cursor.attempt(() => cursor.take((token) => token.glued && token.text === 'er') && cursor.word('jahre', 'jahren'))
  )
    return true;
  cursor.take((token) => token.glued && token.text === "'");
  return cursor.take((token) => token.glued && (token.text === 's' || token.text === "'s")) !== undefined;
}

function decadeOfCentury(cursor: Cursor): number | undefined {
  cursor.word('the');
  const count = cursor.word('last') ? 10 : readOrdinal(cursor);
  if (count === undefined || count > 10 || !cursor.word('decade')) return undefined;
  cursor.word('of', 'in');
  const century = readCentury(cursor);
  return century && century.first + 10 * (count - 1);
}

/** `1830s–40s`; `third decade of the 19th century`, 1820 to 1829. */
export function readDecades(cursor: Cursor): Piece | undefined {
  cursor.word('in', 'dans');
  const counted = cursor.attempt(decadeOfCentury);
  if (counted !== undefined) return wholeYears(counted, counted + 9);
  const decade = readDecade(cursor);
  if (decade === undefined) return undefined;
  const last = cursor.attempt(() => {
    if (!cursor.sign('-') && !cursor.word('to', 'and', 'or')) return undefined;
    const number = cursor.number((value, token) => token.text.length === 2 && value % 10 === 0);
    return number !== undefined && pluralEnding(cursor) ? Number(number.text) : undefined;
  });
  const century = Math.floor(decade.first / 100) * 100;
  return wholeYears(decade.first, (last === undefined ? decade.first : century + last) + 9);
}

/**
 * Ten years to either side of the turn: `turn of the century` (1890 to 1910), `turn of the 18th and 19th centuries`,
 * `turn of 1800`. Which end of one century is meant by `turn of the 19th century` nobody can tell.
 * Source: common practice, from memory.
 */
export function readTurn(cursor: Cursor): Piece | undefined {
  cursor.word('at', 'around');
  cursor.word('the');
  if (!cursor.words(['turn', 'of'])) return undefined;
  const year = cursor.number((value, token) => token.text.length === 4 && value % 100 === 0);
  if (year !== undefined) return aroundTurn(Number(year.text));
  cursor.word('the');
  if (cursor.word('century')) return aroundTurn(1900);
  const first = readCentury(cursor);
  if (first === undefined) return undefined;
  const next = cursor.attempt(() =>
    cursor.sign('-', '/', '&') || cursor.word('and', 'to') ? readCentury(cursor) : undefined,
  );
  if (next === undefined || next.first !== first.first + 100) {
    const name = ordinal(first.first / 100 + 1);
    const hint = `Write “turn of ${first.first}” or “turn of ${first.first + 100}”.`;
    throw severalReadings(cursor.source, `the years about the beginning or the end of the ${name} century`, hint);
  }
  return aroundTurn(next.first);
}

const aroundTurn = (year: number): Piece => ({ ...wholeYears(year - 10, year + 10), label: `the turn of ${year}` });
