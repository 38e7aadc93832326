import type { ExportedRecord } from '../inquiry/export.ts';
import { type SaidDate, saidDate } from '../inquiry/report-dates.ts';

/** An item of CSL-JSON 1.0.2. @see the schema csl-data.json of the Citation Style Language (read as a stored file). */
export type CslItem = Readonly<Record<string, unknown>>;

/**
 * Everything that is cited: each issue of a list, and each source that a notice, a feature, a condition or a fact names
 * in words, once. `records` holds series before editions.
 */
export function* cslItems(records: Iterable<ExportedRecord>): Iterable<CslItem> {
  const series = new Map<string, string>();
  const told = new Set<string>();
  for (const record of records) {
    const { type, key, fields } = record;
    if (type === 'series') series.set(key, String(fields['name']));
    else if (type === 'edition') yield edition(record, series.get(String(fields['series'])) ?? '');
    else if (typeof fields['source'] === 'string' && !told.has(fields['source'])) {
      told.add(fields['source']);
      yield { id: key, type: 'document', title: fields['source'] };
    }
  }
}

function edition({ key, fields }: ExportedRecord, series: string): CslItem {
  const asAt = saidDate(fields['asAt']);
  const said = (field: string, name: string): CslItem =>
    typeof fields[field] === 'string' ? { [name]: fields[field] } : {};
  return {
    id: key,
    type: 'periodical',
    title: series,
    issue: String(fields['label']),
    ...(asAt === null ? {} : { issued: cslDate(asAt) }),
    ...said('source', 'note'),
    ...said('copy', 'archive'),
    ...said('shelfmark', 'call-number'),
    custom: { 'as-at': String(fields['asAt']) },
  };
}

/** One day, month or year, or the first and the last of a span; a date open on a side stands as it was written. */
function cslDate({ text, from, to, approximate }: SaidDate): CslItem {
  if (from === null || to === null) return { literal: text };
  const parts = (day: string): number[] => day.split('-').map(Number);
  const [first, last] = [parts(from), parts(to)];
  const wholeYear = from.endsWith('-01-01') && to.endsWith('-12-31');
  const dates =
    from === to
      ? [first]
      : !wholeYear
        ? [first, last]
        : first[0] === last[0]
          ? [first.slice(0, 1)]
          : [first.slice(0, 1), last.slice(0, 1)];
  return { 'date-parts': dates, ...(approximate ? { circa: true } : {}) };
}
