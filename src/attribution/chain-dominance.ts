import { totalOf } from '../dating/density.ts';
import type { ChainOrder, Option } from './chain-order.ts';
import type { Relations } from './chain-relations.ts';
import type { ChainTable } from './chain-table.ts';

/** Weights that differ by less than this part of themselves are one. */
const ROUNDING = 1e-12;

/**
 * For each option, how many others of its mark can stand in for it in every chain, and the chain is as heavy or heavier.
 * A chain of options that have r₁, r₂ … of them is then one of (r₁ + 1) · (r₂ + 1) … of which none of the others is
 * lighter: with more of these than are wanted, it need not be among the best. People of whom the lists show the same
 * days are told apart by this.
 * One stands in for another of the same mark, neither under nor over any other, if it is joined to everybody as well, and
 * 1. it weighs as much on every node, times one figure of at least 1, with the same day to be expected: so that the
 *    chain keeps its order; or
 * 2. it weighs as much or more on every node, and the order of a chain is known beforehand and is the same with both.
 */
export function standIns(
  { options, relation, isSure }: ChainOrder,
  { single, trees }: ChainTable,
  { factor, count, strangers }: Relations,
  isListed: readonly boolean[],
): Int32Array {
  const size = options.length;
  const out = new Int32Array(size);
  const alone = new Set(trees.flatMap(({ place, overlying }) => (overlying.length === 0 ? [place] : [])));
  const shapes = options.map(({ weight }) => shapeOf(weight));
  const isJoinedAsWell = (a: Option, b: Option): boolean => {
    if (strangers) return true;
    for (const { mark, number } of options)
      if (
        mark !== a.mark &&
        (factor[a.number * count + number] as number) < (factor[b.number * count + number] as number)
      )
        return false;
    return true;
  };
  const standAlike = (a: number, b: number): boolean => {
    for (let o = 0; o < size; o += 1) if (relation[a * size + o] !== relation[b * size + o]) return false;
    return true;
  };
  const keepsOrder = (a: number, b: number): boolean => {
    const [one, other] = [options[a] as Option, options[b] as Option];
    if (isTimes(shapes[a] as Shape, shapes[b] as Shape)) {
      const days = ({ place, holder }: Option) => single[place]?.[holder]?.expected[0];
      const [ofOne, ofOther] = [days(one), days(other)];
      return ofOne !== undefined && ofOther !== undefined && isSame(ofOne, ofOther);
    }
    return isSure && weighsMore(one.weight, other.weight) && standAlike(a, b);
  };
  const known = new Map<number, boolean>();
  const standsIn = (a: number, b: number): boolean => {
    const found =
      known.get(a * size + b) ?? (isJoinedAsWell(options[a] as Option, options[b] as Option) && keepsOrder(a, b));
    known.set(a * size + b, found);
    return found;
  };
  for (const [b, other] of options.entries()) {
    if (!isListed[b] || !alone.has(other.place) || other.isNobody) continue;
    for (const [a, one] of options.entries()) {
      if (a === b || one.mark !== other.mark || one.isNobody || !isListed[a] || !standsIn(a, b)) continue;
      // Of two that are alike the one that stands first counts as the better.
      if (a < b || !standsIn(b, a)) out[b] = (out[b] as number) + 1;
    }
  }
  return out;
}

function weighsMore(a: Float64Array, b: Float64Array): boolean {
  for (let k = 0; k < a.length; k += 1) if ((a[k] as number) < (b[k] as number) * (1 - ROUNDING)) return false;
  return true;
}

/** Weights as parts of their sum, and the sum. */
type Shape = { readonly sum: number; readonly parts: Float64Array };

function shapeOf(weight: Float64Array): Shape {
  const sum = totalOf(weight);
  return { sum, parts: weight.map((value) => value / sum) };
}

/** Whether a is b times one figure of at least 1. */
function isTimes(a: Shape, b: Shape): boolean {
  if (!(a.sum > 0 && b.sum > 0) || a.sum / b.sum < 1 - ROUNDING) return false;
  for (let k = 0; k < a.parts.length; k += 1) {
    const [one, other] = [a.parts[k] as number, b.parts[k] as number];
    if (Math.abs(one - other) > ROUNDING * other) return false;
  }
  return true;
}

function isSame(a: Float64Array, b: Float64Array): boolean {
  for (let k = 0; k < a.length; k += 1) if (a[k] !== b[k]) return false;
  return true;
}
