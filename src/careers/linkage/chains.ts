import { type Extend, emptyProfiles, type Profiles } from './profile.ts';

/** Careers as chains of entries in the order of time, -1 at both ends, with what is known of each from either side. */
export type Chains = {
  readonly previous: Int32Array;
  readonly next: Int32Array;
  readonly tails: Profiles;
  readonly heads: Profiles;
  /** Brings the row of an entry up to date with its neighbour on that side. */
  readonly refreshTail: (at: number) => void;
  readonly refreshHead: (at: number) => void;
  /** The same for the head of an entry as if nothing followed it. */
  readonly refreshLoneHead: (at: number) => void;
};

export function newChains(count: number, extend: Extend): Chains {
  const previous = new Int32Array(count).fill(-1);
  const next = new Int32Array(count).fill(-1);
  const tails = emptyProfiles(count);
  const heads = emptyProfiles(count);
  return {
    previous,
    next,
    tails,
    heads,
    refreshTail: (at) => extend(tails, at, previous[at] as number),
    refreshHead: (at) => extend(heads, at, next[at] as number),
    refreshLoneHead: (at) => extend(heads, at, -1),
  };
}

/** @param block entries in the order of time. */
export function refresh({ refreshTail, refreshHead }: Chains, block: Int32Array): void {
  for (const at of block) refreshTail(at);
  for (let at = block.length - 1; at >= 0; at--) refreshHead(block[at] as number);
}

export function join({ previous, next }: Chains, tail: number, head: number): void {
  next[tail] = head;
  previous[head] = tail;
}

/** Cuts a career behind an entry. */
export function cut({ previous, next }: Chains, tail: number): void {
  const head = next[tail] as number;
  if (head < 0) return;
  next[tail] = -1;
  previous[head] = -1;
}

/** The entries of a career from one of them on. */
export function* from({ next }: Pick<Chains, 'next'>, first: number): Generator<number> {
  for (let at = first; at >= 0; at = next[at] as number) yield at;
}
