import { DAYS_PER_YEAR } from '../assumptions.ts';
import { toGregorian } from '../time/calendar.ts';
import { saidDate } from './claims.ts';
import type { CareerEvidence, DateEvidence, ListedEntry, Notice, RecordId } from './evidence.ts';
import { isConcurrent } from './posts.ts';
import { compareIds } from './record-order.ts';

/**
 * What a slip of the printer, or of whoever took a line down, would explain.
 * 1. `rank`: the line has another rank than its neighbours, with their date of rank, or between two that agree.
 * 2. `dated`: it has the post of a neighbour and another date of rank.
 * 3. `corps`: one line in another corps, between two that agree.
 * 4. `edition`: it reads like lines of other years, or stands alone long after, or before, all others.
 * 5. `search`: somebody was not found in an edition that lists them.
 * 6. `leaving`: somebody is listed on who is said to have left, or to have died.
 * 7. `notice`: a notice gives the day and month of the lists in another year.
 *
 * 1, 2 and 7 are told of what is set aside only. The others need contradict nothing, and may be true. Common practice.
 */
export type SlipKind = 'rank' | 'dated' | 'corps' | 'edition' | 'search' | 'leaving' | 'notice';

export type Slip = {
  readonly kind: SlipKind;
  readonly id: RecordId;
  readonly says: string;
  /** The records that it does not agree with. */
  readonly beside: readonly RecordId[];
  /** What would make the line read like the others. */
  readonly correction: { readonly field: 'rank' | 'corps' | 'dated'; readonly value: string } | undefined;
};

/** A line that stands further from all others than this, and than thrice the largest gap among them, stands alone. */
const ALONE_DAYS = 4 * DAYS_PER_YEAR;
/** Fewer lines than this show no custom from which one departs. */
const LEAST_LINES = 4;

/** @param aside the claims that are set aside, as `id part`. */
export function slipsOf(evidence: CareerEvidence, aside: ReadonlySet<string>): Slip[] {
  const lines = linesInOrder(evidence);
  return [
    ...lines.flatMap((series) => series.flatMap((line) => slipOfLine(line, series, aside) ?? [])),
    ...missedSearches(evidence),
    ...listedOn(evidence, lines.flat()),
    ...noticesOfAnotherYear(evidence, lines.flat(), aside),
  ];
}

/** The lines of each list that say which post somebody was in, in the order of time. */
export function linesInOrder({ entries, setAside }: CareerEvidence): ListedEntry[][] {
  const series = new Map<string, ListedEntry[]>();
  for (const entry of entries) {
    if (isConcurrent(entry) || setAside.has(entry.id) || setAside.has(entry.edition.id)) continue;
    const list = `${entry.edition.series} ${entry.rank.service}`;
    series.set(list, [...(series.get(list) ?? []), entry]);
  }
  return [...series.values()].map((list) => list.sort((a, b) => dayOf(a) - dayOf(b) || compareIds(a.id, b.id)));
}

/** The lines of the nearest edition before and after, if there are any. */
export const neighbours = (line: ListedEntry, series: readonly ListedEntry[]): ListedEntry[] => [
  ...series.filter((other) => dayOf(other) < dayOf(line)).slice(-1),
  ...series.filter((other) => dayOf(other) > dayOf(line)).slice(0, 1),
];

const dayOf = ({ edition }: ListedEntry): number => edition.asAt.span.from;

const sameRank = (a: ListedEntry, b: ListedEntry): boolean => a.rank.id === b.rank.id;
const sameCorps = (a: ListedEntry, b: ListedEntry): boolean => a.corps?.key === b.corps?.key;
const sameDay = (a: DateEvidence, b: DateEvidence): boolean =>
  a.span.from === b.span.from && a.span.until === b.span.until;
const sameDate = (a: ListedEntry, b: ListedEntry): boolean =>
  a.dated !== undefined && b.dated !== undefined && sameDay(a.dated, b.dated);
const otherDate = (a: ListedEntry, b: ListedEntry): boolean =>
  a.dated !== undefined && b.dated !== undefined && !sameDay(a.dated, b.dated);
const samePost = (a: ListedEntry, b: ListedEntry): boolean => sameRank(a, b) && sameCorps(a, b);

/** Whether two lines say the same but for the name. */
export const saysTheSame = (a: ListedEntry, b: ListedEntry): boolean =>
  samePost(a, b) && (a.dated === undefined ? b.dated === undefined : sameDate(a, b));

const named = (lines: readonly ListedEntry[]): string => {
  const more = lines.length > MOST_NAMED ? ` and ${lines.length - MOST_NAMED} more` : '';
  return `${lines
    .slice(0, MOST_NAMED)
    .map(({ id }) => id)
    .join(', ')}${more}`;
};

function slipOfLine(line: ListedEntry, series: readonly ListedEntry[], aside: ReadonlySet<string>): Slip | undefined {
  const near = neighbours(line, series);
  const [before, after] = near;
  const label = `edition ${line.edition.label}`;
  const slip = (
    kind: SlipKind,
    says: string,
    beside: readonly ListedEntry[],
    correction?: Slip['correction'],
  ): Slip => ({
    kind,
    id: line.id,
    says,
    beside: beside.map(({ id }) => id),
    correction,
  });
  const isAside = aside.has(`${line.id} listed`);
  if (isAside) {
    const dated = near.filter((other) => sameCorps(line, other) && !sameRank(line, other) && sameDate(line, other));
    const [like] = dated;
    if (like !== undefined)
      return slip(
        'rank',
        `${label} has ${line.rank.title}, but with the date of rank of the ${like.rank.title} beside it (${named(dated)})`,
        dated,
        { field: 'rank', value: like.rank.title },
      );
    const alike = series.filter((other) => other !== line && samePost(line, other) && sameDate(line, other));
    if (alike.length > 0 && !alike.some((other) => near.includes(other)))
      return slip(
        'edition',
        `the line of ${label} reads like those of ${editions(alike)} (${named(alike)}): it may have been taken down under the wrong edition`,
        alike,
      );
    if (before && after && samePost(before, after) && sameCorps(line, before) && !sameRank(line, before))
      return slip(
        'rank',
        `${label} has ${line.rank.title} between two that have ${before.rank.title} (${named(near)})`,
        near,
        { field: 'rank', value: before.rank.title },
      );
  }
  if (!isAside && aside.has(`${line.id} dated`)) {
    const like = near.filter((other) => samePost(line, other) && otherDate(line, other));
    const [first] = like;
    if (first?.dated !== undefined && line.dated !== undefined)
      return slip(
        'dated',
        `${label} has ${saidDate(line.dated)} for the date of rank, the ${like.length > 1 ? 'editions' : 'edition'} beside it ${saidDate(first.dated)} (${named(like)})${howApart(line.dated, first.dated)}`,
        like,
        { field: 'dated', value: saidDate(first.dated) },
      );
  }
  if (before?.corps && after && sameCorps(before, after) && line.corps && !sameCorps(line, before)) {
    if (near.some((other) => sameRank(line, other) && !otherDate(line, other)))
      return slip(
        'corps',
        `${label} alone has the ${bare(line.corps.name)}, those before and after it the ${bare(before.corps.name)} (${named(near)}): an exchange and back, or a slip`,
        near,
        { field: 'corps', value: before.corps.name },
      );
  }
  return standsAlone(line, series)
    ? slip(
        'edition',
        `the line of ${label} stands alone, ${apart(line, near)} from the nearest other (${named(near)}): it may have been taken down under the wrong edition, or be another’s`,
        near,
      )
    : undefined;
}

/** Records named in a sentence. */
const MOST_NAMED = 6;

const bare = (corps: string): string => corps.replace(/^the /i, '');

const editions = (lines: readonly ListedEntry[]): string => {
  const labels = lines.map(({ edition }) => edition.label);
  return labels.length === 1 ? `edition ${labels[0]}` : `editions ${labels[0]} to ${labels.at(-1)}`;
};

/** Whether the first or last line lies further from the others than their custom makes likely. */
function standsAlone(line: ListedEntry, series: readonly ListedEntry[]): boolean {
  if (series.length < LEAST_LINES || (line !== series[0] && line !== series.at(-1))) return false;
  const gaps = series.slice(1).map((other, at) => dayOf(other) - dayOf(series[at] as ListedEntry));
  const own = line === series[0] ? gaps.shift() : gaps.pop();
  return own !== undefined && own > ALONE_DAYS && own > 3 * Math.max(...gaps);
}

const apart = (line: ListedEntry, [near]: readonly ListedEntry[]): string =>
  `${Math.round(Math.abs(dayOf(line) - (near === undefined ? 0 : dayOf(near))) / DAYS_PER_YEAR)} years`;

/** In what two days differ, where that is one thing only. */
function howApart(a: DateEvidence, b: DateEvidence): string {
  const [one, other] = [a, b].flatMap(({ span }) => (span.until === span.from + 1 ? [toGregorian(span.from)] : []));
  if (one === undefined || other === undefined) return '';
  const differ = (['year', 'month', 'day'] as const).filter((part) => one[part] !== other[part]);
  return differ.length === 1 ? `: only the ${differ[0]} differs` : '';
}

/** Searches that found nobody in an edition in which there is a line. */
const missedSearches = ({ entries, nilSearches, setAside }: CareerEvidence): Slip[] =>
  nilSearches.flatMap(({ id, edition }) => {
    const lines = entries.filter((entry) => entry.edition.id === edition.id && !setAside.has(entry.id));
    if (lines.length === 0 || setAside.has(id)) return [];
    const says = `edition ${edition.label} lists the name (${named(lines)}), though ${id} did not find it: the search missed the line, or the line is another’s`;
    return [{ kind: 'search' as const, id, says, beside: lines.map((line) => line.id), correction: undefined }];
  });

const LEAVING: readonly Notice['event'][] = ['retired', 'resigned', 'dismissed'];

/** Notices of leaving, and dates of death, after which lists go on. */
function listedOn({ notices, died, setAside }: CareerEvidence, lines: readonly ListedEntry[]): Slip[] {
  const deaths = [...(died === undefined ? [] : [died]), ...notices.filter(({ event }) => event === 'died')];
  const ends = [
    ...deaths.map((each) => ({ ...each, what: 'died' })),
    ...notices.flatMap((each) => (LEAVING.includes(each.event) ? [{ ...each, what: each.event }] : [])),
  ];
  return ends.flatMap(({ id, what, date }) => {
    const later = lines.filter((line) => dayOf(line) - line.edition.lagDays >= date.span.until);
    const isDeath = what === 'died';
    if (
      setAside.has(id) ||
      !Number.isFinite(date.span.from) ||
      later.length < (isDeath ? LATE_LINES : 1) ||
      later.length === lines.length
    )
      return [];
    const why = isDeath
      ? 'the date may be wrong, or of another of the name'
      : 'the lists printed the name on, the notice is another’s, or there was a new appointment';
    const says = `${what} ${saidDate(date)} (${id}), but listed on in ${editions(later)} (${named(later)}): ${why}`;
    return [{ kind: 'leaving' as const, id, says, beside: later.map((line) => line.id), correction: undefined }];
  });
}

/** Lists print a name on for a year at times, seldom for two. */
const LATE_LINES = 2;

/** Appointments told for the day and month that the lists have, of another year. */
function noticesOfAnotherYear(
  { notices }: CareerEvidence,
  lines: readonly ListedEntry[],
  aside: ReadonlySet<string>,
): Slip[] {
  return notices.flatMap(({ id, date, rank }) => {
    if (!aside.has(`${id} start`)) return [];
    const like = lines.find((line) => line.rank.id === rank?.id && line.dated && howApart(date, line.dated) !== '');
    if (like?.dated === undefined) return [];
    const says = `${id} has ${saidDate(date)}, the lists ${saidDate(like.dated)} (${like.id})${howApart(date, like.dated)}`;
    return [{ kind: 'notice' as const, id, says, beside: [like.id], correction: undefined }];
  });
}
