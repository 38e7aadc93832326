import type { AppointmentKind, DateEvidence } from '../../../src/careers/evidence.ts';
import type { LinkageInput, ListEdition, ListEntry } from '../../../src/careers/linkage/entries.ts';
import type { Linkage } from '../../../src/careers/linkage/linkage.ts';
import { gregorianDay } from '../../../src/time/calendar.ts';
import type { Day } from '../../../src/time/span.ts';

const RANKS = ['Ensign', 'Lieutenant', 'Captain', 'Major', 'Colonel'];

/** A line: the year of its list, the name as `Surname, Forenames, suffix`, rank, corps and date of rank, all as printed. */
export type Line = {
  readonly id: string;
  readonly year: number;
  readonly name: string;
  readonly rank?: string;
  readonly corps?: string;
  readonly dated?: string;
  readonly kind?: AppointmentKind;
  readonly seniority?: number;
  readonly person?: string;
  /** Which of several series of the service; the first is `a`. */
  readonly series?: string;
};

export const isoDate = (text: string): DateEvidence => {
  const [year = 0, month, day] = text.split('-').map(Number);
  const from = gregorianDay(year, month ?? 1, day ?? 1);
  const until =
    day === undefined
      ? gregorianDay(month === undefined ? year + 1 : year, month === undefined ? 1 : month + 1, 1)
      : from + 1;
  return { span: { from, until: until as Day }, uncertain: false, text };
};

export function editionOf(year: number, series = 'a', service = 'coast'): ListEdition {
  const from = gregorianDay(year, 1, 1);
  return {
    id: `d-${series}-${year}`,
    label: `${year}${series === 'a' ? '' : series}`,
    service,
    asAt: { from, until: (from + 1) as Day },
    lagDays: 0,
    whole: true,
  };
}

/** A ledger of these lines, with an edition for each year from the first to the last. */
export function listed(lines: readonly Line[], more: Partial<LinkageInput> = {}): LinkageInput {
  const years = lines.map(({ year }) => year);
  const editions: ListEdition[] = [];
  const places = new Map<string, number>();
  for (const series of new Set(['a', ...lines.map((line) => line.series ?? 'a')]))
    for (let year = Math.min(...years); year <= Math.max(...years); year++) {
      if (series !== 'a' && !lines.some((line) => line.series === series && line.year === year)) continue;
      places.set(`${series} ${year}`, editions.length);
      editions.push(editionOf(year, series));
    }
  const entries = lines.map((line) => entryOf(line, places.get(`${line.series ?? 'a'} ${line.year}`) ?? 0));
  return { editions, entries, sweeps: [], lives: [], bindings: [], minimumAgeYears: 10, certainShare: 0.95, ...more };
}

export function entryOf(line: Line, edition: number): ListEntry {
  const [surname = '', forenames = '', suffix] = line.name.split(', ');
  const { id, rank, corps, dated, kind = 'substantive', seniority, person } = line;
  return {
    id,
    edition,
    surname,
    forenames,
    suffix,
    rank:
      rank === undefined
        ? undefined
        : { id: rank.toLowerCase(), title: rank, order: RANKS.indexOf(rank), service: 'coast' },
    corps: corps === undefined ? undefined : { key: corps.toLowerCase(), name: corps },
    kind,
    dated: dated === undefined ? undefined : isoDate(dated),
    seniority,
    person,
  };
}

/** The same man listed in each of these years. */
export const yearly = (id: string, from: number, to: number, line: Omit<Line, 'id' | 'year'>): Line[] =>
  Array.from({ length: to - from + 1 }, (_, at) => ({ ...line, id: `${id}${from + at}`, year: from + at }));

/** Whether all these entries are of one person. */
export function areOne({ people }: Linkage, ...ids: string[]): boolean {
  const of = (id: string): number => people.findIndex(({ entries }) => entries.includes(id));
  return ids.every((id) => of(id) === of(ids[0] ?? ''));
}

/** The people as sets of ids, in an order of their own. */
export const partition = ({ people }: Linkage): string[] =>
  people.map(({ entries }) => [...entries].sort().join(' ')).sort();
