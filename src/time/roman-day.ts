import { type CalendarDate, daysInMonth, monthName, type SolarCalendar } from './calendar.ts';
import type { Cursor } from './cursor.ts';
import { anyOf, dateError, severalReadings } from './date-error.ts';
import { readMonth } from './month-words.ts';
import { readOrdinal } from './ordinals.ts';
import { type Piece, pieceOf } from './piece.ts';
import type { DateOptions } from './reading-options.ts';
import { spanThrough } from './span.ts';
import { type NamedDay, settle, wordingOf } from './style.ts';
import type { Token } from './tokens.ts';
import { readStyle, readWeekday, readYear } from './written-date.ts';

const COMMON_YEAR = 1701;

const POINTS = ['Kalends', 'Nones', 'Ides'] as const;
type Point = (typeof POINTS)[number];

/** Folded, in the cases in which dates have them, and abbreviated. */
const POINT_WORDS: Readonly<Record<Point, readonly string[]>> = {
  Kalends: [
    ...['kalends', 'kalend', 'kalendae', 'kalendas', 'kalendis', 'kal', 'kl', 'kls'],
    ...['calends', 'calend', 'calendae', 'calendas', 'calendis', 'cal'],
  ],
  Nones: ['nones', 'nonae', 'nonas', 'nonis', 'non'],
  Ides: ['ides', 'idus', 'idibus', 'idib', 'eid', 'id'],
};

/** Third to nineteenth, as far as their endings change with the case. */
const LATIN_ORDINALS = [
  ...['terti', 'quart', 'quint', 'sext', 'septim', 'octav', 'non', 'decim', 'undecim', 'duodecim'],
  ...['tertiodecim', 'quartodecim', 'quintodecim', 'sextodecim', 'septimodecim', 'duodevicesim', 'undevicesim'],
];

/** Their day of the month; the Kalends are its first. */
const dayOfPoint = (point: Point, month: number): number => {
  if (point === 'Kalends') return 1;
  const isLate = [3, 5, 7, 10].includes(month);
  return (point === 'Nones' ? 5 : 13) + (isLate ? 2 : 0);
};

/** From how many days before it, itself counted, days are named after a point: from the day after the last point on. */
const mostBefore = (point: Point, month: number): number => {
  if (point === 'Nones') return dayOfPoint(point, month) - 1;
  if (point === 'Ides') return 8;
  const before = month === 1 ? 12 : month - 1;
  return daysInMonth(COMMON_YEAR, before) - dayOfPoint('Ides', before) + 1;
};

/**
 * A day of the Roman month, as Latin registers and inscriptions have it: `Kal. Ian. 1702`, `III Non. Maii 1644`, `a.d. IV Id.
 * Oct. 1633`, `prid. Kal. Iul. 1620`, `the Ides of March 1640`.
 *
 * 1. Days are counted back from the Kalends (the 1st), Nones (5th; 7th in March, May, July, October) and Ides (13th;
 *    15th), that day itself counted: the third day before is two days earlier, `pridie` one. Source: Allen and
 *    Greenough, New Latin Grammar (1903) § 631.
 * 2. In a leap year the sixth day before the Kalends of March comes twice. The one put in, `bis VI Kal. Mart.`, stands before the
 *    last five days of the February of other years: the 24th. Source: Macrobius, Saturnalia 1.14.6. `VI Kal. Mart.`
 *    without more may then be the 24th or the 25th, and is refused.
 * 3. Days before the Kalends of January are December's; whether the year written is that of December or of January
 *    cannot be told, and is refused.
 * Its style is settled like that of any other day; see `settle`.
 */
export function readRomanDay(cursor: Cursor, options: DateOptions): Piece | undefined {
  const start = cursor.peek();
  const weekday = readWeekday(cursor);
  cursor.word('on', 'at', 'in', 'die');
  cursor.word('the');
  const found = cursor.attempt(readCounted) ?? cursor.attempt(readPoint);
  if (found === undefined || start === undefined) return undefined;
  const end = cursor.peek(-1)?.end ?? start.end;
  cursor.sign(',');
  const year = readYear(cursor);
  const style = readStyle(cursor);
  if (year === undefined) return undefined;
  const { count, point, month, isDoubled } = found;
  const name = cursor.source.slice(start.at, end);
  const fault = (reason: string, hint: string) => dateError(cursor.source, start.at, end - start.at, reason, hint);
  const longest = mostBefore(point, month);
  if (count > longest)
    throw fault(
      `before the ${point} of ${monthName(month)} no more than ${longest} days are counted`,
      'Look at the number and the month again.',
    );
  const dateIn = (calendar: SolarCalendar, inYear: number): CalendarDate => countedBack(found, inYear, calendar);
  if (point === 'Kalends' && month === 1 && count > 1) {
    const { day } = dateIn('gregorian', year.year);
    const years = [year.year - 1, year.year].map((one) => `${day} December ${one}`);
    throw severalReadings(
      cursor.source,
      'the year can be that of the Kalends, or that of the day before them',
      `Write ${years.join(' or ')}.`,
    );
  }
  const named: NamedDay = {
    ...year,
    ...(style === undefined ? {} : { style }),
    ...(weekday === undefined ? {} : { weekday }),
    at: start.at,
    length: end - start.at,
    dateIn,
    wording: (inYear, inStyle) => `${name} ${inYear}${inStyle}`,
  };
  const settled = settle(named, cursor.source, options);
  if (point === 'Kalends' && month === 3 && count === 6) {
    const isLeap = daysInMonth(settled.year, 2, settled.calendar) === 29;
    if (isDoubled && !isLeap)
      throw fault(`${settled.year} was no leap year`, 'Leave “bis” out, or look at the year again.');
    if (!isDoubled && isLeap)
      throw severalReadings(
        cursor.source,
        `${settled.year} was a leap year, in which that day came twice`,
        `Write ${anyOf([24, 25].map((day) => wordingOf(settled, { ...named, wording: (inYear, inStyle) => `${day} February ${inYear}${inStyle}` })))}.`,
      );
  }
  return pieceOf(spanThrough(settled.day, settled.day), 'day', { calendar: settled.calendar, label: name });
}

type Found = { readonly count: number; readonly point: Point; readonly month: number; readonly isDoubled: boolean };

/** `Id. Mart.`, `Kalendis Ianuariis`: the day itself. */
function readPoint(cursor: Cursor): Found | undefined {
  const named = pointAndMonth(cursor);
  return named && { count: 1, ...named, isDoubled: false };
}

/** `III Non. Maii`, `a.d. iii Non. Maii`, `prid. Kal. Iul.`, `the 4th of the Nones of May`. */
function readCounted(cursor: Cursor): Found | undefined {
  if (cursor.word('ad') === undefined) cursor.words(['ante', 'diem']);
  const isDoubled = cursor.word('bis', 'bissexto', 'bissextum');
  const count = isDoubled !== undefined && isDoubled.text !== 'bis' ? 6 : (readEve(cursor) ?? readCount(cursor));
  if (count === undefined || count < 2 || (isDoubled !== undefined && count !== 6)) return undefined;
  cursor.word('day', 'ante');
  cursor.word('of', 'before');
  cursor.word('the');
  const named = pointAndMonth(cursor);
  if (named === undefined) return undefined;
  if (isDoubled !== undefined && (named.point !== 'Kalends' || named.month !== 3)) return undefined;
  return { count, ...named, isDoubled: isDoubled !== undefined };
}

const readEve = (cursor: Cursor): number | undefined =>
  cursor.word('pridie', 'prid', 'prd', 'pr') === undefined ? undefined : 2;

function readCount(cursor: Cursor): number | undefined {
  const word = cursor.take(
    ({ kind, text }) => kind === 'word' && LATIN_ORDINALS.includes(text.replace(/(?:um|o)$/, '')),
  );
  if (word !== undefined) return LATIN_ORDINALS.indexOf(word.text.replace(/(?:um|o)$/, '')) + 3;
  const count = readOrdinal(cursor);
  if (count !== undefined) {
    cursor.take((token) => token.glued && ['o', 'to', 'um'].includes(token.text));
    cursor.sign('.');
  }
  return count;
}

function pointAndMonth(cursor: Cursor): { point: Point; month: number } | undefined {
  const word = cursor.take((token) => token.kind === 'word' && pointOf(token.text) !== undefined);
  if (word === undefined) return undefined;
  cursor.sign(':', '.');
  cursor.word('of', 'mensis');
  const month = readMonth(cursor);
  const point = pointOf(word.text);
  return month === undefined || point === undefined ? undefined : { point, month };
}

const pointOf = (word: string): Point | undefined => POINTS.find((point) => POINT_WORDS[point].includes(word));

/** Whether a word names one of the points from which days are counted. */
export const isRomanDay = ({ text }: Token): boolean => pointOf(text) !== undefined || text.startsWith('prid');

/** `bis VI Kal.` begins with no German word for until. */
export const isDoubledSixth = (cursor: Cursor): boolean => readCounted(cursor)?.isDoubled === true;

/** The sixth day before the Kalends of March that comes twice does not move the days before it. */
function countedBack({ count, point, month, isDoubled }: Found, year: number, calendar: SolarCalendar): CalendarDate {
  const [before, inYear] = month === 1 ? [12, year - 1] : [month - 1, year];
  const last = daysInMonth(inYear, before, calendar);
  const isBeforeDoubled = point === 'Kalends' && month === 3 && last === 29 && count > 6;
  const day = dayOfPoint(point, month) - (count - 1) - (isDoubled || isBeforeDoubled ? 1 : 0);
  return day >= 1 ? { year, month, day } : { year: inYear, month: before, day: last + day };
}
