import { daysInMonth, gregorianDay } from './calendar.ts';
import { type RoundYears, readCentury, readDecade, wholeYears } from './century.ts';
import type { Cursor } from './cursor.ts';
import { anyOf, severalReadings } from './date-error.ts';
import { partOfYear } from './edtf-date.ts';
import { readMonth } from './month-words.ts';
import { readOrdinal } from './ordinals.ts';
import { type Piece, pieceOf } from './piece.ts';
import { spanThrough } from './span.ts';
import { readYear } from './written-date.ts';

/** The so-manieth of so many equal parts, counted from 0. */
type Part = { readonly first: number; readonly last: number; readonly of: 2 | 3 | 4 };

const THIRDS: readonly (readonly string[])[] = [
  ['early', 'beginning', 'start', 'opening', 'debut', 'commencement', 'anfang', 'beginn'],
  ['mid', 'middle', 'milieu', 'mitte'],
  ['late', 'later', 'end', 'close', 'fin', 'ende'],
];
/** Behind the century also as palaeographers write them. */
const THIRDS_AFTER: readonly (readonly string[])[] = [
  ['early', 'in', 'ineunte'],
  ['mid', 'middle', 'med', 'medio'],
  ['late', 'ex', 'exeunte'],
];
const SIZES: Readonly<Record<string, 2 | 3 | 4>> = {
  ...{ half: 2, moitie: 2, halfte: 2 },
  ...{ third: 3, tiers: 3, drittel: 3 },
  ...{ quarter: 4, qtr: 4, quart: 4, viertel: 4 },
};
const LAST = ['last', 'latter', 'derniere', 'dernier', 'letzte', 'letztes', 'letzten'];

/**
 * A part of a century, decade, year or month; centuries and decades without a part:
 * 1. thirds: `early`, `mid`, `late` (`beginning of`, `middle of`, `end of`; `fin du`, `Anfang`), `first third of`;
 * 2. halves and quarters: `first half of`, `last quarter of`, `latter half of`;
 * 3. several together: `early to mid 19th century`.
 * Bounds (common practice, from memory): parts of a century share their edge years, which are read both ways
 * (first quarter of the 19th century 1800–1825, second 1825–1850; early 1800–1833, mid 1833–1866, late 1866–1900), and
 * so do parts of a decade (early 1830s 1830–1833, mid 1833–1836, late 1836–1839). Parts of a year are whole months,
 * those of a month days 1–10, 11–20 and 21 to the last, or 1–15 and 16 to the last.
 */
export function readPart(cursor: Cursor): Piece | undefined {
  const start = cursor.peek();
  cursor.word('in', 'im');
  cursor.word('the', 'le', 'la');
  const part = cursor.attempt(readParts);
  if (part !== undefined) {
    cursor.word('of', 'in', 'de', 'du', 'des');
    cursor.sign('-');
  }
  const round = readCentury(cursor) ?? (part === undefined ? undefined : readDecade(cursor));
  if (round !== undefined && start !== undefined) return ofRoundYears(round, part ?? cursor.attempt(readThirdAfter));
  return part === undefined ? undefined : ofYearOrMonth(cursor, part);
}

function readParts(cursor: Cursor): Part | undefined {
  const first = readOnePart(cursor);
  if (first === undefined) return undefined;
  const second = cursor.attempt(() => {
    if (!cursor.sign('-', '/', '&') && !cursor.word('to', 'or', 'and')) return undefined;
    const found = readOnePart(cursor);
    return found?.of === first.of && found.first > first.last ? found : undefined;
  });
  return second === undefined ? first : { ...first, last: second.last };
}

function readOnePart(cursor: Cursor): Part | undefined {
  cursor.word('the', 'le', 'la');
  for (const [place, words] of THIRDS.entries()) {
    if (!cursor.word(...words)) continue;
    if (cursor.word('third', 'half')) return { first: place, last: place, of: 3 };
    cursor.words(['part', 'of']);
    return { first: place, last: place, of: 3 };
  }
  const last = cursor.word(...LAST) !== undefined;
  const count = last ? undefined : cursor.word('former') ? 1 : readOrdinal(cursor);
  const size = cursor.take((token) => token.kind === 'word' && token.text in SIZES);
  const of = SIZES[size?.text ?? ''];
  if (of === undefined || (!last && (count === undefined || count > of))) return undefined;
  const place = last ? of - 1 : (count ?? 1) - 1;
  return { first: place, last: place, of };
}

/** A third told behind its century: `saec. XVIII ex.`, `19th century, early`. */
function readThirdAfter(cursor: Cursor): Part | undefined {
  cursor.sign(',');
  const first = THIRDS_AFTER.findIndex((words) => cursor.word(...words) !== undefined);
  return first < 0 ? undefined : { first, last: first, of: 3 };
}

/** Last years of the parts, counted from the first year; the last part of a century runs to the year that ends it. */
const CENTURY_EDGES: Readonly<Record<2 | 3 | 4, readonly number[]>> = {
  2: [0, 50, 100],
  3: [0, 33, 66, 100],
  4: [0, 25, 50, 75, 100],
};
const DECADE_EDGES: Readonly<Record<2 | 3, readonly number[]>> = { 2: [0, 5, 9], 3: [0, 3, 6, 9] };

function ofRoundYears({ first, years }: RoundYears, part: Part | undefined): Piece | undefined {
  if (part === undefined) return wholeYears(first, first + years - 1);
  const edges = years === 100 ? CENTURY_EDGES[part.of] : part.of === 4 ? undefined : DECADE_EDGES[part.of];
  const [from, until] = [edges?.[part.first], edges?.[part.last + 1]];
  return from === undefined || until === undefined ? undefined : wholeYears(first + from, first + until);
}

/** EDTF codes of the first half, third and quarter of a year. */
const CODES: Readonly<Record<2 | 3 | 4, number>> = { 2: 40, 3: 37, 4: 33 };

function ofYearOrMonth(cursor: Cursor, part: Part): Piece | undefined {
  const month = cursor.attempt(readMonth);
  cursor.sign(',');
  const year = readYear(cursor);
  if (year === undefined || year.secondYear !== undefined) return undefined;
  if (month !== undefined) return ofMonth(year.year, month, part);
  const [from, until] = [part.first, part.last].map((place) => partOfYear(year.year, CODES[part.of] + place));
  if (from === undefined || until === undefined) return undefined;
  const edtf =
    part.first === part.last ? { edtf: `${String(year.year).padStart(4, '0')}-${CODES[part.of] + part.first}` } : {};
  return pieceOf({ from: from.from, until: until.until }, 'month', edtf);
}

function ofMonth(year: number, month: number, { first, last, of }: Part): Piece | undefined {
  if (of === 4) return undefined;
  const length = daysInMonth(year, month);
  const size = of === 2 ? 15 : 10;
  const lastDay = last === of - 1 ? length : size * (last + 1);
  return pieceOf(spanThrough(gregorianDay(year, month, size * first + 1), gregorianDay(year, month, lastDay)), 'day');
}

const SEASONS: readonly (readonly string[])[] = [['spring'], ['summer'], ['autumn', 'fall'], ['winter']];
const FIRST_SEASON = 21;

/**
 * `spring 1834`, `summer of 1834`, `winter 1834/5`: northern seasons of three whole months, spring from March on (common
 * practice, from memory). A winter of one year may be the one it ended or the one it began.
 */
export function readSeason(cursor: Cursor): Piece | undefined {
  cursor.word('in');
  cursor.word('the');
  const place = SEASONS.findIndex((names) => cursor.word(...names) !== undefined);
  if (place < 0) return undefined;
  cursor.word('of', 'in');
  cursor.sign(',');
  const year = readYear(cursor);
  if (year === undefined) return undefined;
  const second = year.secondYear ?? (place === 3 ? cursor.attempt(() => secondOfRange(cursor, year.year)) : undefined);
  const code = FIRST_SEASON + place;
  if (place < 3 ? second !== undefined : second !== undefined && second !== year.year + 1) return undefined;
  if (place === 3 && second === undefined) {
    const wordings = [year.year - 1, year.year].map((one) => `winter ${one}/${String(one + 1).slice(-2)}`);
    throw severalReadings(
      cursor.source,
      'the winter at the beginning of the year, or at its end',
      `Write ${anyOf(wordings)}.`,
    );
  }
  return pieceOf(partOfYear(year.year, code), 'month', { edtf: `${String(year.year).padStart(4, '0')}-${code}` });
}

function secondOfRange(cursor: Cursor, year: number): number | undefined {
  if (!cursor.sign('-') && !cursor.word('to')) return undefined;
  const number = cursor.number();
  if (number === undefined) return undefined;
  const size = 10 ** number.text.length;
  return Math.floor((year + 1) / size) * size + Number(number.text);
}
