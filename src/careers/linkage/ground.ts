import { DAYS_PER_YEAR } from '../../assumptions.ts';
import { type Coded, codeEntries, LANES } from './coded.ts';
import type { LifeDates, LinkageInput } from './entries.ts';
import { type ForenameTable, forenameTable } from './forename-table.ts';
import { type LookedAt, lookedAt } from './looked-at.ts';
import { type NearSurnames, nearSurnames } from './near-surnames.ts';
import { countValues } from './numbered.ts';
import { type Extend, extender } from './profile.ts';

/** First and last day on which each owner can stand in a list. */
export type LifeLimits = ReadonlyMap<number, { readonly from: number; readonly until: number }>;

/** All that is fixed before anything is estimated. */
export type Ground = {
  readonly coded: Coded;
  readonly surnameUses: Int32Array;
  readonly near: NearSurnames;
  readonly forenames: ForenameTable;
  readonly looked: LookedAt;
  readonly lives: LifeLimits;
  readonly extend: Extend;
  /** The surnames of each owner who has several: these names have been said to be one man's. */
  readonly aliases: ReadonlyMap<number, ReadonlySet<number>>;
  /**
   * For each entry another of the same edition to which it is bound, if there is one: such entries are lines of one man by
   * decision only, and one of them stands for all. -1 for all others.
   */
  readonly standsBehind: Int32Array;
};

/** @throws HeldbyError CONFLICT, REFERENCE where the bindings cannot be. */
export function groundOf(input: LinkageInput): Ground {
  const coded = codeEntries(input);
  const surnameUses = countValues(coded.surname, coded.surnames.length);
  const forenames = forenameTable(coded.forenameTexts, countValues(coded.forenames, coded.forenameTexts.length));
  return {
    coded,
    surnameUses,
    near: nearSurnames(coded.surnames),
    forenames,
    looked: lookedAt(coded, input.sweeps),
    lives: lifeLimits(coded, input),
    extend: extender(coded, forenames, surnameUses),
    aliases: aliasesOf(coded),
    standsBehind: behindOthers(coded),
  };
}

function aliasesOf({ owner, surname }: Coded): ReadonlyMap<number, ReadonlySet<number>> {
  const names = new Map<number, Set<number>>();
  for (const [at, of] of owner.entries())
    if (of >= 0) names.set(of, (names.get(of) ?? new Set()).add(surname[at] as number));
  for (const [of, known] of names) if (known.size < 2) names.delete(of);
  return names;
}

function behindOthers({ count, owner, step, lane, editions }: Coded): Int32Array {
  const behind = new Int32Array(count).fill(-1);
  const known = new Map<number, number>();
  for (let at = 0; at < count; at++) {
    if ((owner[at] as number) < 0) continue;
    const key =
      ((owner[at] as number) * editions.sorted.length + (step[at] as number)) * LANES.length + (lane[at] as number);
    const other = known.get(key);
    if (other === undefined) known.set(key, at);
    else behind[at] = other;
  }
  return behind;
}

/** A list may go on printing a man who has died for as long as it lags behind. */
function lifeLimits(coded: Coded, { lives, editions, minimumAgeYears }: LinkageInput): LifeLimits {
  const owners = new Map<string, number>();
  for (const [owner, persons] of coded.bound.persons) for (const person of persons) owners.set(person, owner);
  const lag = editions.reduce((longest, { lagDays }) => Math.max(longest, lagDays), 0);
  const limits = new Map<number, { from: number; until: number }>();
  for (const life of lives) {
    const owner = owners.get(life.person);
    if (owner === undefined) continue;
    const known = limits.get(owner) ?? { from: Number.NEGATIVE_INFINITY, until: Number.POSITIVE_INFINITY };
    limits.set(owner, {
      from: Math.max(known.from, firstDay(life, minimumAgeYears)),
      until: Math.min(known.until, (life.died?.span.until ?? Number.POSITIVE_INFINITY) + lag),
    });
  }
  return limits;
}

const firstDay = ({ born }: LifeDates, minimumAgeYears: number): number =>
  (born?.span.from ?? Number.NEGATIVE_INFINITY) + minimumAgeYears * DAYS_PER_YEAR;
