import type { Career } from '../careers/career.ts';
import { peopleNamed, surnameIds, type UnplacedEntry, unplacedEntries } from '../ledger/find-in-edition.ts';
import type { Db } from '../ledger/open.ts';
import { samePeople } from '../ledger/people.ts';
import { type Forename, forenamesAgree, readForenames } from '../names/forenames.ts';
import { readName } from '../names/name.ts';
import { corpsKey } from '../services/corps-key.ts';
import { fold } from '../services/fold.ts';

/** How far the forenames of a line and of a person go together. */
type Agreement = 'in full' | 'as far as they go';

export type Fitting = {
  /** The first record of the person, and all that are found to be one. */
  readonly person: number;
  readonly people: readonly number[];
  readonly agreement: Agreement;
  /** A wording that tells namesakes apart stands with both. */
  readonly sameSuffix: boolean;
};

/** People whose name can be the one printed: the surname letter for letter, forenames and suffix not against it. */
export function peopleFitting(db: Db, printed: string): Fitting[] {
  const name = readName(printed);
  const own = readForenames(name.forenames.join(' '));
  const group = samePeople(db);
  const found = new Map<number, Fitting>();
  for (const row of peopleNamed(db, surnameIds(db, name.surname))) {
    const agreement = agreementOf(own, readForenames(row.forenames ?? ''));
    const [suffix, other] = [suffixKey(name.suffix), suffixKey(row.suffix)];
    if (agreement === undefined || (suffix !== '' && other !== '' && suffix !== other)) continue;
    const people = group(row.person);
    const person = people[0] ?? row.person;
    const before = found.get(person);
    const better = before === undefined || (before.agreement !== 'in full' && agreement === 'in full');
    if (better) found.set(person, { person, people, agreement, sameSuffix: suffix !== '' && suffix === other });
  }
  const fitting = [...found.values()];
  const bySuffix = fitting.filter(({ sameSuffix }) => sameSuffix);
  return bySuffix.length > 0 ? bySuffix : fitting;
}

/** Lines of other editions with such a name that are nobody's yet. */
export const unplacedAlike = (db: Db, printed: string, edition: number, limit: number): UnplacedEntry[] => {
  const { surname, forenames } = readName(printed);
  const own = readForenames(forenames.join(' '));
  return unplacedEntries(db, surnameIds(db, surname), edition, 200)
    .filter((row) => agreementOf(own, readForenames(readName(row.name).forenames.join(' '))) !== undefined)
    .slice(0, limit);
};

const suffixKey = (suffix: string | null | undefined): string => fold(suffix ?? '').replaceAll(/[^a-z0-9]/g, '');

/** Each forename of the shorter list against that of the other in its place. */
function agreementOf(a: readonly Forename[], b: readonly Forename[]): Agreement | undefined {
  const pairs = a.slice(0, b.length).map((forename, at) => [forename, b[at] as Forename] as const);
  if (!pairs.every(([one, other]) => forenamesAgree(one, other))) return undefined;
  const inFull = pairs.some(([one, other]) => one.kind !== 'initial' && other.kind !== 'initial');
  return inFull ? 'in full' : 'as far as they go';
}

/**
 * Of several who can be meant, the one whose line it is: 1. the only one known in that corps; 2. the only one at all,
 * where a forename agrees in full. Initials alone, with another corps or none, are no ground.
 */
export function bearerAmong<T extends Fitting & { readonly career: Career }>(
  fitting: readonly T[],
  corps: string | undefined,
): T | undefined {
  const key = corpsKey(corps ?? '');
  const ofCorps = fitting.filter(
    ({ career }) =>
      key !== '' && career.tenures.some((tenure) => tenure.corps !== undefined && corpsKey(tenure.corps.name) === key),
  );
  const [first, second] = ofCorps;
  if (first !== undefined && second === undefined) return first;
  const [only, other] = fitting;
  return only !== undefined && other === undefined && (only.agreement === 'in full' || only.sameSuffix)
    ? only
    : undefined;
}
