import { assumptionsOf } from '../ledger/assumed.ts';
import { bearerOf } from '../ledger/bearers.ts';
import { type EntryRow, entriesOfPeople, entryById } from '../ledger/entries.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import { entriesBeside } from '../ledger/find-in-edition.ts';
import type { Db } from '../ledger/open.ts';
import { samePeople } from '../ledger/people.ts';

/** The id of an entry that stands beside another, and in which way. */
export type BesideEntry = {
  readonly how: 'before' | 'after' | 'one edition earlier' | 'one edition later';
  readonly row: number;
};

/**
 * What stands beside an entry: the lines before and after it, as they were taken down, and those of the same person in
 * the nearest edition of the same list before and after that has any.
 */
export function besideEntry(db: Db, id: number): BesideEntry[] {
  const entry = entryById(db, id);
  if (entry === undefined) return [];
  const { before, after } = entriesBeside(db, id, entry.edition_id);
  const found: BesideEntry[] = [];
  if (before) found.push({ how: 'before', row: idOf(before) });
  if (after) found.push({ how: 'after', row: idOf(after) });
  const person = bearerOf(db, entry);
  if (person === undefined) return found;
  const reader = evidenceReader(db, assumptionsOf(db));
  const own = reader.edition(entry.edition_id);
  const others = entriesOfPeople(db, samePeople(db)(person))
    .map((row) => ({ row, edition: reader.edition(row.edition_id) }))
    .filter(({ edition }) => edition.series === own.series && edition.row !== own.row);
  const midDay = ({ asAt }: typeof own): number => asAt.span.from + asAt.span.until;
  const sorted = others.sort((a, b) => midDay(a.edition) - midDay(b.edition) || idOf(a.row) - idOf(b.row));
  const earlier = sorted.filter(({ edition }) => midDay(edition) < midDay(own)).at(-1);
  const later = sorted.find(({ edition }) => midDay(edition) > midDay(own));
  if (earlier) found.push({ how: 'one edition earlier', row: idOf(earlier.row) });
  if (later) found.push({ how: 'one edition later', row: idOf(later.row) });
  return found;
}

const idOf = (row: EntryRow): number => row.id ?? row.row;
