import { HeldbyError } from '../errors.ts';
import { daysIn, intersection, NO_END, NO_START, type Span } from '../time/span.ts';
import { agreeingKeys, corpsKey } from './corps-key.ts';

/** A title of a corps: one line of its history. A corps that was renumbered or renamed has several. */
export type CorpsTitle = {
  /** How other titles refer to this one, beside its name. */
  readonly key?: string | undefined;
  readonly name: string;
  /** The key or the name of another title of the same corps. */
  readonly sameAs?: string | undefined;
  /** The corps bore it from the first day of `from` to the last day of `to`; without them for all time. */
  readonly from?: Span | undefined;
  readonly to?: Span | undefined;
};

/** A corps by its key, the same under all its titles; the name is the title of the time. */
export type ResolvedCorps = { readonly key: string; readonly name: string };

/**
 * Tells which corps a text names at a time, following changes of title. Of several corps that bore the title at
 * different times, the one counts that bore it longest in the given days, else the one that bore it nearest to them, else
 * (also without days) the earliest. A text that is no recorded title has its spelling as its key.
 * @throws HeldbyError REFERENCE when `sameAs` names no title.
 */
export function corpsResolver(titles: readonly CorpsTitle[]): (text: string, when?: Span) => ResolvedCorps {
  const groups = groupsOf(titles);
  const byName = new Map<string, number[]>();
  for (const [index, title] of titles.entries()) {
    const name = corpsKey(title.name);
    byName.set(name, [...(byName.get(name) ?? []), index]);
  }
  const keys = keysOf(titles, groups);
  return (text, when) => {
    const key = corpsKey(text);
    let best: number | undefined;
    for (const index of byName.get(key) ?? []) {
      if (best === undefined || isBetter(titles[index], titles[best], when)) best = index;
    }
    const title = best === undefined ? undefined : titles[best];
    if (best === undefined || title === undefined) return { key, name: text.trim() };
    return { key: keys[groups[best] ?? best] ?? key, name: title.name };
  };
}

/**
 * The keys of every corps that a text can name on an object, where no list says of which day it is: each that ever bore
 * the title, and its spelling. A number alone names every corps of that number.
 */
export function corpsNamer(titles: readonly CorpsTitle[]): (text: string) => readonly string[] {
  const groups = groupsOf(titles);
  const keys = keysOf(titles, groups);
  return (text) => {
    const key = corpsKey(text);
    const bearing = titles.flatMap(({ name }, index) =>
      agreeingKeys(corpsKey(name), key) ? [keys[groups[index] ?? index] ?? key] : [],
    );
    return [...new Set([...bearing, key])];
  };
}

const usedOf = (title: CorpsTitle | undefined): Span => ({
  from: title?.from?.from ?? NO_START,
  until: title?.to?.until ?? NO_END,
});

function isBetter(a: CorpsTitle | undefined, b: CorpsTitle | undefined, when: Span | undefined): boolean {
  const [spanA, spanB] = [usedOf(a), usedOf(b)];
  if (when !== undefined) {
    const [inA, inB] = [spanA, spanB].map((span) => sharedDays(span, when)) as [number, number];
    if (inA !== inB) return inA > inB;
    const [farA, farB] = [spanA, spanB].map((span) => Math.max(span.from - when.until, when.from - span.until, 0)) as [
      number,
      number,
    ];
    if (farA !== farB) return farA < farB;
  }
  return spanA.from < spanB.from;
}

function sharedDays(a: Span, b: Span): number {
  const shared = intersection(a, b);
  return shared === undefined ? 0 : daysIn(shared);
}

/** For each title the number of the title that stands for its corps: the earliest, then the first recorded. */
function groupsOf(titles: readonly CorpsTitle[]): readonly number[] {
  const named = new Map<string, number>();
  for (const [index, title] of titles.entries())
    if (!named.has(corpsKey(title.name))) named.set(corpsKey(title.name), index);
  const keyed = new Map(
    titles.flatMap((title, index) => (title.key === undefined ? [] : [[title.key, index] as const])),
  );
  const parent = titles.map((_, index) => index);
  const rootOf = (index: number): number => {
    let root = index;
    while (parent[root] !== root) root = parent[root] ?? root;
    return root;
  };
  for (const [index, { name, sameAs }] of titles.entries()) {
    if (sameAs === undefined) continue;
    const other = keyed.get(sameAs) ?? named.get(corpsKey(sameAs));
    if (other === undefined) {
      throw new HeldbyError(
        'REFERENCE',
        `"${name}" is said to be the same corps as "${sameAs}", which is not recorded.`,
        `Record "${sameAs}" as a corps first.`,
      );
    }
    const [a, b] = [rootOf(index), rootOf(other)];
    const aFirst =
      usedOf(titles[a]).from < usedOf(titles[b]).from || (usedOf(titles[a]).from === usedOf(titles[b]).from && a < b);
    parent[aFirst ? b : a] = aFirst ? a : b;
  }
  return titles.map((_, index) => rootOf(index));
}

/** The key of each standing title: its own, else its spelling; a spelling that an earlier corps has takes a number. */
function keysOf(titles: readonly CorpsTitle[], groups: readonly number[]): readonly string[] {
  const roots = [...new Set(groups)].sort((a, b) => usedOf(titles[a]).from - usedOf(titles[b]).from || a - b);
  const taken = new Map<string, number>();
  const keys: string[] = [];
  for (const root of roots) {
    const wanted = titles[root]?.key ?? corpsKey(titles[root]?.name ?? '');
    const before = taken.get(wanted) ?? 0;
    taken.set(wanted, before + 1);
    keys[root] = before === 0 ? wanted : `${wanted} #${before + 1}`;
  }
  return keys;
}
