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
  /** Holders with the same surnames are one class: most pairs of holders have the factor of their classes. */
  readonly classOf: Int32Array;
  /** Whether there are two marks of which one can be a's and the other b's. */
  readonly canFollow: (a: number, b: number) => boolean;
  /** No two possible holders of different marks have anything to do with each other. */
  readonly strangers: boolean;
};

/** The factors between all possible holders. */
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
  const onlyMark = onlyMarks(numberOf, count);
  const canFollow = (a: number, b: number): boolean => onlyMark[a] !== onlyMark[b] || onlyMark[a] === SEVERAL;
  let strangers = !onlyMark.includes(SEVERAL);
  for (const [a, one] of known.entries()) {
    for (let b = a; b < count; b += 1) {
      const value = linkFactor(linkBetween(one, known[b] as Linked, isKin), assumptions);
      factor[a * count + b] = value;
      factor[b * count + a] = value;
      if (value !== 1 && canFollow(a, b)) strangers = false;
    }
  }
  const classes = new Map<string, number>();
  const classOf = Int32Array.from(known, ({ surnames }) => {
    const key = [...surnames].sort().join('\n');
    const found = classes.get(key) ?? classes.size;
    classes.set(key, found);
    return found;
  });
  return { count, numberOf, isNobody, classOf, factor, canFollow, strangers };
}

const SEVERAL = -1;
const NONE = -2;

/** The only mark that each can have put on, `SEVERAL` where there are more. */
function onlyMarks(numberOf: Relations['numberOf'], count: number): Int32Array {
  const out = new Int32Array(count).fill(NONE);
  for (const [mark, numbers] of numberOf.entries())
    for (const number of numbers) if (number >= 0) out[number] = out[number] === NONE ? mark : SEVERAL;
  return out;
}
