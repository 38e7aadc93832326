import { isDate, monthName } from './calendar.ts';
import type { Cursor } from './cursor.ts';
import { anyOf, dateError, severalReadings } from './date-error.ts';
import { ordinal, readOrdinal } from './ordinals.ts';
import { daysInWords } from './phrase.ts';
import { type Piece, pieceOf } from './piece.ts';
import { allReigns, englishDay, type Reign } from './regnal-years.ts';
import { romanValue } from './roman.ts';
import { type Day, intersection, type Span, spanThrough } from './span.ts';
import { dayAndMonth } from './written-date.ts';

const REIGN: readonly (readonly string[])[] = [['reign', 'of'], ['temp'], ['tempore'], ['time', 'of']];

/** `reign of George III`, `temp. Car. II`: from the accession to the last day. */
export function readReign(cursor: Cursor): Piece | undefined {
  cursor.word('in', 'during');
  cursor.word('the');
  if (!REIGN.some((phrase) => cursor.words(phrase))) return undefined;
  const named = readSovereign(cursor);
  if (named === undefined) return undefined;
  const reign = onlyOne(
    named,
    cursor,
    (one) => `reign of ${one.sovereign}`,
    (one) => one.span,
  );
  return pieceOf(reign.span, 'year', { calendar: 'regnal', label: `reign of ${reign.sovereign}` });
}

/**
 * Regnal years, as Acts and deeds cite them:
 * 1. one year: `9 Geo. III`, `9th year of George III`, `ix Geo. 3`; a chapter after it (`c. 23`) is passed over;
 * 2. a session over two years: `4 & 5 Will. IV`, `60 Geo. III & 1 Geo. IV`, from the first day of the first to the
 *    last of the second;
 * 3. a day: `25 Oct. 9 Geo. III`;
 * 4. the part of it that lies in a calendar year: `1 Will. IV, 1830`, `11 Geo. IV (1830)`.
 * A name that several sovereigns bore needs its number, unless only one of them reached that year.
 */
export function readRegnal(cursor: Cursor): Piece | undefined {
  const date = cursor.attempt(dayAndMonth);
  if (date !== undefined) cursor.sign(',');
  cursor.word('in');
  cursor.word('the');
  cursor.words(['anno', 'regni']);
  const first = readCount(cursor);
  if (first === undefined) return undefined;
  const next = cursor.attempt(() => (readJoint(cursor) ? readCount(cursor) : undefined));
  const at = cursor.peek()?.at ?? 0;
  const named = readSovereign(cursor);
  if (named === undefined) return undefined;
  const fault = { at, length: (cursor.peek(-1)?.end ?? at) - at };
  const counts = next === undefined ? [first] : [first, next];
  const reign = reignWith(named, counts, cursor, fault);
  const one = regnalYears(reign, counts, cursor, fault);
  const two = cursor.attempt(() => secondReign(cursor));
  if (two !== undefined && two.span.from > one.span.until) {
    throw dateError(
      cursor.source,
      fault.at,
      fault.length,
      'these regnal years do not follow each other',
      'Look at the citation again.',
    );
  }
  passChapter(cursor);
  const span = two === undefined ? one.span : { from: one.span.from, until: two.span.until };
  const label = two === undefined ? one.label : `${one.label} and ${two.label}`;
  if (date === undefined) return withinYear(cursor, span, label);
  return dayWithin(span, date, label, cursor, fault);
}

type Fault = { readonly at: number; readonly length: number };

const readJoint = (cursor: Cursor) => cursor.sign('&', '-') ?? cursor.word('and', 'to');

function readCount(cursor: Cursor): number | undefined {
  const count = readOrdinal(cursor);
  if (count === undefined) return undefined;
  cursor.attempt(() => cursor.word('year', 'yr', 'anno'));
  cursor.words(['of', 'the', 'reign', 'of']) || cursor.word('of');
  return count;
}

function secondReign(cursor: Cursor): { span: Span; label: string } | undefined {
  if (!readJoint(cursor)) return undefined;
  const count = readCount(cursor);
  const at = cursor.peek()?.at ?? 0;
  const named = count === undefined ? undefined : readSovereign(cursor);
  if (count === undefined || named === undefined) return undefined;
  const fault = { at, length: (cursor.peek(-1)?.end ?? at) - at };
  return regnalYears(reignWith(named, [count], cursor, fault), [count], cursor, fault);
}

function passChapter(cursor: Cursor): void {
  cursor.attempt(() => {
    cursor.sign(',');
    if (!cursor.word('c', 'cap', 'ch', 'chap')) return undefined;
    cursor.sign('.');
    return readOrdinal(cursor);
  });
}

/** Every sovereign that the name, with its number if it has one, can mean. */
function readSovereign(cursor: Cursor): readonly Reign[] | undefined {
  return cursor.attempt(() => {
    cursor.word('king', 'queen', 'k', 'q', 'regis', 'reginae');
    const joint = allReigns().find((reign) => reign.pairs.some(([a = '', b = '']) => pairOf(cursor, a, b)));
    if (joint !== undefined) return [joint];
    const name = cursor.take(
      (token) => token.kind === 'word' && allReigns().some((reign) => reign.names.includes(token.text)),
    );
    if (name === undefined) return undefined;
    cursor.sign(':', '.');
    const number = cursor.attempt(readNumber);
    if (number === undefined && name.text.length === 1 && (name.text !== 'v' || cursor.peek()?.kind === 'number'))
      return undefined;
    cursor.attempt(() => cursor.word('regis', 'reginae', 'reg'));
    const bearers = allReigns().filter((reign) => reign.names.includes(name.text));
    return bearers.filter((reign) => number === undefined || reign.number === number);
  });
}

function pairOf(cursor: Cursor, a: string, b: string): boolean {
  return (
    cursor.attempt(() =>
      cursor.words([a]) && (cursor.sign('&') ?? cursor.word('and')) && cursor.words([b]) ? true : undefined,
    ) ?? false
  );
}

function readNumber(cursor: Cursor): number | undefined {
  cursor.word('the');
  const token = cursor.peek();
  const roman = token?.kind === 'word' ? romanValue(token.text) : undefined;
  const number = roman !== undefined && roman > 20 ? undefined : readOrdinal(cursor);
  return number !== undefined && number <= 20 ? number : undefined;
}

function reignWith(named: readonly Reign[], counts: readonly number[], cursor: Cursor, fault: Fault): Reign {
  const reached = named.filter((reign) => counts.every((count) => count >= reign.firstYear && count <= reign.lastYear));
  if (reached.length > 0) {
    const wording = (one: Reign) => `${counts.join(' & ')} ${one.sovereign}`;
    return onlyOne(reached, cursor, wording, (one) => one.year(counts[0] ?? 1));
  }
  const spans = named.map((one) => `${one.sovereign} years ${one.firstYear} to ${one.lastYear}`);
  const hint = named.length === 0 ? 'Look at the number of the sovereign again.' : `Counted were: ${spans.join('; ')}.`;
  throw dateError(cursor.source, fault.at, fault.length, 'there was no such regnal year', hint);
}

function onlyOne(
  named: readonly Reign[],
  cursor: Cursor,
  wording: (one: Reign) => string,
  days: (one: Reign) => Span,
): Reign {
  const [only, other] = named;
  if (only === undefined) {
    throw dateError(
      cursor.source,
      0,
      cursor.source.length,
      'no such sovereign is known',
      'Known are Elizabeth I to Charles III.',
    );
  }
  if (other === undefined) return only;
  const readings = named.map((one) => `“${wording(one)}” is ${daysInWords(days(one))}`);
  throw severalReadings(cursor.source, readings.join(', '), `Write ${anyOf(named.map(wording))}.`, named.length);
}

function regnalYears(
  reign: Reign,
  counts: readonly number[],
  cursor: Cursor,
  fault: Fault,
): { span: Span; label: string } {
  const [first = 1, second = first] = counts;
  if (second !== first && second !== first + 1) {
    throw dateError(
      cursor.source,
      fault.at,
      fault.length,
      'a session runs over two years that follow each other',
      `Write ${first} & ${first + 1}.`,
    );
  }
  const span = { from: reign.year(first).from, until: reign.year(second).until };
  const years =
    second === first ? `${ordinal(first)} regnal year` : `${ordinal(first)} and ${ordinal(second)} regnal years`;
  return { span, label: `${years} of ${reign.sovereign}` };
}

/** The days of a regnal year that lie in the calendar year behind it, if there is one. */
function withinYear(cursor: Cursor, span: Span, label: string): Piece | undefined {
  const at = cursor.peek()?.at ?? 0;
  const year = cursor.attempt(() => {
    const bracket = cursor.sign('(', ',') ?? cursor.word('in');
    const found = cursor.number((_, token) => token.text.length === 4);
    if (found === undefined || (bracket?.text === '(' && cursor.sign(')') === undefined)) return undefined;
    return cursor.done ? Number(found.text) : undefined;
  });
  if (year === undefined) return pieceOf(span, 'year', { calendar: 'regnal', label });
  const days = intersection(span, { from: englishDay(year, 1, 1), until: englishDay(year + 1, 1, 1) });
  if (days !== undefined) return pieceOf(days, 'day', { calendar: 'regnal', label: `${label} in ${year}` });
  const { source } = cursor;
  throw dateError(
    source,
    at,
    source.length - at,
    `no day of the ${label} was in ${year}`,
    `It ran: ${daysInWords(span)}.`,
  );
}

/** The day of that name within the regnal year; a year across the change of calendar may have two. */
function dayWithin(
  span: Span,
  { day, month }: { day: number; month: number },
  label: string,
  cursor: Cursor,
  fault: Fault,
): Piece {
  const found = new Set<Day>();
  const first = Math.floor(span.from / 365.25) - 4713;
  for (let year = first; year <= first + 5; year++) {
    const calendar = year < 1752 || (year === 1752 && month * 100 + day <= 902) ? 'julian' : 'gregorian';
    if (!isDate(year, month, day, calendar)) continue;
    const candidate = englishDay(year, month, day);
    if (candidate >= span.from && candidate < span.until) found.add(candidate);
  }
  const days = [...found];
  const [only, other] = days;
  const name = `${day} ${monthName(month)}`;
  if (only === undefined) {
    throw dateError(
      cursor.source,
      fault.at,
      fault.length,
      `there was no ${name} in the ${label}`,
      `It ran: ${daysInWords(span)}.`,
    );
  }
  if (other !== undefined) {
    throw severalReadings(
      cursor.source,
      `the ${label} had two days called ${name}`,
      `Write ${anyOf(days.map((one) => daysInWords(spanThrough(one, one))))}.`,
    );
  }
  return pieceOf(spanThrough(only, only), 'day', { calendar: 'regnal', label: `${name} in the ${label}` });
}
