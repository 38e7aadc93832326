import type { LinkageInput, ListEntry } from './entries.ts';

/** Two lines of one edition that agree with the lines of their names elsewhere only if what they say is exchanged. */
export type Exchanged = {
  readonly one: number;
  readonly other: number;
  /** The lines of the other name that say what the first does, and those of the first that say what the other does. */
  readonly like: readonly number[];
};

/** Places among the entries. */
type Lines = readonly number[];

export type OddLines = {
  readonly exchanged: readonly Exchanged[];
  /** For each entry a line of the same name in another edition, not the next, that says the same of the same day. */
  alike(at: number): number | undefined;
};

/**
 * What the lines of one name show by themselves. A name that stands twice in an edition is of two people, and shows
 * nothing. A clerk who slides a line gives two neighbours each other's rank, corps and date: that need contradict nothing.
 */
export function oddLines({ entries, editions }: LinkageInput): OddLines {
  const dayOf = (at: number): number => editions[entries[at]?.edition ?? -1]?.asAt.from ?? Number.NaN;
  const names = namesOf(entries, dayOf);
  const said = (at: number): string => saidBy(entries[at] as ListEntry);
  const besideOf = new Map<number, Lines>();
  const suspects = new Map<string, number[]>();
  for (const lines of names.values()) {
    for (const [place, at] of lines.entries()) {
      const beside = [lines[place - 1], lines[place + 1]].flatMap((each) => each ?? []);
      if (beside.length === 0 || beside.some((each) => said(each) === said(at))) continue;
      besideOf.set(at, beside);
      const key = `${entries[at]?.edition} ${said(at)}`;
      suspects.set(key, [...(suspects.get(key) ?? []), at]);
    }
  }
  const exchanged: Exchanged[] = [];
  for (const [one, beside] of besideOf) {
    for (const own of new Set(beside.map(said))) {
      for (const other of suspects.get(`${entries[one]?.edition} ${own}`) ?? []) {
        const theirs = (besideOf.get(other) ?? []).filter((each) => said(each) === said(one));
        if (other <= one || theirs.length === 0) continue;
        exchanged.push({ one, other, like: [...theirs, ...beside.filter((each) => said(each) === own)] });
      }
    }
  }
  return {
    exchanged: bestSupported(exchanged),
    alike(at) {
      const entry = entries[at] as ListEntry;
      const lines = names.get(nameOf(entry)) ?? [];
      const place = lines.indexOf(at);
      if (entry.dated === undefined || place < 0 || besideOf.get(at) === undefined) return undefined;
      return lines.filter((each) => each !== at && said(each) === said(at)).at(-1);
    },
  };
}

/** A line beside one that was exchanged looks exchanged too: the pair that more lines speak for goes first. */
function bestSupported(pairs: readonly Exchanged[]): Exchanged[] {
  const taken = new Set<number>();
  const witnesses = new Set<number>();
  const chosen = [...pairs]
    .sort((a, b) => b.like.length - a.like.length)
    .filter(({ one, other, like }) => {
      if ([one, other].some((at) => taken.has(at) || witnesses.has(at)) || like.some((at) => taken.has(at)))
        return false;
      for (const at of [one, other]) taken.add(at);
      for (const at of like) witnesses.add(at);
      return true;
    });
  return chosen.sort((a, b) => a.one - b.one);
}

/** Lines of each name in the order of time; a name that stands twice in an edition is left out. */
function namesOf(entries: readonly ListEntry[], dayOf: (at: number) => number): ReadonlyMap<string, number[]> {
  const names = new Map<string, number[]>();
  for (const [at, entry] of entries.entries()) {
    if (entry.kind !== 'substantive') continue;
    const lines = names.get(nameOf(entry));
    if (lines === undefined) names.set(nameOf(entry), [at]);
    else lines.push(at);
  }
  for (const [name, lines] of names) {
    if (new Set(lines.map((at) => entries[at]?.edition)).size < lines.length) names.delete(name);
    else lines.sort((a, b) => dayOf(a) - dayOf(b));
  }
  return names;
}

const nameOf = ({ surname, forenames, suffix, rank }: ListEntry): string =>
  `${surname}|${forenames}|${suffix ?? ''}|${rank?.service ?? ''}`;

const saidBy = ({ rank, corps, dated }: ListEntry): string =>
  `${rank?.id ?? ''}|${corps?.key ?? ''}|${dated?.span.from ?? ''}|${dated?.span.until ?? ''}`;
