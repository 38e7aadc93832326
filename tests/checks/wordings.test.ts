import { expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { refuseLooseSigns } from '../../src/names/loose-signs.ts';
import { readMark } from '../../src/names/mark-parts.ts';
import { readName } from '../../src/names/name.ts';
import { shippedLadder } from '../../src/services/ladder.ts';
import { type RankReading, readRank } from '../../src/services/read-rank.ts';
import { isoDay } from '../../src/time/calendar.ts';
import { readDate } from '../../src/time/read-date.ts';
import { type Day, lastDay } from '../../src/time/span.ts';
import wordings from './data/wordings.json' with { type: 'json' };

/**
 * Several hundred wordings as they stand in lists, gazettes, letters, catalogues, registers and on things, with what each
 * comes to, or how it is refused. See `source` in the data.
 */

type Asked = { calendar?: 'julian'; country?: string; yearBegins?: '25 March'; reference?: string };
const day = (at: number): string => (Number.isFinite(at) ? isoDay(at as Day) : 'open');

/** What an act comes to; of a refusal, how it says that the thing is to be written. */
function outcome<T>(act: () => T): T | string {
  try {
    return act();
  } catch (error) {
    if (error instanceof HeldbyError) return `refused: ${error.hint}`;
    throw error;
  }
}

const dates = wordings.dates as [text: string, wanted: string, asked?: Asked][];
test.each(dates.map(([text, wanted, asked]) => ({ text, wanted, asked })))('a date: $text', (row) => {
  const { reference, ...others } = row.asked ?? {};
  const options = { ...others, ...(reference === undefined ? {} : { reference: readDate(reference).span.from }) };
  const found = outcome(() => {
    const { span } = readDate(row.text, options);
    return `${day(span.from)}/${day(lastDay(span))}`;
  });
  expect(found).toBe(row.wanted);
});

const ladders = ['army', 'navy', 'marines', 'company', 'militia', 'civil', 'clergy'].flatMap(
  (service) => shippedLadder(service) ?? [],
);
const marks = wordings.marks as [text: string, wanted: Record<string, string> | string][];
test.each(marks)('words on a thing: %s', (text, wanted) => {
  const found = outcome(() => {
    refuseLooseSigns(text);
    const { rank, rest, forenames, surname, service, corps, place } = readMark(text, {
      ladders,
      knownPlaces: ['Oakhaven'],
    });
    return {
      rank: rank && [...new Set(rank.ranks.map(({ title }) => title))].join(' or '),
      ...{ forenames, surname, service, corps, place },
      rest: rest.length > 0 ? rest.join(' · ') : undefined,
    };
  });
  expect(found).toEqual(wanted);
});

function inShort(reading: RankReading): string {
  if (reading.kind === 'unknown') return `unknown: ${reading.nearest.join(', ')}`;
  if (reading.kind === 'found')
    return [reading.rank.title, reading.appointment, ...reading.status].filter((part) => part !== undefined).join(', ');
  const titles = reading.ranks.map(({ title }) => title).join(', ');
  return `${reading.decides === 'several' ? 'several' : 'ambiguous'}: ${titles}`;
}

const ranks = wordings.ranks as [service: string, text: string, wanted: string][];
test.each(ranks)('a rank in a list of 1834, %s: %s', (service, text, wanted) => {
  const ladder = shippedLadder(service);
  expect(ladder && inShort(readRank(text, ladder, { column: true, span: readDate('1834').span }))).toBe(wanted);
});

const names = wordings.names as [text: string, surname: string, forenames: string, titles: string, suffix?: string][];
test.each(names)('a name: %s', (text, surname, forenames, titles, suffix) => {
  const name = readName(text);
  expect({ ...name, forenames: name.forenames.join(' '), titles: name.titles.join(', ') }).toEqual({
    printed: text,
    surname,
    forenames,
    titles,
    suffix,
  });
});

test('there are wordings enough', () => {
  expect(dates.length).toBeGreaterThan(200);
  expect(marks.length).toBeGreaterThan(80);
  expect(ranks.length).toBeGreaterThan(50);
  expect(names.length).toBeGreaterThan(40);
});
