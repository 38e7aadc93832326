import { type Chains, from } from './chains.ts';
import { newComparison } from './comparison.ts';
import { chanceOf, type Source } from './doubts.ts';
import type { Ground } from './ground.ts';
import { joinGrounds } from './join-grounds.ts';
import type { Learned } from './learned.ts';
import type { ChanceGrounds, PairGrounds } from './linkage.ts';
import type { Margins } from './margins.ts';
import { areFoes, BOUND, type Worth } from './worth.ts';

/** Careers as they were solved, with what they were solved by. */
export type SolvedCareers = {
  readonly ground: Ground;
  readonly learned: Learned;
  readonly chains: Chains;
  readonly worth: Worth;
  idOf(at: number): string;
};

/**
 * A chance in full: what is taken for one, pair by pair in bits, against the next best. The chance is that of the one over
 * the other, 1 / (1 + 2^−margin), the margin the sum of the pairs less what the next best is worth.
 */
export function chanceGrounds(solved: SolvedCareers, margins: Margins, source: Source): ChanceGrounds {
  const { chains, idOf } = solved;
  const told = (
    pairs: readonly PairGrounds[],
    margin: number,
    line?: number,
    instead = -1,
    rivals: readonly PairGrounds[] = [],
  ): ChanceGrounds => ({
    chance: chanceOf(margin),
    margin,
    line: line === undefined ? undefined : idOf(line),
    pairs,
    otherwise: {
      bits: pairs.reduce((sum, { bits, sign }) => sum + sign * bits, 0) - margin,
      instead: instead < 0 ? undefined : idOf(instead),
      pairs: rivals,
    },
  });
  switch (source.is) {
    case 'join': {
      const { tail, head } = source;
      const instead = margins.joinInstead[tail] as number;
      const rival = instead < 0 ? [] : [instead > tail ? pairOf(solved, tail, instead) : pairOf(solved, instead, head)];
      return told([pairOf(solved, tail, head)], margins.join[tail] as number, undefined, instead, rival);
    }
    case 'line': {
      const { line } = source;
      const hole = { before: chains.previous[line] as number, after: chains.next[line] as number };
      const instead = margins.lineInstead[line] as number;
      const rivals = instead < 0 ? [] : pairsAround(solved, line, holeBeside(solved, line, instead), true);
      return told(pairsAround(solved, line, hole, false), margins.line[line] as number, line, instead, rivals);
    }
    case 'beside': {
      const { career, substantive, bits, margin, instead, grounds, insteadGrounds } = source.beside;
      const pair = (holder: number, worth: number, of: typeof grounds): PairGrounds => ({
        earlier: idOf(holder),
        later: idOf(career),
        bits: worth,
        grounds: of,
        sign: 1,
      });
      const rival = instead < 0 ? [] : [pair(instead, bits - margin, insteadGrounds)];
      return told([pair(substantive, bits, grounds)], margin, undefined, instead, rival);
    }
    case 'apart': {
      const { one, other, bits, hole } = source.apart;
      if (hole === undefined) return told([pairOf(solved, one, other)], bits);
      return told(pairsAround(solved, other, hole, true), bits, other);
    }
    case 'on record': {
      const { tail, head, margin, instead } = source.pair;
      const rival = instead < 0 ? [] : [instead > tail ? pairOf(solved, tail, instead) : pairOf(solved, instead, head)];
      return told([pairOf(solved, tail, head)], margin, undefined, instead, rival);
    }
  }
}

/** Where a line would stand in the career of another: between the lines before and after its edition. */
function holeBeside(
  { ground, chains }: SolvedCareers,
  line: number,
  member: number,
): { readonly before: number; readonly after: number } {
  const step = ground.coded.step[line] as number;
  let before = chains.heads.end[member] as number; // the last line of that career
  while (before >= 0 && (ground.coded.step[before] as number) >= step) before = chains.previous[before] as number;
  let after = before < 0 ? (chains.tails.end[member] as number) : (chains.next[before] as number);
  while (after >= 0 && (ground.coded.step[after] as number) <= step) after = chains.next[after] as number;
  return { before, after };
}

/** The career from `head` on as going on from the career up to `tail`. */
function pairOf(solved: SolvedCareers, tail: number, head: number, sign: 1 | -1 = 1): PairGrounds {
  const { ground, learned, chains, worth, idOf } = solved;
  const grounds = joinGrounds(ground, learned, chains, worth, tail, head);
  const bits = grounds.reduce((sum, each) => sum + each.bits, 0);
  return { earlier: idOf(tail), later: idOf(head), bits, grounds, sign };
}

/**
 * A line between two others of a career, less what these would be worth without it. Profiles are left as they were.
 * @param best whether it is joined to one side only where that is better, as for a line that stands elsewhere now.
 */
function pairsAround(
  solved: SolvedCareers,
  line: number,
  { before, after }: { readonly before: number; readonly after: number },
  best: boolean,
): readonly PairGrounds[] {
  const { chains, worth } = solved;
  const { previous, tails, heads } = chains;
  const kept = previous[line] as number;
  const isApart = before >= 0 && after >= 0 && worth.of(tails, before, heads, after, 0) > 0;
  const without = isApart ? [pairOf(solved, before, after, -1)] : [];
  chains.refreshLoneHead(line);
  const first = before < 0 ? [] : [pairOf(solved, before, line)];
  chains.refreshHead(line);
  const secondAfter = (neighbour: number): PairGrounds[] => {
    previous[line] = neighbour;
    chains.refreshTail(line);
    const pair = after < 0 ? [] : [pairOf(solved, line, after)];
    previous[line] = kept;
    chains.refreshTail(line);
    return pair;
  };
  const both = [...first, ...secondAfter(before)];
  const ways = best ? [both, first, secondAfter(-1)] : [both];
  const sum = (pairs: readonly PairGrounds[]): number => pairs.reduce((total, { bits }) => total + bits, 0);
  const way = ways.filter((each) => each.length > 0).reduce((a, b) => (sum(b) > sum(a) ? b : a), both);
  return [...way, ...without];
}

/** Why the two can never be put together, in words; undefined where they can. */
export function whyNever(
  { ground, learned, chains, worth }: SolvedCareers,
  tail: number,
  head: number,
): string | undefined {
  const { coded } = ground;
  const { tails, heads } = chains;
  if (coded.lane[tail] !== coded.lane[head]) return 'they are appointments of two kinds';
  if (coded.step[tail] === coded.step[head]) return 'they stand in one edition, and nobody is printed in it twice';
  const bits = worth.of(tails, tail, heads, head, Number.NEGATIVE_INFINITY);
  if (bits > -BOUND) return undefined;
  if (areFoes(coded, chains, tail, head)) return 'somebody decided that they are not one';
  if (!learned.comparer.surname(tails, tail, heads, head, newComparison()))
    return 'no slip explains how their surnames differ';
  const isOnRecord = [tails.owner[tail], heads.owner[head]].every((owner) => coded.bound.persons.has(owner ?? -1));
  if (isOnRecord) return 'they are two people on record, whom nobody has said to be one';
  return 'they are further apart than a working life, beyond a recorded birth or death, or in two corps on one day';
}

/** The entries on either side of a question: an answer settles each pair of one of the first and one of the second. */
export function sidesOf(
  { chains, idOf }: SolvedCareers,
  source: Source,
): { readonly one: readonly string[]; readonly other: readonly string[] } {
  const upTo = (tail: number): number[] => {
    const lines: number[] = [];
    for (let at = tail; at >= 0; at = chains.previous[at] as number) lines.unshift(at);
    return lines;
  };
  const whole = (at: number): number[] => [...upTo(at), ...[...from(chains, at)].slice(1)];
  const told = (one: readonly number[], other: readonly number[]) => ({ one: one.map(idOf), other: other.map(idOf) });
  switch (source.is) {
    case 'join':
      return told(upTo(source.tail), [...from(chains, source.head)]);
    case 'line':
      return told(
        [source.line],
        whole(source.line).filter((at) => at !== source.line),
      );
    case 'beside':
      return told(whole(source.beside.substantive), whole(source.beside.career));
    case 'apart':
      return told(whole(source.apart.one), whole(source.apart.other));
    case 'on record':
      return told(whole(source.pair.tail), whole(source.pair.head));
  }
}
