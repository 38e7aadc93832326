import { gregorianDay } from './calendar.ts';
import type { Cursor } from './cursor.ts';
import { dateError } from './date-error.ts';
import { easterDay } from './easter.ts';
import data from './law-terms.json' with { type: 'json' };
import { type Piece, pieceOf } from './piece.ts';
import { type Day, spanThrough } from './span.ts';
import { readYear } from './written-date.ts';

type Bound = string | number;

/** `Hilary term 1834`: the term of the English law courts, first to last day. The universities kept other terms. */
export function readLawTerm(cursor: Cursor): Piece | undefined {
  const start = cursor.peek();
  cursor.word('in');
  const name = cursor.word(...Object.keys(data.fixed.terms));
  if (name === undefined || start === undefined || !cursor.word('term')) return undefined;
  cursor.sign(',');
  const year = readYear(cursor)?.year;
  if (year === undefined) return undefined;
  const times = [data.fixed, data.movable].find(({ firstYear, lastYear }) => year >= firstYear && year <= lastYear);
  if (times === undefined) {
    const range = `${data.movable.firstYear} to ${data.fixed.lastYear}`;
    throw dateError(
      cursor.source,
      start.at,
      name.end - start.at,
      `the days of law terms are known for ${range}`,
      'Write the months or days.',
    );
  }
  const terms: Record<string, readonly Bound[]> = times.terms;
  const [first, last] = (terms[name.text] ?? []).map((bound) => dayOfBound(bound, year));
  if (first === undefined || last === undefined) return undefined;
  const title = name.text.charAt(0).toUpperCase() + name.text.slice(1);
  return pieceOf(spanThrough(first, last), 'month', { label: `${title} law term ${year}` });
}

/** A month and day, or a number of days from Easter Day. */
function dayOfBound(bound: Bound, year: number): Day {
  if (typeof bound === 'number') return (easterDay(year, 'gregorian') + bound) as Day;
  const [month = 1, day = 1] = bound.split('-').map(Number);
  return gregorianDay(year, month, day);
}
