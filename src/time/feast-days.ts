import { dayOf, type SolarCalendar, weekday } from './calendar.ts';
import { easterDay } from './easter.ts';
import data from './feasts.json' with { type: 'json' };
import type { Day } from './span.ts';
import { foldedText } from './tokens.ts';

/** A feast or term day: its day in a calendar and a year from 1 January. */
export type Feast = {
  readonly name: string;
  /** Kept by New Style days only, from this year on: the old quarter days. */
  readonly newStyleFrom?: number;
  /** Two feasts bear the name; the second is meant in Scotland. */
  readonly either?: readonly [feast: string, termDay: string];
  dayIn(calendar: SolarCalendar, year: number): Day;
};

const SUNDAY = 6;

let byName: Map<string, Feast> | undefined;

/** Names folded, `saint` as `st`, hyphens as spaces. */
export const feastNames = (): ReadonlyMap<string, Feast> => {
  byName ??= allFeasts();
  return byName;
};

export const feastKey = (words: string): string => foldedText(words).replaceAll('saint ', 'st ').replaceAll('-', ' ');

function allFeasts(): Map<string, Feast> {
  const found = new Map<string, Feast>();
  const add = (names: readonly string[], feast: Omit<Feast, 'name'>) => {
    for (const name of names) found.set(feastKey(name), { ...feast, name: names[0] ?? name });
  };
  for (const { names, date, easter } of data.feasts) {
    if (date !== undefined) add(names, { dayIn: (calendar, year) => onDate(date, calendar, year) });
    else add(names, { dayIn: (calendar, year) => (easterDay(year, calendar) + (easter ?? 0)) as Day });
  }
  add(data.advent.names, { dayIn: adventSunday });
  for (const { names, before1800, from1800 } of data.old.days) {
    const changes = before1800.startsWith('01') ? 1801 : 1800; // no leap day in February 1800
    const dayIn = (_: SolarCalendar, year: number) => onDate(year < changes ? before1800 : from1800, 'gregorian', year);
    add(names, { dayIn, newStyleFrom: data.old.firstYear });
  }
  const { names, feast, termDay } = data.eitherWhitsunday;
  const whit = found.get(feastKey(feast));
  if (whit !== undefined) add(names, { dayIn: whit.dayIn, either: [feast, termDay] });
  return found;
}

function onDate(date: string, calendar: SolarCalendar, year: number): Day {
  const [month = 1, day = 1] = date.split('-').map(Number);
  return dayOf(year, month, day, calendar);
}

/** The Sunday nearest to 30 November: the last on or before 3 December. */
function adventSunday(calendar: SolarCalendar, year: number): Day {
  const latest = dayOf(year, 12, 3, calendar);
  return (latest - ((weekday(latest) - SUNDAY + 7) % 7)) as Day;
}

/** The so-manieth such day of the week after a day, or before it (negative count); never the day itself. */
export function weekdayFrom(day: Day, wanted: number, count: number): Day {
  const ahead = (wanted - weekday(day) + 7) % 7 || 7;
  const behind = (weekday(day) - wanted + 7) % 7 || 7;
  return (count > 0 ? day + ahead + 7 * (count - 1) : day - behind + 7 * (count + 1)) as Day;
}

/** `eve of`, `octave of` and their like, in days. */
export const ABOUT_FEASTS: readonly { readonly words: readonly string[]; readonly days: number }[] = data.about;
