import { parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';

/**
 * Whether the researcher looked at a record again and noted that it stands so and is right: *sic*, as editors write beside
 * what looks like a slip and is none. What is odd about it but contradicts nothing is not told any more.
 */
export function isNotedRight(db: Db, id: string): boolean {
  const parsed = parseId(id);
  const note = parsed === undefined ? undefined : readRecord(db, parsed.kind, parsed.row)?.fields['note'];
  return typeof note === 'string' && /\bsic\b/i.test(note);
}
