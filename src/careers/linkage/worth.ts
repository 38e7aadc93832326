import { DAYS_PER_YEAR } from '../../assumptions.ts';
import type { Chains } from './chains.ts';
import type { Coded } from './coded.ts';
import { type Comparison, newComparison } from './comparison.ts';
import {
  CORPS_FIELD,
  DATED,
  DATED_FIELDS,
  FIELD_COUNT,
  FORENAMES_FIELD,
  RANK,
  RANK_DOWN,
  RANK_FIELD,
  SUFFIX,
  SUFFIX_ELDER,
  SUFFIX_FIELD,
  SUFFIX_YOUNGER,
  SURNAME_FIELD,
} from './fields.ts';
import type { Ground } from './ground.ts';
import type { Learned } from './learned.ts';
import type { Profiles } from './profile.ts';
import { newcomers } from './staying.ts';
import { fieldBits, type Weights } from './weights.ts';
import { boundOnWorth } from './worth-bound.ts';

/** Two that are bound together are worth more than any evidence, beside which this is reckoned. */
export const BOUND = 1e6;

/** Gains below this are noise of the arithmetic; bits. */
export const NOTHING = 1e-6;

/** What speaks against two that are bound together counts up to here; bits. */
const LEAST_IF_BOUND = -100;

const IMPOSSIBLE = Number.NEGATIVE_INFINITY;

/** Between the first and the last line of one man; nobody is listed for longer. Judgement. */
const LONGEST_CAREER_DAYS = 90 * DAYS_PER_YEAR;

/** What it is worth, in bits, that the career from `head` on goes on from the career up to `tail`. */
export type Worth = {
  /** @param floor worths that are certainly below it may be given as -Infinity. */
  of(tails: Profiles, tail: number, heads: Profiles, head: number, floor: number): number;
  /** The same by what they say alone, whether or not they are bound together, or are two people on record. */
  evidence: Worth['of'];
  /** The part of it that comes from the gap: how men stay in lists, leave them and come new to them. */
  gapBits(tail: number, head: number): number;
  /** The chances behind it: gapBits = log2(found / (gone · newcomers)). */
  gapChances(tail: number, head: number): { found: number; gone: number; newcomers: number };
  /** The comparison behind it, and what is taken off for a changed suffix; written over by the next call. */
  explained(tails: Profiles, tail: number, heads: Profiles, head: number): { fields: Comparison; namesakeBits: number };
};

/**
 * The log-likelihood ratio of one man against two. If it is one: the evidence of each field, and that he is found next
 * after this gap. If it is two: that the one is not found again, and that the other comes new among all who do. Summed
 * over the joins of a career it is the ratio for the whole career, so that sets of careers can be compared.
 * Never joined are (1) entries bound to two persons, or kept apart; (2) of two kinds of appointment; (3) with surnames
 * that no slip explains; (4) further apart than a working life, or beyond the recorded life; (5) in two corps on one day.
 * @see Fellegi and Sunter, "A Theory for Record Linkage", Journal of the American Statistical Association 64 (1969), for
 * the fields; Reid, "An Algorithm for Tracking Multiple Targets", IEEE Transactions on Automatic Control 24 (1979), for
 * tracks that begin, go on with gaps, and end.
 */
export function worthOf(ground: Ground, learned: Learned, chains: Chains): Worth {
  const { coded, looked, lives } = ground;
  const { weights, staying, shares, comparer } = learned;
  const { day, service, sorted } = coded.editions;
  const comparison = newComparison();
  const log2New = newcomers(coded, staying.newShare);
  const bound = boundOnWorth(ground, learned);

  const log2Found = (tail: number, head: number): number =>
    staying.log2Next[
      looked.gap(coded.surname[head] as number, coded.step[tail] as number, coded.step[head] as number)
    ] as number;
  const log2Gone = (tail: number, head: number): number =>
    staying.log2Gone[looked.after(coded.surname[head] as number, coded.step[tail] as number)] as number;
  const log2Newcomers = (head: number): number =>
    log2New[(coded.lane[head] as number) * sorted.length + (coded.step[head] as number)] as number;
  const gapBits = (tail: number, head: number): number =>
    log2Found(tail, head) - log2Gone(tail, head) - log2Newcomers(head);

  const outlives = (tails: Profiles, tail: number, heads: Profiles, head: number): boolean => {
    const [owner, otherOwner] = [tails.owner[tail] as number, heads.owner[head] as number];
    const first = day[coded.step[tails.end[tail] as number] as number] as number;
    const last = day[coded.step[heads.end[head] as number] as number] as number;
    if (last - first > LONGEST_CAREER_DAYS) return true;
    const life = lives.get(owner) ?? lives.get(otherOwner);
    return life !== undefined && (first < life.from || last > life.until);
  };

  const isInTwoCorps = (tail: number, head: number): boolean => {
    const [from, to] = [coded.step[tail] as number, coded.step[head] as number];
    return (
      day[from] === day[to] &&
      service[from] === service[to] &&
      coded.lane[tail] === 0 &&
      (coded.corps[tail] as number) >= 0 &&
      (coded.corps[head] as number) >= 0 &&
      coded.corps[tail] !== coded.corps[head]
    );
  };

  const namesakeBits = (nameBits: number): number => takenOff(weights, comparison, nameBits, shares.namesake);

  const evidence: Worth['of'] = (tails, tail, heads, head, floor) => {
    const before = gapBits(tail, head);
    const restBound = bound.rest(tails, tail, heads, head);
    const nameBound = bound.forenames(tails.forenames[tail] as number, heads.forenames[head] as number);
    if (before + nameBound + restBound < floor) return IMPOSSIBLE;
    comparer.forenames(tails, tail, heads, head, comparison);
    const forenameBits = fieldBits(weights, comparison, FORENAMES_FIELD);
    if (before + forenameBits + restBound < floor) return IMPOSSIBLE;
    if (outlives(tails, tail, heads, head) || isInTwoCorps(tail, head)) return IMPOSSIBLE;
    if (tails.hasFoe[tail] === 1 && heads.hasFoe[head] === 1 && areFoes(coded, chains, tail, head)) return IMPOSSIBLE;
    if (!comparer.surname(tails, tail, heads, head, comparison)) return IMPOSSIBLE;
    comparer.rest(tails, tail, heads, head, comparison);
    const nameBits = fieldBits(weights, comparison, SURNAME_FIELD) + forenameBits;
    let sum = before + nameBits - namesakeBits(nameBits);
    for (let field = SUFFIX_FIELD; field < FIELD_COUNT; field++) sum += fieldBits(weights, comparison, field);
    return sum;
  };

  const of: Worth['of'] = (tails, tail, heads, head, floor) => {
    if ((coded.step[head] as number) <= (coded.step[tail] as number)) return IMPOSSIBLE;
    if (coded.lane[tail] !== coded.lane[head]) return IMPOSSIBLE;
    const [owner, otherOwner] = [tails.owner[tail] as number, heads.owner[head] as number];
    const decided = owner < 0 || otherOwner < 0 ? undefined : decision(coded, chains, tail, head, owner, otherOwner);
    if (decided === IMPOSSIBLE) return IMPOSSIBLE;
    if (decided === BOUND) return BOUND + Math.max(evidence(tails, tail, heads, head, IMPOSSIBLE), LEAST_IF_BOUND);
    return evidence(tails, tail, heads, head, floor);
  };

  return {
    of,
    evidence,
    gapBits,
    gapChances: (tail, head) => ({
      found: 2 ** log2Found(tail, head),
      gone: 2 ** log2Gone(tail, head),
      newcomers: 2 ** log2Newcomers(head),
    }),
    explained: (tails, tail, heads, head) => {
      comparer.all(tails, tail, heads, head, comparison);
      const nameBits = fieldBits(weights, comparison, SURNAME_FIELD) + fieldBits(weights, comparison, FORENAMES_FIELD);
      return { fields: comparison, namesakeBits: namesakeBits(nameBits) };
    },
  };
}

/**
 * Sons and nephews follow into the corps of their kin under the same name: of so many men who come new one bears the whole
 * name of a man of his corps. Judgement.
 */
export const NEW_MEN_TO_A_NAMESAKE = 500;

/**
 * What two men agree in not by chance, but because they are kin, is taken off.
 * 1. A suffix is there to tell namesakes apart, who are often kin and in one corps: where it has changed, they agree in name
 * and corps as often as a new man is such a namesake.
 * 2. Nobody goes down the ladder: where the rank is lower, and not under the old date, it may be that of a son who came new.
 */
function takenOff(weights: Weights, comparison: Comparison, nameBits: number, log2Namesake: number): number {
  const { levels } = comparison;
  const suffix = levels[SUFFIX_FIELD] as number;
  const agreed = nameBits + Math.max(0, fieldBits(weights, comparison, CORPS_FIELD));
  if (suffix === SUFFIX + SUFFIX_ELDER || suffix === SUFFIX + SUFFIX_YOUNGER)
    return Math.max(
      0,
      agreed + fieldBits(weights, comparison, SUFFIX_FIELD) - (Math.log2(weights.m[suffix] as number) - log2Namesake),
    );
  return isLower(comparison) ? Math.max(0, agreed - Math.log2(NEW_MEN_TO_A_NAMESAKE)) : 0;
}

/** Whether the later line has a lower rank, and not under the date of the earlier one. */
const isLower = ({ levels }: Comparison): boolean =>
  levels[RANK_FIELD] === RANK + RANK_DOWN && levels[DATED_FIELDS.otherRank] !== DATED.otherRank;

/** BOUND or IMPOSSIBLE, by what was decided about two careers that hold bound entries; undefined where nothing was. */
function decision(
  { owner, bound: { persons } }: Coded,
  { previous, next }: Chains,
  tail: number,
  head: number,
  nearest: number,
  otherNearest: number,
): number | undefined {
  if (nearest === otherNearest) return BOUND;
  if (persons.has(nearest) && persons.has(otherNearest)) return IMPOSSIBLE;
  const earlier = new Set<number>();
  for (let at = tail; at >= 0; at = previous[at] as number) earlier.add(owner[at] as number);
  earlier.delete(-1);
  const later = new Set<number>();
  for (let at = head; at >= 0; at = next[at] as number) later.add(owner[at] as number);
  if ([...later].some((each) => earlier.has(each))) return BOUND;
  const isPerson = (each: number): boolean => persons.has(each);
  return [...earlier].some(isPerson) && [...later].some(isPerson) ? IMPOSSIBLE : undefined;
}

/** Whether somebody said that one of the entries up to `tail` and one of those from `head` on are two men. */
export function areFoes({ marked, bound }: Coded, { previous, next }: Chains, tail: number, head: number): boolean {
  const later = new Set<number>();
  for (let at = head; at >= 0; at = next[at] as number)
    if ((marked[at] as number) >= 0) later.add(marked[at] as number);
  for (let at = tail; at >= 0; at = previous[at] as number) {
    const foes = bound.foes.get(marked[at] as number);
    if (foes !== undefined && [...foes].some((foe) => later.has(foe))) return true;
  }
  return false;
}
