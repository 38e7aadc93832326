import type { Relations } from './chain-relations.ts';

/** What joins a holder to those before: sums kept by class and by holder, with how much more than a stranger each is. */
export type Links = {
  /** Where chains that end with this holder are kept, −1 where nobody is joined to them by it. */
  readonly ownClass: number;
  readonly ownHolder: number;
  readonly classTo: Int32Array;
  readonly classMore: Float64Array;
  readonly holderTo: Int32Array;
  readonly holderMore: Float64Array;
  /** Numbers of those who are joined to this holder nearer than their classes are. */
  readonly others: readonly number[];
};

type LinkTable = { readonly classes: number; readonly holders: number; readonly linksOfNumber: readonly Links[] };

/**
 * Factors as those of classes, with exceptions of single holders (the same person, kin). Classes and holders that join
 * nobody are not kept: most possible holders have nothing to do with each other.
 */
export function linkTable(relations: Relations): LinkTable {
  const known = tables.get(relations);
  if (known !== undefined) return known;
  const made = linkTableOf(relations);
  tables.set(relations, made);
  return made;
}

/** The sums and the bounds of one object ask for the same table. */
const tables = new WeakMap<Relations, LinkTable>();

function linkTableOf({ count, classOf, factor, canFollow }: Relations): LinkTable {
  const allClasses = Math.max(-1, ...classOf) + 1;
  const more = (a: number, b: number): number => (factor[a * count + b] as number) - 1;
  // The factor of two classes is the least of any two of their holders: surname, and nothing nearer.
  const ofClasses = new Float64Array(allClasses * allClasses).fill(Number.POSITIVE_INFINITY);
  const classAt = (a: number, b: number): number => (classOf[a] as number) * allClasses + (classOf[b] as number);
  for (let a = 0; a < count; a += 1) {
    for (let b = 0; b < count; b += 1) {
      if (canFollow(a, b)) ofClasses[classAt(a, b)] = Math.min(ofClasses[classAt(a, b)] as number, more(a, b));
    }
  }
  for (let i = 0; i < ofClasses.length; i += 1) if (ofClasses[i] === Number.POSITIVE_INFINITY) ofClasses[i] = 0;
  const keptClass = numbered(allClasses, (c) =>
    ofClasses.subarray(c * allClasses, (c + 1) * allClasses).some((x) => x !== 0),
  );
  const exceptionsOf = (a: number): number[] => {
    const others: number[] = [];
    for (let b = 0; b < count; b += 1) if (canFollow(a, b) && more(a, b) !== ofClasses[classAt(a, b)]) others.push(b);
    return others;
  };
  const exceptions = Array.from({ length: count }, (_, a) => exceptionsOf(a));
  const keptHolder = numbered(count, (a) => (exceptions[a] ?? []).length > 0);
  const linksOfNumber = exceptions.map((others, a): Links => {
    const own = classOf[a] as number;
    const row = ofClasses.subarray(own * allClasses, (own + 1) * allClasses);
    const classTo = [...row.keys()].filter((c) => row[c] !== 0);
    return {
      others,
      ownClass: keptClass.at[own] as number,
      ownHolder: keptHolder.at[a] as number,
      classTo: Int32Array.from(classTo, (c) => keptClass.at[c] as number),
      classMore: Float64Array.from(classTo, (c) => row[c] as number),
      holderTo: Int32Array.from(others, (b) => keptHolder.at[b] as number),
      holderMore: Float64Array.from(others, (b) => more(a, b) - (ofClasses[classAt(a, b)] as number)),
    };
  });
  return { classes: keptClass.count, holders: keptHolder.count, linksOfNumber };
}

/** New numbers, from 0, for those that are kept; −1 for the others. Factors are the same both ways, so rows will do. */
function numbered(count: number, isKept: (old: number) => boolean): { at: Int32Array; count: number } {
  const at = new Int32Array(count).fill(-1);
  let next = 0;
  for (let old = 0; old < count; old += 1) {
    if (!isKept(old)) continue;
    at[old] = next;
    next += 1;
  }
  return { at, count: next };
}
