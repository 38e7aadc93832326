import type { Assumptions } from '../assumptions.ts';
import type { DelayLaw } from '../dating/delay.ts';
import type { Density } from '../dating/density.ts';
import type { Day } from '../time/span.ts';
import { bearing, type CandidateInput } from './candidate.ts';
import type { Held, OverlayTree } from './overlay-sums.ts';
import { type UnrecordedInput, unrecordedOn } from './unrecorded.ts';

/** One mark of an object, as the succession of holders needs it. */
export type ChainMark = {
  readonly id: string;
  readonly law: DelayLaw;
  /** w(t), the mark's own window, on the days of the making. */
  readonly own: Float64Array;
  /** The mark that this one lies over: it is not earlier. */
  readonly over: string | undefined;
  /** Whoever may have put it on; undefined where the mark names no holder. */
  readonly holders: MarkHolders | undefined;
  /** Its own window lies before any making: it is then kept out of the dating of the object. */
  readonly beforeMaking: boolean;
};

type MarkHolders = {
  readonly candidates: readonly CandidateInput[];
  readonly unrecorded: UnrecordedInput;
  /** Keys of the surnames that the mark bears; empty where it is damaged or gives none. */
  readonly surnames: readonly string[];
};

/** Somebody to whom a mark can be assigned; `person` undefined is somebody unrecorded, or nobody where none is named. */
type Holder = { readonly person: string | undefined; readonly surnames: readonly string[]; readonly held: Held };

export type PreparedMark = {
  readonly id: string;
  readonly place: number;
  readonly namesHolder: boolean;
  readonly law: DelayLaw;
  /** Kept out of the dating of the object: its sum is the same whenever the object was made. */
  readonly detached: boolean;
  /** In the order of the ids of the persons, somebody unrecorded last. Never empty. */
  readonly holders: readonly Holder[];
  /** All holders together: e(t) · w(t). */
  readonly anybody: Held;
  readonly over: string | undefined;
};

/** Of a mark kept out of the dating: any day of its own window alike, whenever the object was made. */
const ANY_DAY: DelayLaw = { kind: 'by-calendar', perDay: 1 };

/**
 * The marks with the days of each possible holder, w(t) · a(t) · μ(t), or w(t) · λ(t) for somebody unrecorded.
 * @param surnamesOf keys of every surname that a person bore.
 */
export function prepareMarks(
  making: Density,
  marks: readonly ChainMark[],
  surnamesOf: (person: string) => readonly string[],
  assumptions: Assumptions,
): PreparedMark[] {
  return marks.map(({ id, own, over, holders, beforeMaking, ...mark }, place) => {
    const law = beforeMaking ? ANY_DAY : mark.law;
    const window = ownDays(own, law);
    const nobody: Holder = { person: undefined, surnames: [], held: window };
    const days = {
      from: (making.from + window.from) as Day,
      until: (making.from + window.from + window.weights.length) as Day,
    };
    const shared = { id, place, law, over, detached: beforeMaking, namesHolder: holders !== undefined };
    if (holders === undefined || window.weights.length === 0) return { ...shared, holders: [nobody], anybody: window };

    const room = new Float64Array(window.weights.length);
    const byPerson = new Map<string, Held[]>();
    for (const candidate of holders.candidates) {
      const { from, weights } = bearing(candidate, { days, room });
      if (weights.length === 0) continue;
      const held = onDays(window, { from: from - making.from, weights });
      const earlier = byPerson.get(candidate.person);
      if (earlier === undefined) byPerson.set(candidate.person, [held]);
      else earlier.push(held);
    }
    const found: Holder[] = [...byPerson]
      .map(([person, held]) => ({ person, surnames: surnamesOf(person), held: together(held) }))
      .sort((a, b) => a.person.length - b.person.length || (a.person < b.person ? -1 : 1));
    const expected = unrecordedOn(days, holders.unrecorded, assumptions);
    const unrecorded = onDays(window, { from: window.from, weights: expected });
    const all: Holder[] = [...found, { person: undefined, surnames: holders.surnames, held: unrecorded }];
    return { ...shared, holders: all, anybody: together(all.map(({ held }) => held)) };
  });
}

/** The days of a mark's own window, the fall-off by the calendar taken in where the role has one. */
function ownDays(own: Float64Array, law: DelayLaw): Held {
  let from = 0;
  let until = own.length;
  while (from < until && own[from] === 0) from += 1;
  while (until > from && own[until - 1] === 0) until -= 1;
  const weights = own.slice(from, until);
  if (law.kind === 'by-calendar') {
    for (let i = 0, left = 1; i < weights.length; i += 1, left *= law.perDay)
      weights[i] = (weights[i] as number) * left;
  }
  return { from, weights };
}

/** `weights` times the mark's own window; they lie within it. */
function onDays(window: Held, { from, weights }: Held): Held {
  const offset = from - window.from;
  for (let i = 0; i < weights.length; i += 1)
    weights[i] = (weights[i] as number) * (window.weights[offset + i] as number);
  return { from, weights };
}

function together(parts: readonly Held[]): Held {
  const [only] = parts;
  if (only !== undefined && parts.length === 1) return only;
  const from = Math.min(...parts.map((part) => part.from));
  const weights = new Float64Array(Math.max(...parts.map((part) => part.from + part.weights.length)) - from);
  for (const part of parts) {
    for (let i = 0; i < part.weights.length; i += 1) {
      const at = part.from - from + i;
      weights[at] = (weights[at] as number) + (part.weights[i] as number);
    }
  }
  return { from, weights };
}

/**
 * The marks as trees of what overlies what. A mark that is kept out of the dating, and one recorded over no mark of the
 * object, stands alone; a ring of marks each over the next is cut at the first of them.
 */
export function overlayTrees(marks: readonly Pick<PreparedMark, 'id' | 'over' | 'law' | 'detached'>[]): OverlayTree[] {
  const places = new Map(marks.map(({ id }, place) => [id, place]));
  const parentOf = marks.map(({ over, detached }) => {
    const parent = over === undefined || detached ? undefined : places.get(over);
    return parent === undefined || marks[parent]?.detached ? undefined : parent;
  });
  const isRooted = (place: number): boolean => {
    const seen = new Set<number>();
    for (let at: number | undefined = place; at !== undefined; at = parentOf[at]) {
      if (seen.has(at)) return false;
      seen.add(at);
    }
    return true;
  };
  for (let place = 0; place < marks.length; place += 1) if (!isRooted(place)) parentOf[place] = undefined;
  const treeAt = (place: number): OverlayTree[] => {
    const law = marks[place]?.law;
    if (law === undefined) return [];
    return [{ place, law, overlying: parentOf.flatMap((parent, above) => (parent === place ? treeAt(above) : [])) }];
  };
  return parentOf.flatMap((parent, place) => (parent === undefined ? treeAt(place) : []));
}
