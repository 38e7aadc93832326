import { parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';

/** A record as print speaks of it: "the Annual List of the Coast Survey, 1838 (e410)". */
export function recordInWords(db: Db, id: string): string {
  const parsed = parseId(id);
  const record = parsed && readRecord(db, parsed.kind, parsed.row);
  if (!parsed || !record) return id;
  const field = (name: string): string => String(record.fields[name] ?? '');
  switch (parsed.kind.kind) {
    case 'entry': {
      const edition = parseId(field('edition'));
      const fields = edition && readRecord(db, edition.kind, edition.row)?.fields;
      const series = fields && parseId(String(fields['series']));
      const name = series && String(readRecord(db, series.kind, series.row)?.fields['name'] ?? '');
      return `the ${(name ?? '').replace(/^the /i, '')}, ${fields?.['label'] ?? ''} (${id})`;
    }
    case 'notice':
      return field('source') === '' ? `a notice (${id})` : `${field('source')} (${id})`;
    case 'search':
      return `a search (${id})`;
    case 'person':
      return `the dates of life (${id})`;
    case 'clue':
    case 'feature':
      return `“${field('text')}” (${id})`;
    case 'reading':
      return `the reading “${field('text')}” (${id})`;
    case 'name':
      return `the name ${field('name')} (${id})`;
    default:
      return id;
  }
}
