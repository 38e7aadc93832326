import { gregorianDay, plainDay } from './calendar.ts';
import type { Cursor } from './cursor.ts';
import { dateError } from './date-error.ts';
import { ordinal, readOrdinal } from './ordinals.ts';
import { type Piece, pieceOf } from './piece.ts';
import data from './republican.json' with { type: 'json' };
import { romanValue } from './roman.ts';
import { type Day, type Span, spanThrough } from './span.ts';

const COMPLEMENTARY_MONTH = 13;

/**
 * The French Republican calendar, in use from 22 September 1792 to 31 December 1805:
 * 1. a day or days: `14 thermidor an VIII`, `14 thermidor VIII`, `3–8 thermidor an VIII`; 2. a complementary day: `3e jour complémentaire an VII`,
 * `jour de la Révolution an III`; 3. a month: `thermidor an 8`; 4. a year: `an VIII`, `l'an 8 de la République`.
 */
export function readRepublican(cursor: Cursor): Piece | undefined {
  const start = cursor.peek();
  if (start === undefined) return undefined;
  const date = cursor.attempt(readDayAndMonth);
  const year = readYear(cursor, date !== undefined);
  if (year === undefined) return undefined;
  const fault = (reason: string, hint: string) =>
    dateError(cursor.source, start.at, (cursor.peek(-1)?.end ?? start.end) - start.at, reason, hint);
  const first = spanOf(year, date?.month, date?.day, fault);
  const last = date?.lastDay === undefined ? first : spanOf(year, date.month, date.lastDay, fault);
  if (last.from < first.from) throw fault('it ends before it begins', 'Put the earlier day first.');
  const span = { from: first.from, until: last.until };
  const precision = date === undefined ? 'year' : date.day === undefined ? 'month' : 'day';
  const isComplementary = date?.month === COMPLEMENTARY_MONTH;
  const days = [date?.day, date?.lastDay]
    .flatMap((day) => (day === undefined ? [] : [isComplementary ? ordinal(day) : String(day)]))
    .join('–');
  const name = date === undefined ? '' : `${days} ${monthText(date.month)} `.trimStart();
  return pieceOf(span, precision, { calendar: 'republican', label: `${name}an ${year}` });
}

const monthText = (month: number): string =>
  month === COMPLEMENTARY_MONTH ? 'complementary day' : (data.names[month - 1] ?? '').toLowerCase();

/** `lastDay` of `3–8 thermidor`. */
function readDayAndMonth(cursor: Cursor): { day?: number; lastDay?: number; month: number } | undefined {
  cursor.word('le', 'the', 'du');
  const festival = cursor.attempt(readFestival);
  if (festival !== undefined) return { day: festival, month: COMPLEMENTARY_MONTH };
  const day = cursor.attempt(readOrdinal);
  const lastDay =
    day && cursor.attempt(() => (cursor.sign('-') || cursor.word('au', 'to') ? readOrdinal(cursor) : undefined));
  cursor.word('de', 'of');
  const complementary = cursor.longest((words) => data.complementary.names.includes(words), 3);
  if (complementary !== undefined) {
    const counted = day ?? cursor.attempt(readOrdinal);
    return counted === undefined ? { month: COMPLEMENTARY_MONTH } : { day: counted, month: COMPLEMENTARY_MONTH };
  }
  const name = cursor.take((token) => token.kind === 'word' && data.months.some((names) => names.includes(token.text)));
  if (name === undefined) return undefined;
  const month = data.months.findIndex((names) => names.includes(name.text)) + 1;
  if (day === undefined) return { month };
  return lastDay === undefined ? { day, month } : { day, lastDay, month };
}

/** `jour de la Révolution`: the complementary days by their festivals. */
function readFestival(cursor: Cursor): number | undefined {
  if (!cursor.word('jour')) return undefined;
  cursor.word('de', 'du', 'des');
  cursor.word('la');
  const name = cursor.take(
    (token) => token.kind === 'word' && data.complementary.festivals.includes(token.text.replace(/^l'/, '')),
  );
  return name === undefined ? undefined : data.complementary.festivals.indexOf(name.text.replace(/^l'/, '')) + 1;
}

/** `an VIII`, `l'an 8`; after a Republican month the number may stand alone. */
function readYear(cursor: Cursor, afterMonth: boolean): number | undefined {
  cursor.sign(',');
  cursor.word('de');
  const an = cursor.word('an', "l'an", 'annee', "l'annee");
  if (an === undefined && !afterMonth) return undefined;
  const number = cursor.number((value) => value < 100);
  const word =
    number === undefined
      ? cursor.take((token) => token.kind === 'word' && romanValue(token.text) !== undefined)
      : undefined;
  const year = number === undefined ? word && romanValue(word.text) : Number(number.text);
  cursor.longest((words) => words === 'de la republique' || words === 'de la republique francaise', 4);
  return year;
}

function spanOf(
  year: number,
  month: number | undefined,
  day: number | undefined,
  fault: (reason: string, hint: string) => Error,
): Span {
  const [from, next] = [firstOf(year), firstOf(year + 1)];
  const lastDay = firstDay(data.lastDay);
  if (from === undefined) throw fault('the Republican calendar had the years I to XIV', 'Look at the year again.');
  const yearEnd = (next ?? lastDay + 1) as Day;
  if (month === undefined) return { from, until: yearEnd };
  const begins = from + 30 * (month - 1);
  const length = month === COMPLEMENTARY_MONTH ? yearEnd - begins : 30;
  if (day !== undefined && (day < 1 || day > length)) {
    throw fault(
      month === COMPLEMENTARY_MONTH
        ? `the year ${year} had ${length} complementary days`
        : 'Republican months had 30 days',
      'Look at the day again.',
    );
  }
  const span =
    day === undefined
      ? { from: begins as Day, until: (begins + length) as Day }
      : spanThrough((begins + day - 1) as Day, (begins + day - 1) as Day);
  if (span.from > lastDay)
    throw fault(`the calendar ended with 10 nivôse XIV, ${plainDay(lastDay)}`, 'Look at the year again.');
  return { from: span.from, until: Math.min(span.until, lastDay + 1) as Day };
}

const firstOf = (year: number): Day | undefined => {
  const date = data.yearStarts[year - 1];
  return date === undefined ? undefined : firstDay(date);
};

function firstDay(iso: string): Day {
  const [year = 0, month = 1, day = 1] = iso.split('-').map(Number);
  return gregorianDay(year, month, day);
}
