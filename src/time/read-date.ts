import { readDecades, readTurn } from './century.ts';
import { Cursor } from './cursor.ts';
import { dateError, severalReadings } from './date-error.ts';
import type { Calendar, DatePart, DateReading } from './date-reading.ts';
import { hasEdtfForm, hull, readEdtf } from './edtf.ts';
import { isPartOfYear } from './edtf-date.ts';
import { readFeast } from './feast.ts';
import type { PieceReader } from './half.ts';
import { readLawTerm } from './law-term.ts';
import { readLetterDay } from './letter-day.ts';
import { nearestWording } from './nearest-wording.ts';
import { readPart, readSeason } from './part-of-period.ts';
import { daysInWords } from './phrase.ts';
import type { DateOptions } from './reading-options.ts';
import { readRegnal, readReign } from './regnal.ts';
import { readRepublican } from './republican.ts';
import { readRomanDay } from './roman-day.ts';
import { tokensOf } from './tokens.ts';
import { readWording } from './wording.ts';

/** The kinds of dates that are not days, months and years; the first that fits is taken. */
const READERS: readonly PieceReader[] = [
  readPart,
  readDecades,
  readTurn,
  readSeason,
  readLawTerm,
  readRomanDay,
  readFeast,
  readLetterDay,
  readReign,
  readRegnal,
  readRepublican,
];

/**
 * What a date expression means: EDTF (levels 0 to 2) and ISO dates, or the wordings that lists, papers and catalogues
 * print. See `readEdtf`, `readWording` and `daysOf` for what is understood and how bounds are taken.
 * @throws HeldbyError DATE where it cannot be read, pointing at the character; or where it has two readings, telling
 * how to write each.
 */
export function readDate(given: string, options: DateOptions = {}): DateReading {
  const text = given.trim();
  if (text === '') throw dateError(text, 0, 1, 'there is nothing to read', 'Write a date, as 1834 or 16 May 1834.');
  if (!isShortRange(text) && !isLocalYear(text, options) && hasEdtfForm(text)) {
    const calendar = options.calendar ?? 'gregorian';
    const { edtf, parts } = readEdtf(text, calendar);
    return reading(text, edtf, parts, calendar, undefined);
  }
  const cursor = new Cursor(text, tokensOf(text));
  const meaning = readWording(cursor, options, READERS);
  if (meaning === undefined) throw notUnderstood(cursor, options);
  return reading(text, meaning.edtf, meaning.parts, meaning.calendar, meaning.label);
}

function reading(
  text: string,
  edtf: string,
  parts: readonly DatePart[],
  calendar: Calendar,
  label: string | undefined,
): DateReading {
  const span = hull(parts);
  const edges = parts.flatMap((part) => [part.from, part.until]);
  const approximate = edges.some((edge) => edge.approximate);
  const uncertain = edges.some((edge) => edge.uncertain);
  const days = parts.map((part) => daysInWords(part.span)).join(edtf.startsWith('{') ? ', and ' : ', or ');
  const doubts = [...(approximate ? ['approximate'] : []), ...(uncertain ? ['uncertain'] : [])].map(
    (doubt) => ` (${doubt})`,
  );
  const words = `${label === undefined ? '' : `${label}: `}${days}${doubts.join('')}`;
  return { text, edtf, span, parts, uncertain, approximate, calendar, words };
}

/** A year alone, of a place or a source that counts its years in its own way. */
const isLocalYear = (text: string, { calendar, country, yearBegins }: DateOptions): boolean =>
  calendar === undefined && (country ?? yearBegins) !== undefined && /^\d{4}$/.test(text);

/**
 * `1834-36` is the last quarter of 1834 in EDTF and 1834 to 1836 on most pages. Where the two digits can be a later year
 * of the same century and that is past, it is refused; from 2000 on, the standard's reading stands.
 * Codes that EDTF does not know (`1834-45`) leave the range alone.
 */
function isShortRange(text: string): boolean {
  const match = /^(1\d(\d\d))-(\d\d)$/.exec(text);
  if (!match) return false;
  const [, year, last, next] = match;
  if (Number(next) <= Number(last) || Number(next) <= 12) return false;
  if (!isPartOfYear(Number(next))) return true;
  const century = year?.slice(0, 2);
  throw severalReadings(
    text,
    `a part of the year ${year} in EDTF, or the years ${year} to ${century}${next}`,
    `Write ${year}/${century}${next} for the years, or the months themselves for a part of ${year}.`,
  );
}

function notUnderstood(cursor: Cursor, options: DateOptions): Error {
  const token = cursor.furthest;
  const at = token?.at ?? cursor.source.length;
  const length = token === undefined ? 1 : token.end - token.at;
  const hasYear = cursor.tokens.some((one) => one.kind === 'number' && one.text.length > 2);
  if (token === undefined && !hasYear && isUnderstood(`${cursor.source} 1834`, options)) {
    return dateError(cursor.source, at, length, 'the year is missing', `Add it, as in “${cursor.source} 1834”.`);
  }
  const { source } = cursor;
  const basic = /^(\d{4})(\d\d)(\d\d)$/.exec(source);
  if (basic !== null) {
    const hint = `Write ${basic.slice(1).join('-')}.`;
    return dateError(source, 0, source.length, 'eight figures in a row are not taken apart', hint);
  }
  if (/[-–—]$/.test(source) && isUnderstood(`from ${source.slice(0, -1)}`, options)) {
    const hint = `Write “from ${source.slice(0, -1).trim()}”, or the end too.`;
    return dateError(source, source.length - 1, 1, 'the end of the range is missing', hint);
  }
  const short = /['’‘]?\d\d$/.exec(source);
  if (short !== null && !hasYear && isUnderstood(source.replace(short[0], `18${short[0].slice(-2)}`), options))
    return dateError(source, short.index, 3, 'a year needs its four figures', 'Write them all.');
  const last = cursor.tokens.at(-1);
  if (token === undefined && !hasYear && last?.kind === 'number') {
    return dateError(cursor.source, last.at, last.text.length, 'a year needs its four figures', 'Write them all.');
  }
  const nearest = nearestWording(cursor.source, token, (text) => isUnderstood(text, options));
  const hint = nearest ?? 'Write for example 1834, May 1834, 16 May 1834, c. 1834, before 1834 or 1834–36.';
  return dateError(cursor.source, at, length, token === undefined ? 'it breaks off' : 'this is not understood', hint);
}

function isUnderstood(text: string, options: DateOptions): boolean {
  try {
    return hasEdtfForm(text) || readWording(new Cursor(text, tokensOf(text)), options, READERS) !== undefined;
  } catch {
    return false; // no date, or several readings: no wording to offer
  }
}
