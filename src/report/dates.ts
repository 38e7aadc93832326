import type { Days } from '../inquiry/made.ts';
import type { SaidDate } from '../inquiry/report-dates.ts';
import { filled, type PhraseName } from './phrases.ts';
import type { Style } from './style.ts';

/** A day of an answer in its parts. */
type CalendarDay = { readonly year: number; readonly month: number; readonly day: number };

/** 14 September 1752, the first Gregorian day in Britain: a day before it needs its style beside it. */
const STYLE_STATED_BEFORE = '1752-09-14';
/** Years that print as four figures; others stay as the answer writes them. */
const PLAIN_YEAR = /^[1-9]\d{3}-/;

const parts = (day: string): CalendarDay => {
  const [year, month, last] = day.split('-').map(Number);
  return { year: year ?? 0, month: month ?? 1, day: last ?? 1 };
};

const LONG_MONTHS = [1, 3, 5, 7, 8, 10, 12];
const daysInMonth = ({ year, month }: CalendarDay): number => {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return LONG_MONTHS.includes(month) ? 31 : 30;
};

/** An end of a span, no finer than it must be. */
type End = { readonly at: string; readonly precision: 'year' | 'month' | 'day' } & CalendarDay;

const begins = (at: string): End => {
  const { year, month, day } = parts(at);
  return { at, year, month, day, precision: day !== 1 ? 'day' : month !== 1 ? 'month' : 'year' };
};
const closes = (at: string): End => {
  const found = parts(at);
  const last = found.day === daysInMonth(found);
  return { at, ...found, precision: !last ? 'day' : found.month !== 12 ? 'month' : 'year' };
};

/** Dates and spans in the words of a house. */
export type DateWords = ReturnType<typeof dateWords>;

export function dateWords({ phrases, dates, circa }: Pick<Style, 'phrases' | 'dates' | 'circa'>) {
  const say = (name: PhraseName, values: Readonly<Record<string, string>>): string => filled(phrases[name], values);
  const month = (number: number): string => phrases[`month.${number}` as PhraseName];

  /** `16 May 1834`; before 14 September 1752 the day is the Gregorian one, and says so. */
  const day = (at: string): string => {
    if (!PLAIN_YEAR.test(at) || dates === 'iso') return at;
    const { year, month: number, day: ofMonth } = parts(at);
    const text = say(`date.${dates}`, {
      day: String(ofMonth),
      month: month(number),
      number: String(number),
      year: String(year),
    });
    return at < STYLE_STATED_BEFORE ? say('date.new-style', { date: text }) : text;
  };
  const monthYear = ({ year, month: number }: CalendarDay): string =>
    say('date.month-year', { month: month(number), year: String(year) });
  const end = (given: End): string =>
    given.precision === 'day' ? day(given.at) : given.precision === 'month' ? monthYear(given) : String(given.year);

  const ordinal = (number: number): string => {
    const last = number % 100 >= 11 && number % 100 <= 13 ? 0 : number % 10;
    const name = last >= 1 && last <= 3 ? (`date.ordinal.${last}` as PhraseName) : 'date.ordinal.other';
    return say(name, { number: String(number) });
  };

  const closed = (from: string, to: string): string => {
    if (from === to) return day(from);
    const [first, last] = [begins(from), closes(to)];
    const whole = first.precision !== 'day' && last.precision !== 'day';
    if (whole && first.precision === 'year' && last.precision === 'year') {
      const years = last.year - first.year + 1;
      if (years === 1) return String(first.year);
      if (years === 10 && first.year % 10 === 0) return say('date.decade', { year: String(first.year) });
      if (years === 100 && first.year % 100 === 0)
        return say('date.century', { number: ordinal(first.year / 100 + 1) });
      const sameCentury = Math.floor(first.year / 100) === Math.floor(last.year / 100);
      return say('span.days', {
        first: String(first.year),
        last: sameCentury ? String(last.year).slice(-2) : String(last.year),
      });
    }
    if (whole && first.year === last.year) {
      if (first.month === last.month) return monthYear(first);
      return say('span.days', { first: month(first.month), last: monthYear(last) });
    }
    return say('span.between', { first: end(first), last: end(last) });
  };

  /** The shortest true wording of a span: `1834–36`, `May 1834`, `before 1835`, `between … and …`. */
  const span = ({ from, to }: Days): string => {
    if (from === null && to === null) return phrases['span.any'];
    const plain = [from, to].every((at) => at === null || PLAIN_YEAR.test(at));
    if (!plain) return `${from ?? '..'}/${to ?? '..'}`;
    if (from === null) {
      const last = closes(to ?? '');
      return last.precision === 'year'
        ? say('span.before', { date: String(last.year + 1) })
        : say('span.until', { date: end(last) });
    }
    if (to === null) {
      const first = begins(from);
      return first.precision === 'year'
        ? say('span.after', { date: String(first.year - 1) })
        : say('span.from', { date: end(first) });
    }
    return closed(from, to);
  };

  return {
    day,
    span,
    /** The same by whole years, because a reckoned day is no finding. */
    years: ({ from, to }: Days): string =>
      span({
        from: from === null ? null : `${from.slice(0, -5)}01-01`,
        to: to === null ? null : `${to.slice(0, -5)}12-31`,
      }),
    /** Both days of a span: `3 May 1834 – 8 February 1839`. */
    days: ({ from, to }: Days): string => {
      if (from === null && to === null) return phrases['span.any'];
      if (from === null) return say('span.until', { date: day(to ?? '') });
      if (to === null) return say('span.from', { date: day(from) });
      return from === to ? day(from) : say('span.within', { first: day(from), last: day(to) });
    },
    /** A date as it was recorded, in the house's form: `c. 1834`, `1812`, `16 May 1834`. */
    said: (date: SaidDate): string => {
      const text = date.approximate ? say('date.circa', { circa, date: span(date) }) : span(date);
      return date.uncertain ? say('date.uncertain', { date: text }) : text;
    },
    circa: (year: number): string => say('date.circa', { circa, date: String(year) }),
  };
}
