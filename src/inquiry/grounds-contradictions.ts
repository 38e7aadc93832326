import type { Db } from '../ledger/open.ts';
import { conflictsOf } from './conflicts.ts';
import type { AsideClaim, SaidClaim } from './conflicts-found.ts';
import { type Ground, type GroundsReader, ground } from './grounds-tree.ts';

/**
 * What contradicts some records of an object, or of the lives of people: what of it is set aside, why, and against what.
 * @param subject the id of a person, an object or a mark.
 */
export function contradictionGrounds(
  db: Db,
  subject: string,
  concerns: (id: string) => boolean,
  reader: GroundsReader,
): Ground[] {
  const told = new Map<string, { aside: AsideClaim; others: Map<string, SaidClaim> }>();
  for (const { kind, members, setAside } of conflictsOf(db, `id:${subject}`).conflicts) {
    if (kind === 'career' || !members.some(({ id }) => concerns(id))) continue;
    for (const aside of setAside) {
      const { others } = told.get(nameOf(aside)) ?? { others: new Map<string, SaidClaim>() };
      for (const each of members) if (nameOf(each) !== nameOf(aside)) others.set(nameOf(each), each);
      told.set(nameOf(aside), { aside, others });
    }
  }
  return [...told.values()].map(({ aside: { id, claim, by, why }, others }) =>
    ground(
      'note',
      `records contradict; ${by === 'proposed' ? 'to be set aside, if you say so' : 'set aside is'}: ${claim}. ${why}`,
      id,
      [...others.values()].map((each) => ground('claim', each.claim, each.id, [reader.record(each.id)])),
    ),
  );
}

const nameOf = ({ id, part }: SaidClaim): string => `${id} ${part}`;
