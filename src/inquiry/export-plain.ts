import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import type { PlainTable, PlainValue } from '../ledger/plain-database.ts';
import { exportedRecords, exportOrder, fieldNames } from './export.ts';
import { saidDate } from './report-dates.ts';

/**
 * Every kind as one table: the key, each field as it was recorded (a reference as the key of what it refers to), and
 * beside each date its first and last day.
 */
export function* plainTables(db: Db): Iterable<PlainTable> {
  for (const type of exportOrder()) {
    const dates = kindNamed(type).fields.flatMap((field) => (field.type === 'date' ? [field.name] : []));
    const names = fieldNames(type);
    yield {
      name: type,
      columns: ['key', ...names, ...dates.flatMap((name) => [`${name}_from`, `${name}_to`])],
      rows: rowsOf(db, type, names, dates),
    };
  }
}

function* rowsOf(
  db: Db,
  type: Parameters<typeof fieldNames>[0],
  names: readonly string[],
  dates: readonly string[],
): Iterable<readonly PlainValue[]> {
  const known = new Map<string, readonly [string | null, string | null]>();
  const daysOf = (text: unknown): readonly [string | null, string | null] => {
    if (typeof text !== 'string') return [null, null];
    const days = known.get(text) ?? endsOf(text);
    known.set(text, days);
    return days;
  };
  for (const { type: found, key, fields } of exportedRecords(db, [type])) {
    if (found === type)
      yield [key, ...names.map((name) => plainValue(fields[name])), ...dates.flatMap((name) => daysOf(fields[name]))];
  }
}

function endsOf(text: string): readonly [string | null, string | null] {
  const date = saidDate(text);
  return [date?.from ?? null, date?.to ?? null];
}

const plainValue = (value: unknown): PlainValue => {
  if (value === undefined || value === null) return null;
  if (Array.isArray(value)) return value.join('; ');
  return typeof value === 'number' ? value : String(value);
};
