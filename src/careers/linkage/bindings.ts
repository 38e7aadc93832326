import { HeldbyError } from '../../errors.ts';
import type { RecordId } from '../evidence.ts';
import type { Binding, ListEntry } from './entries.ts';

/** What is decided about each entry. Numbers of owners and of marked ones are the same numbers. */
export type Bound = {
  /** For each entry the one it is bound to with others, or whose person is known; -1 for a loose entry. */
  readonly owner: Int32Array;
  /** For each entry the number under which `foes` knows it; -1 where nothing keeps it apart from anybody. */
  readonly marked: Int32Array;
  readonly foes: ReadonlyMap<number, ReadonlySet<number>>;
  /** For each owner the persons who are said to be him, in the order of their ids. */
  readonly persons: ReadonlyMap<number, readonly RecordId[]>;
};

/**
 * Groups of entries that are bound together, and pairs of groups that are kept apart. Entries of two persons are never
 * one man unless somebody said that the persons are the same.
 * A binding may name a person who has no entries.
 * @throws HeldbyError CONFLICT when two are said to be the same and not the same.
 */
export function boundEntries(entries: readonly ListEntry[], bindings: readonly Binding[]): Bound {
  const groups = groupsOf(entries, bindings);
  const numbers = new Map<string, number>();
  const numberOf = (root: string): number => {
    const known = numbers.get(root) ?? numbers.size;
    numbers.set(root, known);
    return known;
  };
  const foes = new Map<number, Set<number>>();
  for (const { kind, one, other } of bindings) {
    if (kind !== 'differ') continue;
    const [a, b] = [groups.rootOf(one), groups.rootOf(other)];
    if (a === b) {
      throw new HeldbyError(
        'CONFLICT',
        `${one} and ${other} are said to be the same man and not to be.`,
        'Withdraw one of the two decisions.',
      );
    }
    for (const [from, to] of [
      [a, b],
      [b, a],
    ] as const) {
      const number = numberOf(from);
      foes.set(number, (foes.get(number) ?? new Set()).add(numberOf(to)));
    }
  }
  const owner = new Int32Array(entries.length).fill(-1);
  const marked = new Int32Array(entries.length).fill(-1);
  const persons = new Map<number, RecordId[]>();
  for (const [at, entry] of entries.entries()) {
    if (!groups.isNamed(entry.id) && entry.person === undefined) continue;
    const root = groups.rootOf(entry.person ?? entry.id);
    const number = numberOf(root);
    if (groups.isOwner(root)) owner[at] = number;
    if (foes.has(number)) marked[at] = number;
    const known = persons.get(number) ?? [];
    if (entry.person !== undefined && !known.includes(entry.person)) persons.set(number, [...known, entry.person]);
  }
  for (const known of persons.values()) known.sort();
  return { owner, marked, foes, persons };
}

function groupsOf(entries: readonly ListEntry[], bindings: readonly Binding[]) {
  const parent = new Map<string, string>();
  const personOf = new Map<RecordId, RecordId>();
  const owners = new Set<string>();
  for (const { id, person } of entries) {
    if (person === undefined) continue;
    owners.add(person);
    if (bindings.length > 0) personOf.set(id, person);
  }
  const rootOf = (id: string): string => {
    let root = id;
    for (let next = parent.get(root); next !== undefined; next = parent.get(root)) root = next;
    return root;
  };
  const join = (a: string, b: string): void => {
    const [first, second] = [rootOf(a), rootOf(b)].sort() as [string, string];
    if (first !== second) parent.set(second, first);
  };
  const named = new Set<string>();
  for (const { kind, one, other } of bindings) {
    for (const id of [one, other]) {
      named.add(id);
      const person = personOf.get(id);
      if (person !== undefined) join(id, person);
    }
    if (kind === 'same') {
      join(one, other);
      owners.add(one);
    }
  }
  const ownerRoots = new Set([...owners].map(rootOf));
  return { rootOf, isNamed: (id: string) => named.has(id), isOwner: (root: string) => ownerRoots.has(root) };
}
