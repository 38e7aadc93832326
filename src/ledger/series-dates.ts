import { dateOptionsOf } from '../time/given-options.ts';
import type { DateOptions } from '../time/reading-options.ts';
import type { Day } from '../time/span.ts';
import type { Db } from './open.ts';

type Said = { readonly country: string | null; readonly year_begins: string | null };
type SaidOfEdition = Said & { readonly from_day: Day | null; readonly until_day: Day | null };

/** A paper of one month says with its own date which month `ult.`, `inst.` and `prox.` are. */
const LONGEST_MONTH = 31;

/** How a list writes its dates. */
export function datesOfSeries(db: Db, series: number): DateOptions {
  const said = db.prepare('SELECT country, year_begins FROM current_series WHERE id = ?').get(series) as
    | Said
    | undefined;
  return said === undefined ? {} : options(said);
}

/** How an edition writes its dates: as its list does, with the day as at which it stands for `ult.` and its like. */
export function datesOfEdition(db: Db, edition: number): DateOptions {
  const said = db
    .prepare(
      `SELECT s.country, s.year_begins, d.from_day, d.until_day FROM current_edition AS e
        JOIN current_series AS s ON s.id = e.series_id JOIN date_expression AS d ON d.id = e.as_at_id WHERE e.id = ?`,
    )
    .get(edition) as SaidOfEdition | undefined;
  if (said === undefined) return {};
  const { from_day: from, until_day: until } = said;
  const isOfOneMonth = from !== null && until !== null && until - from <= LONGEST_MONTH;
  return { ...options(said), ...(isOfOneMonth ? { reference: from } : {}) };
}

const options = ({ country, year_begins: yearBegins }: Said): DateOptions =>
  dateOptionsOf({ ...(country === null ? {} : { country }), ...(yearBegins === null ? {} : { yearBegins }) });

/**
 * What is said of one act or date stands before what its list does: a country brings its own first day of the year, and
 * a calendar settles that too.
 */
export function nearer(list: DateOptions, said: DateOptions): DateOptions {
  const { yearBegins, ...others } = list;
  const isSettled = said.country !== undefined || said.calendar !== undefined;
  return { ...(isSettled || yearBegins === undefined ? others : list), ...said };
}
