import type { LinkageInput } from '../careers/linkage/entries.ts';
import type { Join, Linkage } from '../careers/linkage/linkage.ts';

/** Entries that are certainly one person's, by their places among all entries, in the order of time. */
export type Piece = {
  readonly entries: readonly number[];
  /** Numbers of the people whom somebody has said some of them to be, in rising order. */
  readonly people: readonly number[];
  /** For each entry the join to the one before it; undefined for the first, and for one that stands beside another. */
  readonly joins: readonly (Join | undefined)[];
};

export type Pieces = {
  readonly pieces: readonly Piece[];
  /** Place of the piece of each entry. */
  readonly pieceOf: Int32Array;
  /** Place of an entry by its id. */
  at(id: string): number | undefined;
};

/**
 * Cuts the people whom the entries show at every doubtful join. An entry without a join of its own (the same line taken
 * down twice) goes with the one beside it in its edition.
 */
export function piecesOf(linkage: Linkage, { entries }: LinkageInput): Pieces {
  const places = new Map<number, number>(entries.map(({ id }, place) => [Number(id.slice(1)), place]));
  const at = (id: string): number | undefined => places.get(Number(id.slice(1)));
  const place = (id: string): number => at(id) as number;
  const pieceOf = new Int32Array(entries.length).fill(-1);
  const pieces: Piece[] = [];
  for (const [number, person] of linkage.people.entries()) {
    const own = person.entries.map(place);
    for (const piece of piecesOfPerson(own, own.length > 1 ? linkage.joins(number) : [], place, entries)) {
      for (const entry of piece.entries) pieceOf[entry] = pieces.length;
      pieces.push(piece);
    }
  }
  return { pieces, pieceOf, at };
}

function piecesOfPerson(
  own: readonly number[],
  joins: readonly Join[],
  place: (id: string) => number,
  entries: LinkageInput['entries'],
): Piece[] {
  const parent = new Map(own.map((entry) => [entry, entry]));
  const rootOf = (entry: number): number => {
    let root = entry;
    while (parent.get(root) !== root) root = parent.get(root) as number;
    return root;
  };
  const tie = (a: number, b: number): void => {
    parent.set(rootOf(b), rootOf(a));
  };
  const joined = new Set<number>();
  const before = new Map<number, Join>();
  for (const join of joins) {
    const [earlier, later] = [place(join.earlier), place(join.later)];
    joined.add(earlier);
    joined.add(later);
    before.set(later, join);
    if (join.decision !== 'doubtful') tie(earlier, later);
  }
  const firstOf = new Map<string, number>();
  for (const entry of own) {
    const { person } = entries[entry] as LinkageInput['entries'][number];
    if (person === undefined) continue;
    const known = firstOf.get(person);
    if (known === undefined) firstOf.set(person, entry);
    else tie(known, entry);
  }
  for (const entry of own) {
    if (joined.has(entry) || own.length === 1) continue;
    const { edition } = entries[entry] as LinkageInput['entries'][number];
    const beside = own.find((other) => joined.has(other) && entries[other]?.edition === edition);
    if (beside !== undefined) tie(beside, entry);
  }
  const groups = new Map<number, number[]>();
  for (const entry of own) {
    const group = groups.get(rootOf(entry));
    if (group === undefined) groups.set(rootOf(entry), [entry]);
    else group.push(entry);
  }
  return [...groups.values()].map((group) => ({
    entries: group,
    people: [
      ...new Set(
        group.flatMap((entry) => {
          const person = entries[entry]?.person;
          return person === undefined ? [] : [Number(person.slice(1))];
        }),
      ),
    ].sort((a, b) => a - b),
    joins: group.map((entry) => {
      const join = before.get(entry);
      return join === undefined || join.decision === 'doubtful' ? undefined : join;
    }),
  }));
}
