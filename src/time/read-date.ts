import { Cursor } from './cursor.ts';
import { dateError, twoReadings } from './date-error.ts';
import type { Calendar, DatePart, DateReading } from './date-reading.ts';
import { readCentury, readDecade } from './decade.ts';
import { hasEdtfForm, hull, readEdtf } from './edtf.ts';
import { isPartOfYear } from './edtf-date.ts';
import { daysInWords } from './piece.ts';
import type { DateOptions } from './reading-options.ts';
import { tokensOf } from './tokens.ts';
import { type PieceReader, readWording } from './wording.ts';

const READERS: readonly PieceReader[] = [readDecade, readCentury];

/**
 * What a date expression means: EDTF (levels 0 to 2) and ISO dates, or the wordings that lists, papers and catalogues
 * print. See `readEdtf`, `readWording` and `daysOf` for what is understood and how bounds are taken.
 * @throws HeldbyError DATE where it cannot be read, pointing at the character; or where it has two readings, telling
 * how to write each.
 */
export function readDate(given: string, options: DateOptions = {}): DateReading {
  const text = given.trim();
  if (text === '') throw dateError(text, 0, 1, 'there is nothing to read', 'Write a date, as 1834 or 16 May 1834.');
  const range = isShortRange(text);
  if (!range && hasEdtfForm(text)) {
    const calendar = options.calendar ?? 'gregorian';
    const { edtf, parts } = readEdtf(text, calendar);
    return reading(text, edtf, parts, calendar, undefined);
  }
  const cursor = new Cursor(text, tokensOf(text));
  const meaning = readWording(cursor, options, READERS);
  if (meaning === undefined) throw notUnderstood(cursor);
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
  const days = parts.map((part) => daysInWords(part.span)).join(', or ');
  const doubts = [...(approximate ? ['approximate'] : []), ...(uncertain ? ['uncertain'] : [])].map(
    (doubt) => ` (${doubt})`,
  );
  const words = `${label === undefined ? '' : `${label}: `}${days}${doubts.join('')}`;
  return { text, edtf, span, parts, uncertain, approximate, calendar, words };
}

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
  throw twoReadings(
    text,
    `a part of the year ${year} in EDTF, or the years ${year} to ${century}${next}`,
    `Write ${year}/${century}${next} for the years, or the months themselves for a part of ${year}.`,
  );
}

function notUnderstood(cursor: Cursor): Error {
  const token = cursor.furthest;
  const at = token?.at ?? cursor.source.length;
  const length = token === undefined ? 1 : token.end - token.at;
  return dateError(
    cursor.source,
    at,
    length,
    'this is not understood',
    'Write for example 1834, May 1834, 16 May 1834, c. 1834, before 1834 or 1834–36.',
  );
}
