import { type Chains, cut, join, newChains } from '../../../src/careers/linkage/chains.ts';
import type { LinkageInput } from '../../../src/careers/linkage/entries.ts';
import { type Ground, groundOf } from '../../../src/careers/linkage/ground.ts';
import { learn } from '../../../src/careers/linkage/learn.ts';
import type { Learned } from '../../../src/careers/linkage/learned.ts';
import { type Solve, solver, totalWorth } from '../../../src/careers/linkage/solve.ts';
import { type Worth, worthOf } from '../../../src/careers/linkage/worth.ts';
import { seededChance } from './generated-service.ts';

export type Solving = { ground: Ground; learned: Learned; chains: Chains; worth: Worth; solve: Solve };

export function solving(input: LinkageInput): Solving {
  const ground = groundOf(input);
  const learned = learn(ground);
  const chains = newChains(ground.coded.count, ground.extend);
  const worth = worthOf(ground, learned, chains);
  return { ground, learned, chains, worth, solve: solver(ground.coded, chains, worth) };
}

/** Up to `most` lines of one surname and initial, near each other in time, drawn many times over. */
export function* smallBlocks(
  { ground: { coded, forenames } }: Solving,
  times: number,
  most: number,
): Generator<Int32Array> {
  const chance = seededChance(5);
  const lists = new Map<string, number[]>();
  for (let at = 0; at < coded.count; at++) {
    const key = `${coded.surname[at]} ${forenames.initial[coded.forenames[at] ?? -1]}`;
    lists.set(key, [...(lists.get(key) ?? []), at]);
  }
  const long = [...lists.values()].filter((list) => list.length > most * 2);
  for (let time = 0; time < times; time++) {
    const list = long[Math.floor(chance() * long.length)] ?? [];
    const start = Math.floor(chance() * (list.length - most * 2));
    const drawn = list.slice(start, start + most * 2).filter(() => chance() < 0.6);
    if (drawn.length > 2) yield Int32Array.from(drawn.slice(0, most));
  }
}

export function partAll({ previous, next }: Chains): void {
  previous.fill(-1);
  next.fill(-1);
}

/** The most that a block can be worth, by trying every way to put its lines into careers; each is shown to `see`. */
export function bestOfAllWays(
  { ground, chains, worth }: Solving,
  block: Int32Array,
  isAllowed: () => boolean = () => true,
): number {
  const { step } = ground.coded;
  let best = Number.NEGATIVE_INFINITY;
  const ends: number[] = [];
  const place = (index: number): void => {
    const line = block[index];
    if (line === undefined) {
      if (isAllowed()) best = Math.max(best, totalWorth(block, chains, worth));
      return;
    }
    for (const [at, end] of ends.entries()) {
      if ((step[end] ?? 0) >= (step[line] ?? 0)) continue;
      join(chains, end, line);
      ends[at] = line;
      place(index + 1);
      ends[at] = end;
      cut(chains, end);
    }
    ends.push(line);
    place(index + 1);
    ends.pop();
  };
  partAll(chains);
  place(0);
  partAll(chains);
  return best;
}
