import { HeldbyError } from '../errors.ts';
import { readDate } from './read-date.ts';
import type { DateOptions } from './reading-options.ts';

/** What somebody says of how dates are written, in words; see `DateOptions`. */
export type GivenDateOptions = {
  readonly calendar?: string;
  readonly country?: string;
  readonly yearBegins?: string;
  readonly reference?: string;
};

/** The days from which a source may count its years. */
export const YEAR_BEGINNINGS = ['1 January', '25 March'] as const;

export const GIVEN_DATE_OPTIONS = ['calendar', 'country', 'yearBegins', 'reference'] as const;

/** @throws HeldbyError VALUE for a calendar or first day of the year that is not known; DATE for the reference. */
export function dateOptionsOf({ calendar, country, yearBegins, reference }: GivenDateOptions): DateOptions {
  const alone: DateOptions = {
    ...(calendar === undefined ? {} : { calendar: calendarNamed(calendar) }),
    ...(country === undefined ? {} : { country }),
    ...(yearBegins === undefined ? {} : { yearBegins: firstOfYear(yearBegins) }),
  };
  return reference === undefined ? alone : { ...alone, reference: readDate(reference, alone).span.from };
}

function calendarNamed(text: string): 'gregorian' | 'julian' {
  if (text === 'gregorian' || text === 'julian') return text;
  throw new HeldbyError('VALUE', `There is no calendar "${text}" here.`, 'It is gregorian or julian.', 'calendar');
}

function firstOfYear(text: string): (typeof YEAR_BEGINNINGS)[number] {
  const known = YEAR_BEGINNINGS.find((each) => each === text);
  if (known !== undefined) return known;
  throw new HeldbyError(
    'VALUE',
    `No year is known here that begins on ${text}.`,
    'It is "1 January" or "25 March".',
    'yearBegins',
  );
}
