import { foldName } from '../../names/pattern.ts';
import { toGregorian } from '../../time/calendar.ts';
import { daysIn, type Span } from '../../time/span.ts';
import { type AppointmentKind, isSuccessive } from '../evidence.ts';
import { type Bound, boundEntries } from './bindings.ts';
import { type CodedEditions, codeEditions } from './coded-editions.ts';
import type { LinkageInput, ListEntry } from './entries.ts';
import { inOrderOfTime } from './line-order.ts';
import { Numbered, once } from './numbered.ts';
import { suffixNumbers } from './suffix.ts';

/** Entries as columns of numbers, in the order of time. -1 stands for nothing. */
export type Coded = {
  readonly count: number;
  readonly source: readonly ListEntry[];
  /** For each coded entry its place in `source`. */
  readonly place: Int32Array;
  /** Place of the edition in the order of time. */
  readonly step: Int32Array;
  readonly surname: Int32Array;
  readonly forenames: Int32Array;
  readonly suffix: Int32Array;
  readonly rank: Int32Array;
  readonly corps: Int32Array;
  readonly dated: Int32Array;
  readonly seniority: Int32Array;
  /** 0 substantive, on half-pay or retired; the kinds that are held beside it each have a lane of their own. */
  readonly lane: Uint8Array;
  readonly owner: Int32Array;
  readonly marked: Int32Array;
  readonly bound: Bound;
  /** The distinct values behind the numbers. */
  readonly surnames: readonly string[];
  readonly forenameTexts: readonly string[];
  readonly suffixCount: number;
  readonly ranks: RankColumns;
  readonly corpsCount: number;
  readonly dates: DateColumns;
  readonly editions: CodedEditions;
};

export type RankColumns = {
  /** Place on the ladder; NaN where there is none. */
  readonly order: Float64Array;
  readonly service: Int32Array;
};

export type DateColumns = {
  readonly spans: readonly Span[];
  /** Year, month and day of a date that is one day, packed as year * 512 + month * 32 + day; -1 for any other. */
  readonly parts: Int32Array;
};

export const LANES: readonly AppointmentKind[] = ['substantive', 'brevet', 'staff', 'local', 'temporary', 'acting'];

const laneOf = (kind: AppointmentKind): number => (isSuccessive(kind) ? 0 : LANES.indexOf(kind));

export function codeEntries(input: LinkageInput): Coded {
  const { entries } = input;
  const editions = codeEditions(input.editions);
  const place = inOrderOfTime(entries, editions.stepOf);
  const ordered = (at: number): ListEntry => entries[place[at] as number] as ListEntry;
  const column = (of: (entry: ListEntry) => number): Int32Array =>
    Int32Array.from(place, (from) => of(entries[from] as ListEntry));
  const [surnames, forenames, ranks, corps, dates] = [
    new Numbered(),
    new Numbered(),
    new Numbered(),
    new Numbered(),
    new Numbered(),
  ];
  const surnameNumber = once((text) => surnames.of(foldName(text)));
  const forenameNumber = once((text) => forenames.of(text.normalize('NFC').trim()));
  const suffixes = suffixNumbers();
  const rank = column((entry) => (entry.rank ? ranks.of(`${entry.rank.service}\n${entry.rank.id}`) : -1));
  const dated = column(({ dated: given }) => (given ? dates.of(`${given.span.from} ${given.span.until}`) : -1));
  const bound = boundEntries(entries, input.bindings);
  return {
    count: entries.length,
    source: entries,
    place,
    step: column(({ edition }) => editions.stepOf[edition] as number),
    surname: column((entry) => surnameNumber(entry.surname)),
    forenames: column((entry) => forenameNumber(entry.forenames)),
    suffix: column((entry) => (entry.suffix === undefined ? 0 : suffixes.of(entry.suffix))),
    rank,
    corps: column((entry) => (entry.corps ? corps.of(entry.corps.key) : -1)),
    dated,
    seniority: column((entry) => entry.seniority ?? -1),
    lane: Uint8Array.from(place, (from) => laneOf((entries[from] as ListEntry).kind)),
    owner: place.map((from) => bound.owner[from] as number),
    marked: place.map((from) => bound.marked[from] as number),
    bound,
    surnames: surnames.texts,
    forenameTexts: forenames.texts,
    suffixCount: suffixes.count(),
    ranks: rankColumns(rank, ranks.texts.length, ordered),
    corpsCount: corps.texts.length,
    dates: dateColumns(dated, dates.texts.length, ordered),
    editions,
  };
}

function rankColumns(rank: Int32Array, count: number, entryAt: (at: number) => ListEntry): RankColumns {
  const services = new Numbered();
  const order = new Float64Array(count).fill(Number.NaN);
  const service = new Int32Array(count);
  for (const [at, number] of rank.entries()) {
    const given = number < 0 ? undefined : entryAt(at).rank;
    if (given === undefined) continue;
    order[number] = given.order ?? Number.NaN;
    service[number] = services.of(given.service);
  }
  return { order, service };
}

function dateColumns(dated: Int32Array, count: number, entryAt: (at: number) => ListEntry): DateColumns {
  const spans: Span[] = new Array(count);
  for (const [at, number] of dated.entries()) {
    if (number < 0 || spans[number] !== undefined) continue;
    const given = entryAt(at).dated;
    if (given !== undefined) spans[number] = given.span;
  }
  return { spans, parts: Int32Array.from(spans, partsOf) };
}

function partsOf(span: Span): number {
  if (daysIn(span) !== 1) return -1;
  const { year, month, day } = toGregorian(span.from);
  return year * 512 + month * 32 + day;
}
