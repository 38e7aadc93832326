import type { DelayLaw } from '../../src/dating/delay.ts';

/** A mark with its possible holders for the slow sums: `held[c][t]` is w(t) · a(t) · μ(t), `over` a place or −1. */
export type SlowMark = {
  readonly law: DelayLaw;
  readonly over: number;
  readonly namesHolder: boolean;
  /** `law` where it is another than the mark's; `isNobody`: the mark names no holder then. */
  readonly holders: readonly {
    readonly who: string;
    readonly surname: string;
    readonly held: readonly number[];
    readonly law?: DelayLaw;
    readonly isNobody?: boolean;
  }[];
};

export type SlowChain = { assigned: number[]; weight: number; expected: number[]; days: number[][]; order: number[] };

const delay = (law: DelayLaw, k: number, t: number): number =>
  law.reduce((sum, { scale, perDay, fallOff, since }) => sum + scale * perDay ** k * fallOff ** (t - since), 0);

/**
 * One chain by walking over every making and every combination of days of all marks: no sum is taken apart, so it is
 * fit for a few marks on a few days only.
 */
export function slowChain(made: readonly number[], marks: readonly SlowMark[], assigned: readonly number[]): SlowChain {
  const size = made.length;
  const days = marks.map(() => new Array<number>(size).fill(0));
  let weight = 0;
  const chosen: number[] = [];
  const walk = (m: number, y: number, product: number): void => {
    if (product === 0) return;
    const mark = marks[m];
    if (mark === undefined) {
      weight += product;
      for (const [place, t] of chosen.entries()) {
        const row = days[place];
        if (row) row[t] = (row[t] ?? 0) + product;
      }
      return;
    }
    const { held = [], law = mark.law } = mark.holders[assigned[m] ?? 0] ?? {};
    for (let t = y; t < size; t += 1) {
      const under = mark.over;
      if (under >= 0 && under < m && t < (chosen[under] ?? 0)) continue;
      // A mark that a later one in the list underlies is checked when that one is chosen.
      if (marks.some((other, place) => place < m && other.over === m && (chosen[place] ?? 0) < t)) continue;
      chosen[m] = t;
      walk(m + 1, y, product * (held[t] ?? 0) * delay(law, t - y, t));
    }
    chosen.length = m;
  };
  for (let y = 0; y < size; y += 1) walk(0, y, made[y] ?? 0);
  const expected = days.map((row) => row.reduce((sum, value, t) => sum + value * t, 0) / weight);
  const order = marks
    .map((_, place) => place)
    .filter((place) => marks[place]?.namesHolder && !marks[place].holders[assigned[place] ?? 0]?.isNobody)
    .sort((a, b) => (expected[a] ?? 0) - (expected[b] ?? 0) || a - b);
  return { assigned: [...assigned], weight, expected, days, order };
}

export function everyAssignment(marks: readonly SlowMark[]): number[][] {
  return marks.reduce<number[][]>(
    (all, { holders }) => all.flatMap((start) => holders.map((_, c) => [...start, c])),
    [[]],
  );
}

/** Product of the factors between successive holders. Unrecorded holders are called `?` and are never the same. */
export function slowLinks(
  chain: SlowChain,
  marks: readonly SlowMark[],
  kin: (a: string, b: string) => boolean,
): number {
  let product = 1;
  for (let i = 1; i < chain.order.length; i += 1) {
    const [a, b] = [chain.order[i - 1] ?? 0, chain.order[i] ?? 0].map(
      (place) => marks[place]?.holders[chain.assigned[place] ?? 0],
    );
    if (!a || !b) continue;
    if (a.who !== '?' && a.who === b.who) product *= 20;
    else if (a.who !== '?' && b.who !== '?' && kin(a.who, b.who)) product *= 10;
    else if (a.surname !== '' && a.surname === b.surname) product *= 5;
  }
  return product;
}
