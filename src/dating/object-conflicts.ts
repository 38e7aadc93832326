import { findContradictions } from '../careers/contradictions.ts';
import { type Explained, explainSets, inWords } from '../careers/explained-conflicts.ts';
import { constrain, emptyNetwork, FIXED, type Network, notAfter, notBefore } from '../careers/network.ts';
import type { Span } from '../time/span.ts';
import type { Confidence, WindowConflict } from './hard-windows.ts';
import { exclusion, type FeatureWindow, type Making } from './making.ts';
import type { MarkClue, Marking } from './marking.ts';

/** A mark with what fixes its day: its own date, its clues, and the mark that it lies over. */
export type OrderedMark = {
  readonly id: string;
  readonly stated: Span | undefined;
  readonly clues: readonly MarkClue[];
  readonly over: string | undefined;
  readonly recorded: number;
  readonly marking: Pick<Marking, 'conflicts'>;
};

/** What one record of an object says of a day: `on` is the object or mark whose day it is. */
export type WindowClaim = {
  readonly id: string;
  readonly part: 'window' | 'made' | 'clue' | 'over';
  readonly on: string;
  /** Outside it nothing can be; undefined for the order of two marks. */
  readonly window: Span | undefined;
  readonly over: string | undefined;
  readonly confidence: Confidence;
};

/** What is left out of the reckoning to clear a conflict. */
export type ObjectConflict = Explained<WindowClaim>;

const WEIGHTS: Readonly<Record<Confidence, number>> = { low: 1, medium: 2, high: 3 };

type Recorded = WindowClaim & { readonly recorded: number };

/**
 * Windows and orders of marks that cannot all be true, as difference constraints on the day Y on which the object was
 * made and the day T of each mark.
 *
 * 1. A hard window of an original part bounds Y; one of a replaced or added part bounds it by its end alone.
 * 2. The date that a mark states, and its hard clues, bound T.
 * 3. No mark is put on before the object is made: T >= Y.
 * 4. A mark that lies over another was not put on before it.
 *
 * What is set aside is what the dating leaves out: of features, and of the windows of one mark, the one of least
 * confidence, then the later recorded; of a feature and a mark's date the date; of the dates of marks that lie over each
 * other their order.
 */
export function objectConflicts(
  features: readonly FeatureWindow[],
  marks: readonly OrderedMark[],
  making: Pick<Making, 'conflicts'>,
): readonly ObjectConflict[] {
  const { claims, network } = windowNetwork(features, marks);
  const settled = new Set([making, ...marks.map(({ marking }) => marking)].flatMap(asideOf));
  const { sets: found } = findContradictions(network);
  const alone = outsideHorizon(making.conflicts, claims);
  const sets = [...alone, ...found];
  const aside = new Set(claims.flatMap(({ id, part }, k) => (part !== 'over' && settled.has(id) ? [k] : [])));
  for (const set of found) {
    if (set.some((k) => aside.has(k))) continue;
    const over = set.filter((k) => claims[k]?.part === 'over');
    const dates = set.filter((k) => claims[k]?.part === 'made' || claims[k]?.part === 'clue');
    for (const k of over.length > 0 ? over : dates) aside.add(k);
  }
  const prices = {
    reliability: claims.map(({ confidence }) => WEIGHTS[confidence]),
    turn: turnsOf(claims),
  };
  const say = (k: number): WindowClaim => {
    const { recorded: _recorded, ...claim } = claims[k] as Recorded;
    return claim;
  };
  return explainSets(sets, (set) => set.length > 1, aside, prices, sets.length).map(inWords(say));
}

const asideOf = ({ conflicts }: { readonly conflicts: readonly WindowConflict[] }): readonly string[] =>
  conflicts.flatMap(({ setAside }) => setAside);

/** Windows of features that lie outside the years in which the object can have been made at all. */
const outsideHorizon = (conflicts: readonly WindowConflict[], claims: readonly Recorded[]): number[][] =>
  conflicts.flatMap(({ members }) => {
    const at = claims.findIndex(({ id, part }) => part === 'window' && id === members[0]);
    return members.length === 1 && at >= 0 ? [[at]] : [];
  });

function windowNetwork(
  features: readonly FeatureWindow[],
  marks: readonly OrderedMark[],
): { readonly claims: readonly Recorded[]; readonly network: Network } {
  const claims: Recorded[] = [];
  const network = emptyNetwork(2 + marks.length);
  const MADE = 1;
  const nodeOf = new Map(marks.map(({ id }, place) => [id, 2 + place]));
  const within = (node: number, window: Span, claim: Recorded): void => {
    notBefore(network, node, window.from, claims.length);
    notAfter(network, node, window.until - 1, claims.length);
    claims.push(claim);
  };
  for (const feature of features) {
    const { id, confidence = 'medium', recorded, window: whole } = feature;
    const claim: Recorded = { id, part: 'window', on: '', window: whole, over: undefined, confidence, recorded };
    const window = exclusion(feature);
    if (window !== undefined) within(MADE, window, { ...claim, window });
    else claims.push(claim); // bounds nothing, but can lie outside the horizon
  }
  for (const { id, stated, clues, over, recorded } of marks) {
    const node = nodeOf.get(id) as number;
    const said = { on: id, over: undefined, recorded };
    constrain(network, MADE, node, 0, FIXED);
    if (stated !== undefined) within(node, stated, { ...said, id, part: 'made', window: stated, confidence: 'high' });
    for (const { id: clue, window, force, confidence = 'medium', recorded: later } of clues) {
      if (force === 'hard')
        within(node, window, { ...said, id: clue, part: 'clue', window, confidence, recorded: later });
    }
    const under = over === undefined ? undefined : nodeOf.get(over);
    if (over === undefined || under === undefined) continue;
    constrain(network, under, node, 0, claims.length);
    claims.push({ id, part: 'over', on: id, window: undefined, over, confidence: 'high', recorded });
  }
  return { claims, network };
}

/** Among equally sure ones the later recorded gives way first. */
function turnsOf(claims: readonly Recorded[]): number[] {
  const order = [...claims.keys()].sort((a, b) => (claims[b]?.recorded ?? 0) - (claims[a]?.recorded ?? 0) || b - a);
  const turn: number[] = [];
  order.forEach((claim, place) => {
    turn[claim] = place;
  });
  return turn;
}
