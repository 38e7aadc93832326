import { toCalendar } from './calendar.ts';
import type { Cursor } from './cursor.ts';
import { anyOf, dateError, severalReadings } from './date-error.ts';
import { ABOUT_FEASTS, type Feast, feastKey, feastNames, weekdayFrom } from './feast-days.ts';
import { readOrdinal } from './ordinals.ts';
import { type Piece, pieceOf } from './piece.ts';
import type { DateOptions } from './reading-options.ts';
import { type Day, spanThrough } from './span.ts';
import { type NamedDay, settle } from './style.ts';
import { readStyle, readWeekday, readYear } from './written-date.ts';

const SUNDAY = 6;

/**
 * A day named by the church year, the quarter or the Scottish terms:
 * 1. fixed and movable feasts, quarter and cross-quarter days: `Michaelmas 1834`, `Easter Monday, 1834`,
 *    `the feast of St John Baptist 1834`;
 * 2. days beside them: `eve of`, `Michaelmas Eve`, `morrow of`, `octave of`; `Monday after Easter 1834`,
 *    `3rd Sunday after Trinity 1834`, `2nd Sunday in Lent 1834`;
 * 3. the old quarter days after 1752: `Old Lady Day 1760`.
 * A feast has a day in either calendar, so that its style may have to be written; see `settle`.
 */
export function readFeast(cursor: Cursor, options: DateOptions): Piece | undefined {
  const start = cursor.peek();
  cursor.word('at', 'on');
  cursor.word('the');
  const shift = cursor.attempt(readShift);
  cursor.word('the');
  if (cursor.words(['in', 'festo']) || cursor.words(['festo']))
    cursor.word('s', 'sancti', 'sanctae', 'beati', 'beatae');
  cursor.words(['feast', 'of']);
  cursor.word('the');
  const found = cursor.longest((words) => feastNames().has(feastKey(words)), 7);
  const feast = found === undefined ? undefined : feastNames().get(feastKey(found));
  if (feast === undefined || start === undefined) return undefined;
  const feastDay = cursor.peek(-1);
  cursor.word('day');
  const eve = cursor.word('eve') === undefined ? 0 : -1;
  const end = cursor.peek(-1)?.end ?? start.end;
  cursor.sign(',');
  const year = readYear(cursor);
  const style = readStyle(cursor);
  if (year === undefined || feastDay === undefined) return undefined;
  const name = cursor.source.slice(start.at, end);
  const moved = (day: Day): Day => ((shift?.(day) ?? day) + eve) as Day;
  const kept = meantFeast(feast, options, cursor, year.year);
  const named: NamedDay = {
    ...year,
    ...(style !== undefined ? { style } : kept.newStyleFrom !== undefined ? { style: 'gregorian' } : {}),
    at: start.at,
    length: end - start.at,
    dateIn: (calendar, inYear) => toCalendar(moved(kept.dayIn(calendar, inYear)), calendar),
    wording: (inYear, inStyle) => `${name} ${inYear}${inStyle}`,
  };
  if (kept.newStyleFrom !== undefined && year.year < kept.newStyleFrom) {
    throw dateError(
      cursor.source,
      start.at,
      named.length,
      `${kept.name} was kept from ${kept.newStyleFrom} on`,
      'Leave “Old” out and write O.S. after the year.',
    );
  }
  const { day, calendar } = settle(named, cursor.source, options);
  return pieceOf(spanThrough(day, day), 'day', { calendar, label: name });
}

/** Whitsunday is a feast in England and a term day in Scotland; St John's Day is the one or the other St John's. */
function meantFeast({ either, ...feast }: Feast, { country }: DateOptions, cursor: Cursor, year: number): Feast {
  if (either === undefined) return feast;
  const [first, second] = either.of.map((name) => feastNames().get(feastKey(name)));
  if (first === undefined || second === undefined) return feast;
  if (either.scottish === true && country !== undefined) return feastKey(country) === 'scotland' ? second : first;
  const wordings = either.of.map((name) => `${name} ${year}`);
  throw severalReadings(cursor.source, either.reason, `Write ${anyOf(wordings)}.`);
}

type Shift = (day: Day) => Day;

function readShift(cursor: Cursor): Shift | undefined {
  const beside = ABOUT_FEASTS.find(({ words }) => cursor.words(words));
  if (beside !== undefined) return (day) => (day + beside.days) as Day;
  const count = readOrdinal(cursor) ?? 1;
  const weekday = readWeekday(cursor);
  if (weekday === undefined) return undefined;
  if (weekday === SUNDAY && cursor.word('in')) return (day) => (day + 7 * (count - 1)) as Day; // in Lent, in Advent
  cursor.word('next');
  if (cursor.word('after')) return (day) => weekdayFrom(day, weekday, count);
  if (cursor.word('before')) return (day) => weekdayFrom(day, weekday, -count);
  return undefined;
}
