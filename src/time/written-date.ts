import type { SolarCalendar } from './calendar.ts';
import type { Cursor } from './cursor.ts';
import { severalReadings } from './date-error.ts';
import { readMonth } from './month-words.ts';
import type { WrittenDate } from './old-style.ts';
import { readOrdinal } from './ordinals.ts';
import { placeOf } from './places.ts';
import type { DateOptions } from './reading-options.ts';
import { romanValue } from './roman.ts';
import { LAST_LADY_DAY_YEAR } from './style.ts';

/** A date of which parts may still be missing, to be completed from the other end of a range. */
export type PartialDate = Omit<WrittenDate, 'year'> & {
  readonly year?: number;
  /** A number of one or two digits alone: the day in `3–8 May`, the year in `1834–36`. */
  readonly bare?: { readonly value: number; readonly digits: number };
};

const ORDINALS = [
  ...['st', 'nd', 'rd', 'th', 'd', 'er', 'e', 'eme', 'te', 'ten', 'ter', 'o', 'a'],
  ...['mo', 'do', 'tio', 'to', 'vo', 'no'],
];
const WEEKDAY_NAMES: readonly (readonly string[])[] = [
  ['monday', 'mon', 'lundi', 'montag'],
  ['tuesday', 'tue', 'tues', 'mardi', 'dienstag'],
  ['wednesday', 'wed', 'weds', 'mercredi', 'mittwoch'],
  ['thursday', 'thu', 'thur', 'thurs', 'jeudi', 'donnerstag'],
  ['friday', 'fri', 'vendredi', 'freitag'],
  ['saturday', 'sat', 'samedi', 'samstag', 'sonnabend'],
  ['sunday', 'sun', 'dimanche', 'sonntag'],
];
const STYLES: readonly (readonly [phrase: readonly string[], style: SolarCalendar])[] = [
  [['os'], 'julian'],
  [['old', 'style'], 'julian'],
  [['stilo', 'veteri'], 'julian'],
  [['julian'], 'julian'],
  [['ns'], 'gregorian'],
  [['new', 'style'], 'gregorian'],
  [['stilo', 'novo'], 'gregorian'],
  [['gregorian'], 'gregorian'],
];
const ANNO: readonly (readonly string[])[] = [
  ...['anno', 'an', 'ao'].flatMap((anno) =>
    ['domini', 'dom', 'dni', 'di', 'gratiae', 'salutis'].map((of) => [anno, of]),
  ),
  ['anno'],
  ['ao'],
  ['a', '°', 'dni'],
  ['a', '°'],
  ["l'an", 'de', 'grace'],
  ['an', 'de', 'grace'],
  ["l'an"],
  ['im', 'jahre'],
  ['im', 'jahr'],
  ['ad'],
  ['in', 'the', 'year'],
  ['the', 'year'],
  ['year'],
];

/**
 * A date in days, months and years:
 * 1. day month year: `16 May 1834`, `the 16th of May, 1834`, `16. Mai 1834`, `16.v.1834`; the day in both styles,
 *    `10/21 May 1700`, `25 Aug./5 Sept. 1700`;
 * 2. month day year: `May 16, 1834`;
 * 3. year month day: `1834 May 16`, `anno 1644 die 3 Maij`;
 * 4. day, month as a word or in Roman numerals, and year between two hyphens or strokes: `16-May-1834`, `16/v/1834`;
 *    numbers alone: `16.5.1834`, refused where day and month can change places and no country tells which is which;
 *    `5/1834`;
 * 5. month year, or a month or day that the other end of a range completes;
 * 6. a year, in figures or Roman numerals, single or double (`1708/9`).
 */
export function readWrittenDate(cursor: Cursor, options: DateOptions): PartialDate | undefined {
  return cursor.attempt(() => {
    const first = cursor.peek();
    if (first === undefined) return undefined;
    const weekday = readWeekday(cursor);
    const found =
      cursor.attempt((one) => allNumbers(one, options)) ??
      cursor.attempt(wordBetween) ??
      cursor.attempt(monthInFigures) ??
      cursor.attempt(dayFirst) ??
      cursor.attempt(monthFirst) ??
      cursor.attempt(yearFirst) ??
      cursor.attempt(bareNumber);
    if (found === undefined || (weekday !== undefined && found.day === undefined && found.bare === undefined))
      return undefined;
    const style = readStyle(cursor);
    const end = cursor.peek(-1)?.end ?? first.end;
    return {
      at: first.at,
      length: end - first.at,
      ...found,
      ...(weekday === undefined ? {} : { weekday }),
      ...(style === undefined ? {} : { style }),
    };
  });
}

type Fields = Omit<PartialDate, 'at' | 'length'>;

export function readWeekday(cursor: Cursor): number | undefined {
  const token = cursor.take((one) => one.kind === 'word' && WEEKDAY_NAMES.some((names) => names.includes(one.text)));
  if (token === undefined) return undefined;
  cursor.sign(',');
  return WEEKDAY_NAMES.findIndex((names) => names.includes(token.text));
}

/** A style after the date, in brackets or not. */
export function readStyle(cursor: Cursor): SolarCalendar | undefined {
  return cursor.attempt(() => {
    cursor.sign(',');
    const bracket = cursor.sign('(', '[');
    const found = STYLES.find(([phrase]) => cursor.words(phrase));
    if (found === undefined || (bracket !== undefined && cursor.sign(')', ']') === undefined)) return undefined;
    return found[1];
  });
}

/** A day of the month with its ordinal ending, `of` and `the`. */
function readDay(cursor: Cursor): number | undefined {
  return cursor.attempt(() => {
    for (let lead = 0; lead < 2; lead++) cursor.word('the', 'ye', 'le', 'den', 'am', 'on', 'this', 'die');
    const number = cursor.number((_, token) => token.text.length <= 2);
    const ending = number && cursor.take((token) => token.glued && ORDINALS.includes(token.text));
    const day = number === undefined ? readOrdinal(cursor) : Number(number.text);
    if (day === undefined || day > 99) return undefined;
    if (ending === undefined) cursor.sign('.');
    if (cursor.word('day')) cursor.word('of');
    else cursor.word('of', 'de', 'mensis');
    return day;
  });
}

function allNumbers(cursor: Cursor, { country }: DateOptions): Fields | undefined {
  const first = cursor.number();
  const separator = cursor.sign('/', '.', '-');
  const second = cursor.number((_, token) => token.text.length <= 2);
  const again = separator && cursor.sign(separator.text);
  const third = cursor.number();
  if (!first || !second || !again || !third) return undefined;
  const [a, b, c] = [Number(first.text), Number(second.text), Number(third.text)];
  if (first.text.length === 4 && third.text.length <= 2) return { year: a, month: b, day: c };
  if (first.text.length > 2 || third.text.length !== 4) return undefined;
  const monthFirst = country !== undefined && a <= 12 && placeOf(country).monthBeforeDay;
  if (a <= 12 && b <= 12 && a !== b && country === undefined) {
    const text = cursor.source.slice(first.at, third.end);
    const iso = (month: number, day: number) =>
      `${c}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
    throw severalReadings(
      text,
      'either number can be the month',
      `Write ${iso(b, a)} or ${iso(a, b)}, or the month as a word.`,
    );
  }
  return b > 12 || monthFirst ? { year: c, month: a, day: b } : { year: c, month: b, day: a };
}

/** `10/1820`, as forms have it. */
function monthInFigures(cursor: Cursor): Fields | undefined {
  const month = cursor.number((value, token) => token.text.length <= 2 && value >= 1 && value <= 12);
  const year = month && cursor.sign('/') && cursor.number((_, token) => token.text.length === 4);
  if (!month || !year || cursor.peek()?.text === '/') return undefined;
  return { month: Number(month.text), year: Number(year.text) };
}

function wordBetween(cursor: Cursor): Fields | undefined {
  const day = cursor.number((value) => value < 100);
  const separator = cursor.sign('/', '-');
  if (day === undefined || separator === undefined) return undefined;
  const roman = cursor.take((token) => token.kind === 'word' && (romanValue(token.text) ?? 13) <= 12);
  const month = roman === undefined ? readMonth(cursor) : romanValue(roman.text);
  const year = cursor.sign(separator.text) && cursor.number((_, token) => token.text.length === 4);
  return month && year ? { year: Number(year.text), month, day: Number(day.text) } : undefined;
}

function dayFirst(cursor: Cursor): Fields | undefined {
  const day = readDay(cursor);
  if (day === undefined) return undefined;
  const freshDay = cursor.sign('/') ? readDay(cursor) : undefined;
  cursor.sign(',');
  const month = readMonth(cursor) ?? cursor.attempt(romanMonth);
  if (month === undefined) return undefined;
  if (freshDay !== undefined) return { day, month, newStyle: { day: freshDay }, ...readYearAfter(cursor) };
  const fresh = cursor.attempt(() => (cursor.sign('/') ? dayAndMonth(cursor) : undefined));
  return { day, month, ...(fresh ? { newStyle: fresh } : {}), ...yearOfDay(cursor, month) };
}

/** `5 Sept.`: a day and its month, the year apart. */
export function dayAndMonth(cursor: Cursor): { day: number; month: number } | undefined {
  const day = readDay(cursor);
  const month = day === undefined ? undefined : readMonth(cursor);
  return day === undefined || month === undefined ? undefined : { day, month };
}

function romanMonth(cursor: Cursor): number | undefined {
  const token = cursor.take((one) => one.kind === 'word' && (romanValue(one.text) ?? 13) <= 12);
  if (token === undefined) return undefined;
  cursor.sign('.', '/', '-');
  return cursor.peek()?.kind === 'number' ? romanValue(token.text) : undefined;
}

function monthFirst(cursor: Cursor): Fields | undefined {
  cursor.word('in', 'im', 'en');
  const month = readMonth(cursor);
  if (month === undefined) return undefined;
  const day = cursor.attempt(() => {
    const found = readDay(cursor);
    return found !== undefined && cursor.peek()?.text !== '/' ? found : undefined;
  });
  if (day === undefined) return { month, ...readYearAfter(cursor) };
  return { month, day, ...yearOfDay(cursor, month) };
}

function yearFirst(cursor: Cursor): Fields | undefined {
  const year = readYear(cursor);
  if (year === undefined) return undefined;
  const month = cursor.attempt(() => {
    cursor.sign(',');
    return readMonth(cursor);
  });
  if (month === undefined) {
    const latin = cursor.attempt(() => {
      cursor.sign(',');
      return cursor.peek()?.text === 'die' ? dayAndMonth(cursor) : undefined;
    });
    return { ...year, ...latin };
  }
  const day = cursor.attempt(readDay);
  return { ...year, month, ...(day === undefined ? {} : { day }) };
}

/** A number of one or two digits, and the year after it if there is one: the second `8, 1834` of `May 3–8, 1834`. */
function bareNumber(cursor: Cursor): Fields | undefined {
  const number = cursor.number((_, token) => token.text.length <= 2);
  if (number === undefined) return undefined;
  cursor.take((token) => token.glued && ORDINALS.includes(token.text));
  const year = cursor.attempt(() => (cursor.sign(',') ? readYear(cursor) : undefined));
  if (year !== undefined) return { day: Number(number.text), ...year };
  return { bare: { value: Number(number.text), digits: number.text.length } };
}

const readYearAfter = (cursor: Cursor): Fields =>
  cursor.attempt(() => {
    cursor.sign(',', '.');
    return readYear(cursor);
  }) ?? {};

/**
 * The year after a day: `2 Feb. 1708-9` is a double year as well as `1708/9`, where the days had one and nothing that
 * could be the end of a range follows.
 */
function yearOfDay(cursor: Cursor, month: number): Fields {
  const found = readYearAfter(cursor);
  const { year, secondYear } = found;
  if (year === undefined || secondYear !== undefined || month > 3 || year > LAST_LADY_DAY_YEAR) return found;
  const second = cursor.attempt(() => {
    const number = cursor.sign('-') && cursor.number();
    if (number === undefined || ['number', 'word'].includes(followsDay(cursor))) return undefined;
    const size = 10 ** number.text.length;
    return Number(number.text) === (year + 1) % size ? year + 1 : undefined;
  });
  return second === undefined ? found : { ...found, secondYear: second };
}

/** The kind of the next piece; a style does not count as a word. */
const followsDay = (cursor: Cursor): string =>
  STYLES.some(([[first]]) => first === cursor.peek()?.text) ? 'style' : (cursor.peek()?.kind ?? 'end');

/** `1834`, `A.D. 1834`, `MDCCCXXXIV`, `1708/9`. */
export function readYear(cursor: Cursor): { year: number; secondYear?: number } | undefined {
  return cursor.attempt(() => {
    const anno = ANNO.find((phrase) => cursor.words(phrase));
    if (anno === undefined) cursor.word('in', 'of');
    const number = cursor.number((_, token) => token.text.length === 4 || token.text.length === 3);
    const year = number === undefined ? romanYear(cursor) : Number(number.text);
    if (year === undefined) return undefined;
    const second = cursor.attempt(() => {
      const slash = cursor.sign('/');
      return slash && cursor.number((_, token) => token.text.length <= 4);
    });
    cursor.word('ad');
    if (second === undefined) return { year };
    const size = 10 ** second.text.length;
    const value = Number(second.text) + Math.floor(year / size) * size;
    return { year, secondYear: value > year ? value : value + size };
  });
}

const MOST_PIECES = 4;

/** Roman numerals of a thousand and more (shorter ones are months and regnal numbers), also in pieces: `M. DCC. LXXVI`. */
function romanYear(cursor: Cursor): number | undefined {
  for (let pieces = MOST_PIECES; pieces > 0; pieces--) {
    const tokens = Array.from({ length: pieces }, (_, ahead) => cursor.peek(ahead));
    if (tokens.some((token) => token?.kind !== 'word')) continue;
    const year = romanValue(tokens.map((token) => token?.text ?? '').join(''));
    if (year === undefined || year < 1000) continue;
    for (let taken = 0; taken < pieces; taken++) cursor.take(() => true);
    return year;
  }
  return undefined;
}
