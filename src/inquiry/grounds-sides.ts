import { HeldbyError } from '../errors.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { samePeople } from '../ledger/people.ts';
import { resolveAny } from '../ledger/refs.ts';
import type { CareersFound } from './careers-found.ts';

/** An entry or a person, and the pieces of careers that are theirs, by their places. */
export type Side = {
  readonly id: string;
  readonly entry: string | undefined;
  readonly pieces: ReadonlySet<number>;
};

/** The id of the entry or person that words mean. @throws HeldbyError REFERENCE */
export const entryOrPerson = (db: Db, words: string): string =>
  resolveAny(db, words, [kindNamed('entry'), kindNamed('person')]);

/** @throws HeldbyError REFERENCE for an entry that is not there, or that was set aside. */
export function sideOf({ db, pieces }: CareersFound, id: string): Side {
  if (id.startsWith('e')) {
    const at = pieces.at(id);
    if (at === undefined)
      throw new HeldbyError(
        'REFERENCE',
        `There is no entry ${id} to put with others.`,
        `Entries that were set aside are put with nobody: heldby show ${id}`,
      );
    return { id, entry: id, pieces: new Set([pieces.pieceOf[at] as number]) };
  }
  const people = new Set(samePeople(db)(Number(id.slice(1))));
  const own = pieces.pieces.flatMap((piece, place) => (piece.people.some((each) => people.has(each)) ? [place] : []));
  return { id, entry: undefined, pieces: new Set(own) };
}
