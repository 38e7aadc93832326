import type { Assumptions } from '../assumptions.ts';
import { type IsKin, type Linked, linkBetween, linkFactor } from './chain-links.ts';
import type { PreparedMark } from './chain-marks.ts';

/**
 * Every possible holder of every mark as a number: a person has one, whatever marks they may have put on, and the
 * unrecorded holder of each mark has one of their own, as nobody has where a mark may name no holder. A mark that names
 * none in any case has none (−1).
 */
export type Relations = {
  readonly count: number;
  /** Number of a holder, by mark and by holder of the mark. */
  readonly numberOf: readonly (readonly number[])[];
  /** 1 where the number stands for nobody: the holders before and after are then successive. */
  readonly isNobody: Uint8Array;
  /** Factor between successive holders a and b, at a · count + b. */
  readonly factor: Float64Array;
  /** At least the factor, and not less than the smaller of those by way of any third: `ultrametric`, see below. */
  readonly bound: Float64Array;
  /** Holders with the same surnames are one class: most pairs of holders have the factor of their classes. */
  readonly classOf: Int32Array;
  /** No two possible holders of different marks have anything to do with each other. */
  readonly strangers: boolean;
};

/**
 * The factors between all possible holders. `bound` widens them until bound(a, b) >= min(bound(a, c), bound(c, b)) for
 * all c. Then the best way to join any set of holders can be grown one holder at a time, each joined where it is joined
 * best, and no succession of them has a greater product of factors.
 * @see Gower, J. C. and Ross, G. J. S., Minimum spanning trees and single linkage cluster analysis, Applied Statistics
 *   18 (1969) 54–64.
 */
export function relationsOf(marks: readonly PreparedMark[], isKin: IsKin, assumptions: Assumptions): Relations {
  const known: Linked[] = [];
  const persons = new Map<string, number>();
  const nobodies: number[] = [];
  const numberOf = marks.map(({ namesHolder, holders }) =>
    holders.map(({ person, surnames, isNobody }) => {
      if (!namesHolder) return -1;
      if (isNobody) nobodies.push(known.length);
      const number = (person === undefined ? undefined : persons.get(person)) ?? known.length;
      if (number === known.length) known.push({ person, surnames });
      if (person !== undefined) persons.set(person, number);
      return number;
    }),
  );
  const count = known.length;
  const isNobody = new Uint8Array(count);
  for (const number of nobodies) isNobody[number] = 1;
  const factor = new Float64Array(count * count);
  let strangers =
    known.length === marks.reduce((sum, { namesHolder, holders }) => sum + (namesHolder ? holders.length : 0), 0);
  for (const [a, one] of known.entries()) {
    for (const [b, other] of known.entries()) {
      const value = linkFactor(linkBetween(one, other, isKin), assumptions);
      factor[a * count + b] = value;
      if (a !== b && value !== 1) strangers = false;
    }
  }
  const classes = new Map<string, number>();
  const classOf = Int32Array.from(known, ({ surnames }) => {
    const key = [...surnames].sort().join('\n');
    const found = classes.get(key) ?? classes.size;
    classes.set(key, found);
    return found;
  });
  return { count, numberOf, isNobody, classOf, factor, bound: strangers ? factor : widened(factor, count), strangers };
}

function widened(factor: Float64Array, count: number): Float64Array {
  const bound = factor.map((value) => Math.max(1, value));
  for (let c = 0; c < count; c += 1) {
    for (let a = 0; a < count; a += 1) {
      const viaC = bound[a * count + c] as number;
      if (viaC <= 1) continue;
      for (let b = 0; b < count; b += 1) {
        const way = Math.min(viaC, bound[c * count + b] as number);
        if (way > (bound[a * count + b] as number)) bound[a * count + b] = way;
      }
    }
  }
  // A holder is joined to themselves at least as well as to anybody else.
  for (let a = 0; a < count; a += 1) {
    for (let b = 0; b < count; b += 1) {
      if (a !== b && (bound[a * count + b] as number) > (bound[a * count + a] as number)) {
        bound[a * count + a] = bound[a * count + b] as number;
      }
    }
  }
  return bound;
}
