import { dayOf, daysInMonth, gregorianDay, monthName, type SolarCalendar, toCalendar } from './calendar.ts';
import type { Cursor } from './cursor.ts';
import { dateError } from './date-error.ts';
import { readOrdinal } from './ordinals.ts';
import { type Piece, pieceOf } from './piece.ts';
import { calendarAt, label, placeOf } from './places.ts';
import type { DateOptions } from './reading-options.ts';
import { type Day, spanThrough } from './span.ts';

const MONTHS_AWAY: Readonly<Record<string, number>> = {
  ult: -1,
  ulto: -1,
  ultimo: -1,
  inst: 0,
  instt: 0,
  instant: 0,
  curt: 0,
  currt: 0,
  current: 0,
  prox: 1,
  proxo: 1,
  proximo: 1,
};

/** The bull Inter gravissimas, 1582; Calendar (New Style) Act 1750, 24 Geo. 2 c. 23. */
const FIRST_NEW_STYLE = gregorianDay(1582, 10, 15);
const FIRST_ENGLISH_NEW_STYLE = gregorianDay(1752, 9, 14);

/**
 * `16th ult.`, `inst.`, `prox.`: a day of the month before that of the letter, of the same, or of the next.
 * @throws HeldbyError DATE without `options.reference`, the date of the letter.
 */
export function readLetterDay(cursor: Cursor, options: DateOptions): Piece | undefined {
  const start = cursor.peek();
  cursor.word('the', 'on');
  const day = readOrdinal(cursor);
  cursor.word('of');
  const word = cursor.take((token) => token.kind === 'word' && token.text in MONTHS_AWAY);
  if (start === undefined || day === undefined || word === undefined) return undefined;
  const fault = (reason: string, hint: string) => dateError(cursor.source, start.at, word.end - start.at, reason, hint);
  if (options.reference === undefined) {
    throw fault(
      'it counts from the date of the letter, which is not given',
      'Give the date of the letter (--reference DATE), or write the month and year.',
    );
  }
  const calendar = calendarOf(options.reference, options);
  if (calendar === undefined)
    throw fault(
      'the letter is of a time when two calendars were in use',
      'Say where it was written (--country) or in which calendar (--calendar), or write the date in full.',
    );
  const letter = toCalendar(options.reference, calendar);
  const count = letter.year * 12 + letter.month - 1 + (MONTHS_AWAY[word.text] ?? 0);
  const [year, month] = [Math.floor(count / 12), (((count % 12) + 12) % 12) + 1];
  if (day < 1 || day > daysInMonth(year, month, calendar)) {
    const hint = 'Look at the day, and at the date of the letter, again.';
    throw fault(`${monthName(month)} ${year} has ${daysInMonth(year, month, calendar)} days`, hint);
  }
  const found = dayOf(year, month, day, calendar);
  return pieceOf(spanThrough(found, found), 'day', { calendar, label: cursor.source.slice(start.at, word.end) });
}

/** The calendar in which a letter of that day counts; nothing where it can have been either. */
function calendarOf(letter: Day, { calendar, country }: DateOptions): SolarCalendar | undefined {
  if (calendar !== undefined) return calendar;
  if (country !== undefined) {
    const { year, month, day } = toCalendar(letter, 'julian');
    return calendarAt(placeOf(country), label(year, month, day)) === 'julian' ? 'julian' : 'gregorian';
  }
  if (letter >= FIRST_ENGLISH_NEW_STYLE) return 'gregorian';
  return letter < FIRST_NEW_STYLE ? 'julian' : undefined;
}
