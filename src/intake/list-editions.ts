import { HeldbyError } from '../errors.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { editionNamed, type SeriesRow, seriesNamed, seriesWithWords } from '../ledger/list-lookups.ts';
import type { Recording } from '../ledger/recording.ts';
import { addRecord } from '../ledger/records.ts';
import { datesOfSeries, nearer } from '../ledger/series-dates.ts';
import { shippedLadder, shippedServices } from '../services/ladder.ts';
import { readRank } from '../services/read-rank.ts';
import type { Day } from '../time/span.ts';
import type { CodedList } from './coded-list.ts';
import { missing } from './list-column.ts';
import type { ListFaults } from './list-faults.ts';

export type ListOptions = {
  readonly series?: string | undefined;
  readonly service?: string | undefined;
  /** Lines that one thing alone tells from a recorded one are left out, not only told. */
  readonly leaveDiffering?: boolean | undefined;
};

export type Editions = {
  ids: Int32Array;
  asAt: Map<number, { from: Day; until: Day }>;
  service: Map<number, string>;
  withEntries: Set<number>;
  made: number;
};

/** Editions by series, label and day; unknown ones are made. */
export function editionsOf(
  into: Recording,
  list: CodedList,
  options: ListOptions,
  faults: ListFaults,
  notes: string[],
): Editions {
  const { series: seriesCodes, edition: editionCodes, as_at: asAtCodes } = list.codes;
  if (!editionCodes) throw missing(list, 'edition', 'edition');
  if (!seriesCodes && options.series === undefined) throw missing(list, 'series', 'series (or name it with --series)');
  if (seriesCodes && options.series !== undefined)
    notes.push(`The file names its series itself: --series ${options.series} is not used.`);
  const found: Editions = {
    ids: new Int32Array(list.count),
    asAt: new Map(),
    service: new Map(),
    withEntries: new Set(),
    made: 0,
  };
  const bySeries = new Map<string, SeriesRow>();
  const byCodes = new Map<string, number>();
  const keyOf = (row: number): string =>
    `${seriesCodes ? seriesCodes[row] : -1} ${editionCodes[row]} ${asAtCodes ? asAtCodes[row] : -1}`;
  let last = [-2, -2, -2, 0];
  for (let row = 0; row < list.count; row += 1) {
    const series = seriesCodes ? (seriesCodes[row] as number) : -1;
    const edition = editionCodes[row] as number;
    const asAt = asAtCodes ? (asAtCodes[row] as number) : -1;
    if (series !== last[0] || edition !== last[1] || asAt !== last[2]) {
      const signature = keyOf(row);
      let id = byCodes.get(signature);
      if (id === undefined) {
        id = faults.at(
          list.lines[row] as number,
          edition < 0 ? 'edition' : seriesCodes && series < 0 ? 'series' : 'as_at',
          () => {
            if (edition < 0)
              throw new HeldbyError('VALUE', 'The edition is not given.', 'Give the edition of every row.');
            const seriesName = series >= 0 ? (list.values.series?.text(series) ?? '') : (options.series ?? '');
            if (seriesName === '')
              throw new HeldbyError(
                'VALUE',
                'The series is not given.',
                'Give the series of every row, or name it with --series.',
              );
            const known = bySeries.get(seriesName) ?? seriesFor(into, list, seriesName, options, notes);
            bySeries.set(seriesName, known);
            return editionFor(
              into,
              list,
              known,
              list.values.edition?.text(edition) ?? '',
              asAt >= 0 ? list.values.as_at?.text(asAt) : undefined,
              found,
              notes,
            );
          },
          { keyOf, key: signature },
        );
        byCodes.set(signature, id ?? 0);
      }
      last = [series, edition, asAt, id ?? 0];
    }
    found.ids[row] = last[3] as number;
  }
  return found;
}

function seriesFor(into: Recording, list: CodedList, name: string, options: ListOptions, notes: string[]): SeriesRow {
  const known = seriesNamed(into.db, name);
  if (known) return known;
  const service = options.service ?? guessedService(list) ?? name;
  const id = Number(addRecord(into, kindNamed('series'), { name, service }).slice(kindNamed('series').prefix.length));
  notes.push(
    `Made the series "${name}" in the service ${service}${options.service === undefined ? ' (taken from its ranks; say another with --service)' : ''}.`,
  );
  const alike = seriesWithWords(into.db, name).filter((each) => each.id !== id);
  const [first] = alike;
  if (first !== undefined)
    notes.push(
      `Recorded already: ${alike.map((each) => `"${each.name}" s${each.id}`).join(', ')}. If that is meant: heldby undo, then --series s${first.id}.`,
    );
  return { id, service };
}

/** The shipped service whose ladder knows most of the ranks of the file, the first of several; none that knows none. */
function guessedService({ values }: CodedList): string | undefined {
  const ranks = values.rank;
  if (!ranks) return undefined;
  const texts = Array.from({ length: ranks.size }, (_, code) => ranks.text(code));
  const known = shippedServices().map((service) => {
    const ladder = shippedLadder(service);
    const count = ladder
      ? texts.filter((text) => readRank(text, ladder, { column: true }).kind !== 'unknown').length
      : 0;
    return { service, count };
  });
  const best = known.reduce((a, b) => (b.count > a.count ? b : a), { service: '', count: 0 });
  return best.count === 0 ? undefined : best.service;
}

function editionFor(
  into: Recording,
  list: CodedList,
  series: SeriesRow,
  label: string,
  asAt: string | undefined,
  found: Editions,
  notes: string[],
): number {
  const known = editionNamed(into.db, series.id, label);
  if (known) {
    if (asAt !== undefined) {
      const given = into.words.date(asAt, null, nearer(datesOfSeries(into.db, series.id), into.dates));
      if (given.from !== known.asAt.from || given.until !== known.asAt.until) {
        throw new HeldbyError(
          'CONFLICT',
          `Edition ${label} is recorded as at another day than "${asAt}".`,
          `Mend the file, or the record: heldby amend ed${known.id} asAt "${asAt}" --why …`,
        );
      }
    }
    if (known.hasEntries) found.withEntries.add(known.id);
    found.asAt.set(known.id, known.asAt);
    found.service.set(known.id, series.service);
    return known.id;
  }
  if (asAt === undefined && list.codes.as_at)
    throw new HeldbyError(
      'VALUE',
      `Edition ${label} is new, and the row has no as_at.`,
      'Say as at which day the edition stands.',
    );
  if (asAt === undefined)
    notes.push(`Edition ${label} is taken to stand as at ${label}: the file has no as_at column.`);
  const id = Number(
    addRecord({ ...into, asListsWrite: true }, kindNamed('edition'), {
      series: `s${series.id}`,
      label,
      asAt: asAt ?? label,
    }).slice(kindNamed('edition').prefix.length),
  );
  const span = into.words.date(asAt ?? label, null, nearer(datesOfSeries(into.db, series.id), into.dates));
  found.asAt.set(id, span);
  found.service.set(id, series.service);
  found.made += 1;
  return id;
}
