import { type ExportedRecord, fieldNames } from '../inquiry/export.ts';
import { type CsvCell, csvLine } from './csv.ts';
import { safeJson } from './safe-text.ts';

/** One record as a line of JSON: `type` and `key` first, then its fields. */
export const jsonLine = ({ type, key, fields }: ExportedRecord): string => `${safeJson({ type, key, ...fields })}\n`;

/** Records of one kind as CSV under one line of headings. A list in a cell is parted by semicolons. */
export function* csvLines(
  type: ExportedRecord['type'],
  records: Iterable<ExportedRecord>,
  safe: boolean,
): Iterable<string> {
  const names = fieldNames(type);
  yield csvLine(['key', ...names], safe);
  for (const { key, fields } of records) yield csvLine([key, ...names.map((name) => csvCell(fields[name]))], safe);
}

const ENTRY_COLUMNS = ['person', 'name', 'surname', 'forenames', 'rank', 'corps', 'dated', 'page', 'kind', 'note'];

/**
 * Entries in the columns that a list is imported by, so that the file can be read again: the edition stands by its
 * series, label and day. `records` holds the series and editions before the entries.
 */
export function* entryCsvLines(records: Iterable<ExportedRecord>, safe: boolean): Iterable<string> {
  yield csvLine(['key', 'series', 'edition', 'as_at', ...ENTRY_COLUMNS], safe);
  const series = new Map<string, string>();
  const editions = new Map<string, readonly CsvCell[]>();
  for (const { type, key, fields } of records) {
    if (type === 'series') series.set(key, String(fields['name']));
    else if (type === 'edition')
      editions.set(key, [series.get(String(fields['series'])), String(fields['label']), String(fields['asAt'])]);
    else if (type === 'entry')
      yield csvLine(
        [
          key,
          ...(editions.get(String(fields['edition'])) ?? [null, null, null]),
          ...ENTRY_COLUMNS.map((name) => csvCell(fields[name])),
        ],
        safe,
      );
  }
}

const csvCell = (value: unknown): CsvCell =>
  Array.isArray(value) ? value.join('; ') : (value as string | number | null | undefined);
