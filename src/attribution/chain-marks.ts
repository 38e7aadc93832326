import type { Assumptions } from '../assumptions.ts';
import type { DelayLaw } from '../dating/delay.ts';
import { addInto, type Density, multiplyInto } from '../dating/density.ts';
import type { Day } from '../time/span.ts';
import { bearing, type CandidateInput } from './candidate.ts';
import type { Held, OverlayTree, Weighted } from './overlay-sums.ts';
import { type UnrecordedInput, unrecordedOn } from './unrecorded.ts';

/** One mark of an object, as the succession of holders needs it. */
export type ChainMark = {
  readonly id: string;
  /** How long after the making it is put on, as the mark of whoever it names. */
  readonly law: DelayLaw;
  /**
   * The same if it has a role under which it names no holder, times what its words weigh then; undefined where it has no
   * such role, or has no other.
   */
  readonly unnamed?: DelayLaw | undefined;
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
  /** Undefined where the candidates alone are asked about. */
  readonly unrecorded: UnrecordedInput | undefined;
  /** Keys of the surnames that the mark bears; empty where it is damaged or gives none. */
  readonly surnames: readonly string[];
};

/** Somebody to whom a mark can be assigned; `person` undefined is somebody unrecorded, or nobody where none is named. */
type Holder = {
  readonly person: string | undefined;
  readonly surnames: readonly string[];
  /** The mark names no holder. */
  readonly isNobody: boolean;
  readonly held: Held;
};

export type PreparedMark = {
  readonly id: string;
  readonly place: number;
  /** It can name a holder; under another of its roles it may name none. */
  readonly namesHolder: boolean;
  /** Kept out of the dating of the object: its sum is the same whenever the object was made. */
  readonly detached: boolean;
  /** In the order of the ids of the persons, then somebody unrecorded, then nobody. Never empty. */
  readonly holders: readonly Holder[];
  /** All holders together, e(t) · w(t), for each law of delay. */
  readonly anybody: readonly Held[];
  readonly over: string | undefined;
};

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
  const firstMaking = Math.max(
    0,
    making.weights.findIndex((weight) => weight > 0),
  );
  return marks.map(({ id, own, over, holders, beforeMaking, ...mark }, place) => {
    // Before the first day of making nothing was there to be marked.
    const window = ownDays(own, beforeMaking ? 0 : firstMaking);
    const nobody = (law: DelayLaw): Holder => ({
      person: undefined,
      surnames: [],
      isNobody: true,
      held: { ...window, law },
    });
    const days = {
      from: (making.from + window.from) as Day,
      until: (making.from + window.from + window.weights.length) as Day,
    };
    const shared = { id, place, over, detached: beforeMaking, namesHolder: holders !== undefined };
    if (holders === undefined || window.weights.length === 0) {
      const only = nobody(mark.law);
      return { ...shared, holders: [only], anybody: [only.held] };
    }

    const byPerson = new Map<string, Weighted[]>();
    for (const candidate of holders.candidates) {
      const { from, weights } = bearing(candidate, days);
      if (weights.length === 0) continue;
      const held = onDays(window, { from: from - making.from, weights });
      const earlier = byPerson.get(candidate.person);
      if (earlier === undefined) byPerson.set(candidate.person, [held]);
      else earlier.push(held);
    }
    const found = [...byPerson]
      .map(([person, held]) => ({ person, surnames: surnamesOf(person), held: together(held) }))
      .sort((a, b) => a.person.length - b.person.length || (a.person < b.person ? -1 : 1));
    const others = holders.unrecorded && {
      person: undefined,
      surnames: holders.surnames,
      held: onDays(window, { from: window.from, weights: unrecordedOn(days, holders.unrecorded, assumptions) }),
    };
    const named = [...found, ...(others === undefined ? [] : [others])].map(
      (one): Holder => ({ ...one, isNobody: false, held: { ...one.held, law: mark.law } }),
    );
    const rest = mark.unnamed === undefined && named.length > 0 ? [] : [nobody(mark.unnamed ?? mark.law)];
    if (named.length === 0) return { ...shared, holders: rest, anybody: rest.map(({ held }) => held) };
    const somebody = { ...together(named.map(({ held }) => held)), law: mark.law };
    return { ...shared, holders: [...named, ...rest], anybody: [somebody, ...rest.map(({ held }) => held)] };
  });
}

/** The days of a mark's own window, from a day on. */
function ownDays(own: Float64Array, first: number): Weighted {
  let from = first;
  let until = own.length;
  while (from < until && own[from] === 0) from += 1;
  while (until > from && own[until - 1] === 0) until -= 1;
  return { from, weights: own.subarray(from, until) };
}

/** `weights` times the mark's own window; they lie within it. */
function onDays(window: Weighted, { from, weights }: Weighted): Weighted {
  multiplyInto(weights, window.weights, from - window.from);
  return { from, weights };
}

function together(parts: readonly Weighted[]): Weighted {
  const [only] = parts;
  if (only !== undefined && parts.length === 1) return only;
  const from = Math.min(...parts.map((part) => part.from));
  const weights = new Float64Array(Math.max(...parts.map((part) => part.from + part.weights.length)) - from);
  for (const part of parts) addInto(weights, part.weights, part.from - from);
  return { from, weights };
}

/**
 * The marks as trees of what overlies what. A mark that is kept out of the dating, and one recorded over no mark of the
 * object, stands alone; a ring of marks each over the next is cut at the first of them.
 */
export function overlayTrees(marks: readonly Pick<PreparedMark, 'id' | 'over' | 'detached'>[]): OverlayTree[] {
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
  const treeAt = (place: number): OverlayTree => ({
    place,
    overlying: parentOf.flatMap((parent, above) => (parent === place ? [treeAt(above)] : [])),
  });
  return parentOf.flatMap((parent, place) => (parent === undefined ? [treeAt(place)] : []));
}
