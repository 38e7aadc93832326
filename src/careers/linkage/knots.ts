import { type Chains, from } from './chains.ts';
import { DIFFER } from './forename-table.ts';
import type { Ground } from './ground.ts';
import { Ties } from './ties.ts';
import type { Worth } from './worth.ts';

/**
 * Careers of different blocks that may be one after all: lines with a slip in the surname or the first initial lie beside a
 * career with a hole, other spellings take a career up where it broke off, and what is bound together may bear any names.
 * All careers that are tied by such chances are entries of one knot, to be solved as one block.
 */
export function knotsOf(ground: Ground, chains: Chains, worth: Worth): readonly Int32Array[] {
  const { coded, near, forenames } = ground;
  const firsts = firstsBySurname(ground, chains);
  const knots = new Ties();
  const tie = (one: number, other: number): void => {
    if (togetherBits(coded.step, one, other, chains, worth) > 0) knots.tie(one, other);
  };
  const { initial } = forenames;
  const nameOf = (first: number): number => chains.heads.forenames[first] as number;
  const initialOf = (first: number): number => initial[coded.forenames[first] as number] as number;
  for (const [surname, careers] of firsts) {
    for (const [index, one] of careers.entries())
      for (let at = index + 1; at < careers.length; at++)
        if (initialOf(one) !== initialOf(careers[at] as number)) tie(one, careers[at] as number);
    for (let row = near.first[surname] as number; row < (near.first[surname + 1] as number); row++) {
      const other = near.other[row] as number;
      if (other < surname) continue;
      for (const one of careers)
        for (const two of firsts.get(other) ?? [])
          if (forenames.level(nameOf(one), nameOf(two)) !== DIFFER) tie(one, two);
    }
  }
  tieOwners(ground, chains, knots);
  return knots.groups().map((careers) => Int32Array.from(careers.flatMap((first) => [...from(chains, first)])).sort());
}

function firstsBySurname({ coded }: Ground, { previous }: Chains): ReadonlyMap<number, readonly number[]> {
  const firsts = new Map<number, number[]>();
  for (let at = 0; at < coded.count; at++) {
    if ((previous[at] as number) >= 0) continue;
    const surname = coded.surname[at] as number;
    const known = firsts.get(surname);
    if (known === undefined) firsts.set(surname, [at]);
    else known.push(at);
  }
  return firsts;
}

/** What is bound together is one man, whatever else he is called. */
function tieOwners({ coded, standsBehind }: Ground, { tails }: Chains, knots: Ties): void {
  const known = new Map<number, number>();
  for (let at = 0; at < coded.count; at++) {
    const owner = coded.owner[at] as number;
    if (owner < 0 || (standsBehind[at] as number) >= 0) continue;
    const first = tails.end[at] as number;
    const other = known.get(owner);
    if (other === undefined) known.set(owner, first);
    else knots.tie(other, first);
  }
}

/** About what two careers gain if they are one: at every change from the one to the other what the join is worth. */
function togetherBits(
  step: Int32Array,
  one: number,
  other: number,
  { next, tails, heads }: Chains,
  worth: Worth,
): number {
  let [a, b] = [one, other];
  let last = -1;
  let wasA = false;
  let sum = 0;
  while (a >= 0 || b >= 0) {
    if (a >= 0 && b >= 0 && step[a] === step[b]) return Number.NEGATIVE_INFINITY;
    const isA = b < 0 || (a >= 0 && (step[a] as number) < (step[b] as number));
    const at = isA ? a : b;
    if (last >= 0 && isA !== wasA) {
      sum += worth.of(tails, last, heads, at, Number.NEGATIVE_INFINITY);
      const broken = next[last] as number;
      if (broken >= 0) sum -= worth.of(tails, last, heads, broken, Number.NEGATIVE_INFINITY);
      if (sum === Number.NEGATIVE_INFINITY) return sum;
    }
    last = at;
    wasA = isA;
    if (isA) a = next[a] as number;
    else b = next[b] as number;
  }
  return sum;
}
