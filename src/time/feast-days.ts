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
  /** Two feasts bear the name; where `scottish`, the second is meant in Scotland and the first elsewhere. */
  readonly either?: { readonly of: readonly string[]; readonly reason: string; readonly scottish?: boolean };
  dayIn(calendar: SolarCalendar, year: number): Day;
};

const SUNDAY = 6;

let byName: Map<string, Feast> | undefined;

/** Names folded, `saint` as `st`, hyphens as spaces, no possessive s: `St Michael's` is `st michael`. */
export const feastNames = (): ReadonlyMap<string, Feast> => {
  byName ??= allFeasts();
  return byName;
};

export const feastKey = (words: string): string =>
  foldedText(words)
    .replaceAll('saint ', 'st ')
    .replaceAll('-', ' ')
    .replaceAll(/'s?(?= |$)/g, '');

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
  for (const { names, days } of data.afterFeasts) {
    const [feast, wanted] = [found.get(feastKey(days.after)), days.weekday];
    if (feast !== undefined)
      add(names, { dayIn: (calendar, year) => weekdayFrom(feast.dayIn(calendar, year), wanted, 1) });
  }
  for (const { names, ...either } of data.either) {
    const first = found.get(feastKey(either.of[0] ?? ''));
    if (first !== undefined) add(names, { dayIn: first.dayIn, either });
  }
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
