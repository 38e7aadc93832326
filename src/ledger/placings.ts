import { noteBearers } from './entries.ts';
import type { Cell } from './journal.ts';
import { kindNamed } from './kinds.ts';
import type { EntryFacts } from './linkage-input.ts';
import type { Recording } from './recording.ts';
import { amendRecord, freeRow } from './records.ts';

/** Entries that are to be somebody's, by their places among the entries read. */
export type Placing = {
  /** Who bears them; undefined: somebody new, recorded under the name printed in the entry at `called`. */
  readonly person: number | undefined;
  readonly called: number;
  readonly entries: readonly { readonly at: number; readonly why: string }[];
};

/**
 * Records who bears entries: new people, and a link with its reason for each entry. An entry that was decided about before
 * has that decision corrected. In bulk, since a whole service can be placed at once.
 * @returns the number of the person of each placing.
 */
export function recordPlacings(into: Recording, facts: EntryFacts, placings: readonly Placing[]): number[] {
  const { db, act } = into;
  const person = kindNamed('person');
  const link = kindNamed('link');
  const addPerson = act.inserter(
    'person',
    ['row', 'id', 'key', 'name_id', 'born_id', 'died_id', 'places', 'note'],
    true,
  );
  const people = placings.map((placing) => {
    if (placing.person !== undefined) return placing.person;
    const row = freeRow(into, person);
    addPerson([row, row, null, facts.name[placing.called] as Cell, null, null, null, null]);
    return row;
  });
  act.flush();
  const wanted = placings.flatMap(({ entries }, at) =>
    entries.map(({ at: entry, why }) => ({ entry, why, person: people[at] as number })),
  );
  const decided = decidedBefore(into, facts, wanted);
  const isDecided = ({ entry }: (typeof wanted)[number]): boolean => decided.has(facts.id[entry] as number);
  for (const { entry, why, person: bearer } of wanted.filter(isDecided))
    amendRecord(into, link, decided.get(facts.id[entry] as number) as number, { person: `p${bearer}`, why }, why);
  const addLink = act.inserter('link', ['row', 'id', 'key', 'entry_id', 'person_id', 'why'], true);
  for (const each of wanted) {
    if (isDecided(each)) continue;
    const row = freeRow(into, link);
    addLink([row, row, null, facts.id[each.entry] as Cell, each.person, each.why]);
  }
  act.flush();
  noteBearers(
    db,
    wanted.map(({ entry, person: bearer }) => [bearer, facts.surname[entry] as number] as const),
  );
  return people;
}

/** The decision that stands on each of these entries, if there is one. */
function decidedBefore(
  { db }: Recording,
  { id }: EntryFacts,
  wanted: readonly { readonly entry: number }[],
): ReadonlyMap<number, number> {
  if (db.prepare('SELECT 1 FROM current_link LIMIT 1').get() === undefined) return new Map();
  return new Map(
    db
      .prepare('SELECT entry_id, id FROM current_link WHERE entry_id IN (SELECT value FROM json_each(?)) ORDER BY row')
      .raw()
      .all(JSON.stringify(wanted.map(({ entry }) => id[entry]))) as [number, number][],
  );
}
