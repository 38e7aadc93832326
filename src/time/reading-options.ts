import type { SolarCalendar } from './calendar.ts';
import type { Day } from './span.ts';

/** What the reader of a date knows beside its words. */
export type DateOptions = {
  /** The calendar of every day, month and year, ISO dates too, the year from 1 January: it settles every doubt. */
  readonly calendar?: SolarCalendar;
  /** The day from which the source counts its years, where it is not the place's own or not known from it. */
  readonly yearBegins?: '1 January' | '25 March';
  /** Where the source was written, as `england`, `scotland`, `france`: its calendar, year and order of day and month. */
  readonly country?: string;
  /** The date of the letter or paper that speaks of `ult.`, `inst.` and `prox.` */
  readonly reference?: Day;
};
