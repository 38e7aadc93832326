import type { Beside } from './beside.ts';
import { type Chains, from } from './chains.ts';
import type { Apart, Margins } from './margins.ts';
import type { OnRecord } from './on-record.ts';

/**
 * Where a chance comes from: a join, the standing of one line, a post held beside another, two that were left apart, or two
 * people on record.
 */
export type Source =
  | { readonly is: 'join'; readonly tail: number; readonly head: number }
  | { readonly is: 'line'; readonly line: number }
  | { readonly is: 'beside'; readonly beside: Beside }
  | { readonly is: 'apart'; readonly apart: Apart }
  | { readonly is: 'on record'; readonly pair: OnRecord };

/** A doubt by the numbers of entries. */
export type FoundDoubt = {
  readonly tail: number;
  readonly head: number;
  readonly joined: boolean;
  readonly chance: number;
  readonly settles: number;
  readonly instead: number;
  readonly source: Source;
};

/** Chance of what is better by so many bits than the next best. */
export const chanceOf = (bits: number): number => 1 / (1 + 2 ** -bits);

/** Bits of a chance. */
export const bitsOf = (chance: number): number => Math.log2(chance / (1 - chance));

/** How little is known, in bits: 1 for an even chance. */
const uncertainty = (chance: number): number =>
  chance <= 0 || chance >= 1 ? 0 : -(chance * Math.log2(chance) + (1 - chance) * Math.log2(1 - chance));

/**
 * The doubtful joins and separations, in the order of how many pairs of entries an answer would settle times how open it
 * is. A line that may belong elsewhere is asked for once, not for each of its joins; two such lines that are joined to each
 * other alone are one question, and the more open chance is told.
 */
export function rankedDoubts(
  margins: Margins,
  chains: Chains,
  beside: readonly Beside[],
  onRecord: readonly OnRecord[],
  limit: number,
): readonly FoundDoubt[] {
  const { previous, next } = chains;
  const sizes = careerSizes(chains);
  const doubts: FoundDoubt[] = [];
  const isLineDoubt = (at: number): boolean => (margins.line[at] as number) < limit;
  for (let at = 0; at < next.length; at++) {
    const [before, after] = [previous[at] as number, next[at] as number];
    if (isLineDoubt(at)) {
      const [tail, head] = before >= 0 ? [before, at] : [at, after];
      const chance = chanceOf(margins.line[at] as number);
      const settles = (sizes.career[at] as number) - 1;
      const instead = margins.lineInstead[at] as number;
      doubts.push({ tail, head, joined: true, chance, settles, instead, source: { is: 'line', line: at } });
    }
    if (after < 0 || (margins.join[at] as number) >= limit || isLineDoubt(at) || isLineDoubt(after)) continue;
    const earlier = sizes.upTo[at] as number;
    doubts.push({
      tail: at,
      head: after,
      joined: true,
      chance: chanceOf(margins.join[at] as number),
      settles: earlier * ((sizes.career[at] as number) - earlier),
      instead: margins.joinInstead[at] as number,
      source: { is: 'join', tail: at, head: after },
    });
  }
  for (const each of beside) {
    const { career, substantive, margin, instead } = each;
    if (margin >= limit) continue;
    const settles = (sizes.career[career] as number) * (sizes.career[substantive] as number);
    const source = { is: 'beside', beside: each } as const;
    doubts.push({ tail: substantive, head: career, joined: true, chance: chanceOf(margin), settles, instead, source });
  }
  doubts.push(...apartDoubts(margins, sizes.career));
  for (const pair of onRecord) {
    const { tail, head, margin, instead } = pair;
    if (margin <= -limit) continue;
    const settles = (sizes.career[tail] as number) * (sizes.career[head] as number);
    const source = { is: 'on record', pair } as const;
    doubts.push({ tail, head, joined: false, chance: chanceOf(margin), settles, instead, source });
  }
  const weight = ({ chance, settles }: FoundDoubt): number => settles * uncertainty(chance);
  const asked = new Set<string>();
  return doubts
    .sort((a, b) => weight(b) - weight(a) || a.tail - b.tail || a.head - b.head)
    .filter(({ tail, head }) => asked.size < asked.add(`${tail} ${head}`).size);
}

/** Of what was found at several editions the likeliest. */
function apartDoubts({ apart }: Margins, career: Int32Array): readonly FoundDoubt[] {
  const best = new Map<string, FoundDoubt>();
  for (const each of apart) {
    const { one, other, bits } = each;
    const [tail, head] = [Math.min(one, other), Math.max(one, other)];
    const chance = chanceOf(bits);
    const known = best.get(`${tail} ${head}`);
    if (known !== undefined && known.chance >= chance) continue;
    const settles = (career[tail] as number) * (career[head] as number);
    const source = { is: 'apart', apart: each } as const;
    best.set(`${tail} ${head}`, { tail, head, joined: false, chance, settles, instead: -1, source });
  }
  return [...best.values()];
}

/** For each entry how many its career has, and how many of these up to itself. */
function careerSizes(chains: Chains): { career: Int32Array; upTo: Int32Array } {
  const career = new Int32Array(chains.next.length);
  const upTo = new Int32Array(chains.next.length);
  for (let first = 0; first < career.length; first++) {
    if ((chains.previous[first] as number) >= 0) continue;
    let size = 0;
    for (const at of from(chains, first)) upTo[at] = ++size;
    for (const at of from(chains, first)) career[at] = size;
  }
  return { career, upTo };
}
