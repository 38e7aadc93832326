import type { SolarCalendar } from './calendar.ts';
import type { Day } from './span.ts';

/** What the reader of a date knows beside its words. */
export type DateOptions = {
  /** The calendar of written-out days, months and years; it settles every doubt about style. */
  readonly calendar?: SolarCalendar;
  /** The date of the letter or paper that speaks of `ult.`, `inst.` and `prox.` */
  readonly reference?: Day;
};
