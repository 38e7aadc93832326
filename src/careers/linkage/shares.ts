import type { Coded } from './coded.ts';
import type { NearSurnames } from './near-surnames.ts';
import { countValues } from './numbered.ts';

/**
 * How often each value is met, as log2 of its share: what a stranger would agree in by chance. Agreement in a rare value
 * weighs more.
 * @see Fellegi and Sunter, "A Theory for Record Linkage", Journal of the American Statistical Association 64 (1969),
 * on agreement in a particular value.
 */
export type Shares = {
  readonly surname: Float64Array;
  /** Of all surnames near this one: at `surname * 2` other spellings, then those with a few letters different. */
  readonly near: Float64Array;
  /**
   * That a line has a suffix, times that another has this one: most lines have none, so that lines of one man agree in one
   * no oftener than he has one.
   */
  readonly suffix: Float64Array;
  readonly rank: Float64Array;
  readonly corps: Float64Array;
  readonly dated: Float64Array;
  /** log2 of the chance that a man who comes new is the namesake from whom a suffix tells this one apart. */
  readonly namesake: number;
};

/** Of the people known by a name, one is the man in question himself; of the rest there are at least this many. */
const LEAST = 0.5;

/**
 * @param bearers how many people bear each surname, or in proportion to them.
 * @param people how many there are in all.
 */
export function sharesOf(coded: Coded, near: NearSurnames, bearers: Float64Array, people: number): Shares {
  const all = Math.max(1, sum(bearers));
  const others = bearers.map((count) => Math.max(count - LEAST, LEAST));
  const nearSums = new Float64Array(others.length * 2);
  for (let number = 0; number < others.length; number++)
    for (let row = near.first[number] as number; row < (near.first[number + 1] as number); row++) {
      const at = number * 2 + (near.level[row] as number) - 1;
      nearSums[at] = (nearSums[at] as number) + (others[near.other[row] as number] as number);
    }
  const withSuffix = coded.suffix.reduce((total, suffix) => total + (suffix > 0 ? 1 : 0), 0);
  const anySuffix = Math.log2(Math.max(withSuffix, LEAST) / Math.max(1, coded.count));
  return {
    surname: others.map((count) => Math.log2(count / all)),
    near: nearSums.map((count) => Math.log2(Math.max(count, LEAST) / all)),
    suffix: valueShares(coded.suffix, coded.suffixCount).map((share) => share + anySuffix),
    rank: valueShares(coded.rank, coded.ranks.order.length),
    corps: valueShares(coded.corps, coded.corpsCount),
    dated: valueShares(coded.dated, coded.dates.spans.length),
    namesake: anySuffix - Math.log2(Math.max(1, people)),
  };
}

/** Shares among the entries that give a value. */
function valueShares(values: Int32Array, count: number): Float64Array {
  const counts = Float64Array.from(countValues(values, count));
  const all = Math.max(1, sum(counts));
  return counts.map((each) => Math.log2(Math.max(each, LEAST) / all));
}

const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);

/** Shares of the levels of the surname among pairs of any two men. */
export function surnameLevels({ surname, near }: Shares): readonly [number, number, number] {
  const chanceOf = (of: (number: number) => number): number =>
    Math.max(
      Number.MIN_VALUE,
      surname.reduce((total, share, number) => total + 2 ** (share + of(number)), 0),
    );
  return [
    chanceOf((number) => surname[number] as number),
    chanceOf((number) => near[number * 2] as number),
    chanceOf((number) => near[number * 2 + 1] as number),
  ];
}
