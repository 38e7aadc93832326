import { HeldbyError } from '../errors.ts';
import { exportedKeys } from '../inquiry/export.ts';
import { lotQuestions } from '../inquiry/lot-questions.ts';
import { everyPerson, lotsInOrder, reportOf } from '../inquiry/report.ts';
import type { KindName } from '../ledger/kind.ts';
import type { Db } from '../ledger/open.ts';
import { addressesUnder, type LinkedDocument, linkedLot, linkedPerson } from '../report/linked-art.ts';
import { defaultStyle } from '../report/style.ts';
import { namingOf, wordsOf } from '../report/words.ts';
import { actNumber } from './context.ts';

export type LinkedOptions = { readonly asOf?: string; readonly base?: string; readonly living?: true };

/** Objects with their holders, or people with their appointments, or both, as documents of Linked Art. */
export function* linkedDocuments(db: Db, kinds: readonly KindName[], options: LinkedOptions): Iterable<LinkedDocument> {
  const wanted = kinds.filter((kind) => kind === 'object' || kind === 'person');
  if (wanted.length === 0)
    throw new HeldbyError('USAGE', 'Linked Art has objects and people.', 'heldby export objects --format linked-art');
  const asOf = options.asOf === undefined ? undefined : actNumber(options.asOf);
  const addresses = addressesUnder(baseOf(options.base), exportedKeys(db, ['object', 'mark', 'person']));
  const words = wordsOf({ ...defaultStyle(), living: options.living ? 'print' : 'withhold' });
  const told = new Set<unknown>();
  if (wanted.includes('object'))
    for (const id of lotsInOrder(db))
      for (const document of linkedLot(reportOf(db, id, asOf, lotQuestions(db)), words, addresses)) {
        // Somebody who held several objects is one document.
        if (told.has(document['id'])) continue;
        told.add(document['id']);
        yield document;
      }
  if (!wanted.includes('person')) return;
  for (const person of everyPerson(db, asOf)) {
    if (namingOf({ people: { [person.id]: person } }, words).isWithheld(person.id)) continue;
    const document = linkedPerson(person, words, addresses);
    if (!told.has(document['id'])) yield document;
  }
}

function baseOf(base: string | undefined): string | undefined {
  if (base === undefined || /^https?:\/\/[^\s"<>]+$/.test(base)) return base;
  throw new HeldbyError('USAGE', `"${base}" is no address of documents.`, 'Write --base https://house.example/ledger/');
}
