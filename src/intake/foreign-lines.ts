import type { Cell } from '../ledger/journal.ts';
import type { Kind } from '../ledger/kind.ts';
import type { Draft } from '../ledger/recording.ts';
import type { PersonEvidence } from './same-person.ts';

/** A line of a file from another ledger. */
export type ForeignLine = {
  readonly number: number;
  readonly kind: Kind;
  readonly key: string;
  readonly draft: Draft;
};

/** The columns of a record and what stands in them. */
export type Cells = Readonly<Record<string, Cell | undefined>>;

export const NO_EVIDENCE: PersonEvidence = { entries: [], notices: [], others: 0 };

/** What a file says of each person, by the person's key. */
export function evidenceByPerson(lines: readonly ForeignLine[]): ReadonlyMap<string, PersonEvidence> {
  const found = new Map<string, { entries: ForeignLine[]; notices: ForeignLine[]; others: number }>();
  for (const line of lines) {
    const person = line.draft['person'];
    if (typeof person !== 'string') continue;
    const of = found.get(person) ?? { entries: [], notices: [], others: 0 };
    if (line.kind.kind === 'entry') of.entries.push(line);
    else if (line.kind.kind === 'notice') of.notices.push(line);
    else of.others += 1;
    found.set(person, of);
  }
  return found;
}
