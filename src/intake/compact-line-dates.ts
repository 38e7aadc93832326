import { HeldbyError } from '../errors.ts';
import { toGregorian } from '../time/calendar.ts';
import { monthWords } from '../time/month-words.ts';
import { readDate } from '../time/read-date.ts';
import type { DateOptions } from '../time/reading-options.ts';
import { lastDay, type Span } from '../time/span.ts';

/** What a typist may shorten in a date, and what it is made of. */
export type DateHabits = {
  /** As at which days the edition stands: a year of two figures is the last such year that is not after it. */
  readonly asAt: Span;
  /** `5.16.1833`: the month stands first, as on American pages. */
  readonly monthFirst: boolean;
  /** How the dates are written, beside their words. */
  readonly dates?: DateOptions;
};

/** A date in a line: what it was made into, and the rest of the line with a tab in its place. */
export type FoundDate = { readonly text: string; readonly rest: string };

/** Two letters are enough for a month between day and year: `16my33`. */
const SHORT_MONTHS = ['ja', 'fe', 'mr', 'ap', 'my', 'jn', 'jl', 'au', 'se', 'oc', 'no', 'de'];
const MONTH_NAMES = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

const YEAR = String.raw`(?:\d{4}(?:/\d{1,2})?|['’]?\d{2})(?!\d)`;
const BEFORE = String.raw`(?<![\p{L}\p{N}])`;
const AFTER = String.raw`(?![\p{L}\p{N}])`;
const DOUBT = String.raw`(?:\s*[?~%](?![\p{L}\p{N}]))?`;
const LEAD = String.raw`(?:(?:circa|ca?|about|abt|before|after|by|from)\b\.?\s*)?`;

let patterns: readonly RegExp[] | undefined;

/**
 * 1. day, month, year, `16 May 1833`, `16my33`; 2. month, day, year, `May 16, 1833`; 3. numbers alone, `16.5.33`;
 * 4. ISO, `1833-05-16`; 5. day of the month of the paper or its neighbours, `12th ult.`
 */
function exactPatterns(): readonly RegExp[] {
  const names = [...monthWords().keys(), ...SHORT_MONTHS].sort((a, b) => b.length - a.length).join('|');
  const month = String.raw`(?<month>${names})\.?`;
  const day = String.raw`(?<day>\d{1,2})(?:st|nd|rd|th|d)?`;
  patterns ??= [
    String.raw`${BEFORE}${LEAD}${day}\.?(?:\s*of)?\s*${month}\s*,?\s*(?<year>${YEAR})${DOUBT}`,
    String.raw`${BEFORE}${LEAD}${month}\s*${day},?\s*(?<year>\d{4})${AFTER}${DOUBT}`,
    String.raw`${BEFORE}${LEAD}(?<first>\d{1,2})(?<sign>[./-])(?<second>\d{1,2})\k<sign>(?<year>${YEAR})${DOUBT}`,
    String.raw`${BEFORE}${LEAD}\d{4}-\d{2}-\d{2}${AFTER}${DOUBT}`,
    String.raw`${BEFORE}${LEAD}${day}\s*(?:of\s+)?(?:ulto?|ultimo|instt?|instant|curr?t|proxo?|proximo)${AFTER}\.?${DOUBT}`,
  ].map((source) => new RegExp(source, 'iu'));
  return patterns;
}

/** 1. month and year; 2. years, single or a range. */
const LOOSE: readonly RegExp[] = [
  new RegExp(String.raw`${BEFORE}${LEAD}(?<word>\p{L}{3,9})\.?,?\s+\d{4}${AFTER}${DOUBT}`, 'iu'),
  new RegExp(String.raw`${BEFORE}${LEAD}(?:1[4-9]|20)\d\d(?:[-–/]\d{1,4})?${AFTER}${DOUBT}`, 'iu'),
];

/** A date with its day in a line of words, wherever it stands. */
export function findDay(line: string, habits: DateHabits): FoundDate | undefined {
  for (const pattern of exactPatterns()) {
    const match = pattern.exec(line);
    if (!match) continue;
    const { day, month, year, first, second } = match.groups ?? {};
    const { words, rest } = cutOut(line, match);
    const numbers = habits.monthFirst ? [second, first] : [first, second];
    if (day !== undefined && month !== undefined) {
      const text = `${leadOf(words)}${Number(day)} ${monthWord(month)} ${fullYear(year ?? '', habits)}${doubtOf(words)}`;
      return { text: readable(isAsTyped(words, year, habits) ? tidy(words) : text, habits), rest };
    }
    if (numbers[0] !== undefined && numbers[1] !== undefined) {
      const month = MONTH_NAMES[Number(numbers[1]) - 1];
      if (month === undefined)
        throw new HeldbyError(
          'DATE',
          `“${tidy(words)}” has no month: dates in figures are read ${habits.monthFirst ? 'month' : 'day'} first.`,
          'Write the month as a word, or turn the numbers round.',
          tidy(words),
        );
      return {
        text: readable(
          `${leadOf(words)}${Number(numbers[0])} ${month} ${fullYear(year ?? '', habits)}${doubtOf(words)}`,
          habits,
        ),
        rest,
      };
    }
    return { text: readable(tidy(words), habits), rest };
  }
  return undefined;
}

/** A month or year in a line of words. */
export function findYear(line: string, habits: DateHabits): FoundDate | undefined {
  for (const pattern of LOOSE) {
    const match = pattern.exec(line);
    if (!match) continue;
    const word = match.groups?.['word'];
    // "J. March 1833" has a name there, not a month.
    if (
      word !== undefined &&
      (!monthWords().has(word.toLowerCase()) || /(?:^|\s)\p{L}\.?\s*$/u.test(line.slice(0, match.index)))
    )
      continue;
    const { words, rest } = cutOut(line, match);
    if (isDate(words, habits)) return { text: tidy(words), rest };
  }
  return undefined;
}

/** Whether words are a date and nothing else. A name may be one by chance (`May`), so a year has to be there. */
export function isDate(words: string, { dates }: DateHabits): boolean {
  if (!/\d{4}|\bM[DCLXVI]{3,}\b|\d.*\b(?:Geo|Will?|Vict?|Ch|Car|Jac|Eliz|Edw?|An[n]?e?)\b/i.test(words)) return false;
  try {
    readDate(words, dates);
    return true;
  } catch (error) {
    if (error instanceof HeldbyError) return false;
    throw error;
  }
}

const tidy = (text: string): string => text.replaceAll(/\s+/g, ' ').trim();

/** The words of a date, and the line with a tab in their place. */
function cutOut(line: string, match: RegExpExecArray): { words: string; rest: string } {
  const start = match.index + initialBefore(line, match).length;
  const end = match.index + match[0].length;
  return { words: line.slice(start, end), rest: `${line.slice(0, start)}\t${line.slice(end)}` };
}

/**
 * A c before a date that is no circa but a forename: 1. a capital behind a name, `Ferrand, P. C. 3 Nov. 1868`; 2. in a line
 * all in small letters, one behind another letter by itself, `ferrand p c 3no68`, or without its point before a day.
 */
function initialBefore(line: string, match: RegExpExecArray): string {
  const letter = /^c\b\.?\s*/i.exec(match[0])?.[0] ?? '';
  const before = line.slice(0, match.index);
  if (letter === '' || !/[\p{L}.,]\s*$/u.test(before)) return '';
  const isCapital = letter.startsWith('C');
  const isBehindInitial = /(?<!\p{L})\p{L}\.?\s*$/u.test(before);
  const isShortened = !/\p{Lu}/u.test(line);
  const isInitial = isCapital || (isShortened && (isBehindInitial || (!letter.includes('.') && match.groups?.['day'])));
  return isInitial ? letter : '';
}

const leadOf = (text: string): string => {
  const lead = /^(?:circa|ca?|about|abt|before|after|by|from)\b/i.exec(text)?.[0];
  return lead === undefined ? '' : `${lead.toLowerCase()}${/^ca?$/i.test(lead) ? '.' : ''} `;
};
const doubtOf = (text: string): string => /[?~%]\s*$/.exec(text)?.[0].trim() ?? '';

/** Four figures of the year, and a month that readers of dates know: it is kept as it was typed. */
const isAsTyped = (text: string, year: string | undefined, habits: DateHabits): boolean =>
  year !== undefined &&
  /^\d{4}/.test(year) &&
  /\d[a-z]*\.?(?:\s*of)?\s+\p{L}{3,}|^\p{L}{3,}\.?\s*\d/iu.test(text) &&
  isDate(text, habits);

/** A word that was typed in full or as an abbreviation stays; two letters become the name of the month. */
function monthWord(typed: string): string {
  const short = SHORT_MONTHS.indexOf(typed.toLowerCase());
  const number = monthWords().get(typed.toLowerCase());
  return MONTH_NAMES[short >= 0 ? short : (number ?? 1) - 1] ?? typed;
}

/** A date of rank that is older than this is sooner a slip of the fingers; judgement. */
const LONGEST_SERVICE_YEARS = 70;

/**
 * @throws HeldbyError DATE where the edition does not say by when a year of two figures must have been, and where it would
 * be so long ago that it is sooner a slip.
 */
function fullYear(typed: string, { asAt }: DateHabits): string {
  const figures = typed.replace(/['’]/, '');
  if (figures.length >= 4) return figures;
  const last = lastDay(asAt);
  if (!Number.isFinite(last))
    throw new HeldbyError('DATE', `The year “${typed}” is not written in full.`, 'Write its four figures.', typed);
  const { year } = toGregorian(last);
  const sameCentury = year - (year % 100) + Number(figures);
  const latest = sameCentury > year ? sameCentury - 100 : sameCentury;
  if (year - latest > LONGEST_SERVICE_YEARS)
    throw new HeldbyError(
      'DATE',
      `The year “${typed}” would be ${latest + 100}, after the edition, or ${latest}, long before it.`,
      'Look at it again, or write its four figures.',
      typed,
    );
  return String(latest);
}

/** @throws HeldbyError DATE for a day that is not in the calendar. */
function readable(text: string, { dates }: DateHabits): string {
  try {
    readDate(text, dates);
    return text;
  } catch (error) {
    if (!(error instanceof HeldbyError)) throw error;
    const { code, message, hint, where } = error;
    const printed = 'If the page has it so: the day meant, then what is printed, as 28 Feb. 1833 {31 Feb. 1833}';
    throw new HeldbyError(code, message, `${hint}\n${printed}`, where);
  }
}
