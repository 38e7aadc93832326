import { foldName } from '../../names/pattern.ts';
import type { Coded } from './coded.ts';
import type { CodedEditions } from './coded-editions.ts';
import type { NameSweep } from './entries.ts';

/** How many editions in which a man would have been found lie between two of the order of time. */
export type LookedAt = {
  /** Editions after `from`, up to and including `to`, of the service of `to`; at least 1, since `to` lists him. */
  gap(surname: number, from: number, to: number): number;
  /** Editions of the service of `from` after it. */
  after(surname: number, from: number): number;
};

/** Whole editions count for every surname, one of which a part was taken for the surnames that were swept in it. */
export function lookedAt(coded: Coded, sweeps: readonly NameSweep[]): LookedAt {
  const { service, sorted } = coded.editions;
  const steps = sorted.length;
  const whole = wholeBefore(coded.editions);
  const swept = sweptSteps(coded, sweeps);
  const between = (surname: number, of: number, from: number, to: number): number => {
    const base = of * (steps + 1);
    const count = (whole[base + to + 1] as number) - (whole[base + from + 1] as number);
    if (swept.size === 0) return count;
    return (
      count + (swept.get(surname)?.filter((step) => step > from && step <= to && service[step] === of).length ?? 0)
    );
  };
  return {
    gap: (surname, from, to) => {
      const isCounted = sorted[to]?.whole === true || swept.get(surname)?.includes(to) === true;
      return Math.max(1, between(surname, service[to] as number, from, to) + (isCounted ? 0 : 1));
    },
    after: (surname, from) => between(surname, service[from] as number, from, steps - 1),
  };
}

/** At `service * (steps + 1) + step + 1` the whole editions of the service up to that step. */
function wholeBefore({ sorted, service, services }: CodedEditions): Int32Array {
  const row = sorted.length + 1;
  const counts = new Int32Array(services.length * row);
  for (const of of services.keys())
    for (const [step, { whole }] of sorted.entries()) {
      const at = of * row + step;
      counts[at + 1] = (counts[at] as number) + (whole && service[step] === of ? 1 : 0);
    }
  return counts;
}

function sweptSteps(coded: Coded, sweeps: readonly NameSweep[]): ReadonlyMap<number, readonly number[]> {
  const steps = new Map<number, number[]>();
  if (sweeps.length === 0) return steps;
  const { stepOf, sorted } = coded.editions;
  const numbers = new Map(coded.surnames.map((name, number) => [name, number]));
  for (const { edition, surname } of sweeps) {
    const number = numbers.get(foldName(surname));
    const step = stepOf[edition];
    if (number === undefined || step === undefined || sorted[step]?.whole === true) continue;
    const known = steps.get(number) ?? [];
    if (!known.includes(step)) steps.set(number, [...known, step]);
  }
  return steps;
}
