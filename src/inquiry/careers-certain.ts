import type { ListEntry } from '../careers/linkage/entries.ts';
import type { Join } from '../careers/linkage/linkage.ts';
import type { Placing } from '../ledger/placings.ts';
import type { CareersFound } from './careers-found.ts';
import type { Piece, Pieces } from './careers-pieces.ts';

/** Links of few entries are given their reasons in full. */
const MOST_IN_FULL = 20_000;

/** What is certain enough to be recorded: the entries that are nobody's yet, piece by piece. */
export function certainPlacings(found: CareersFound): Placing[] {
  const { entries } = found.source.input;
  const isOpen = (at: number): boolean => entries[at]?.person === undefined;
  const unplaced = entries.reduce((sum, { person }) => sum + (person === undefined ? 1 : 0), 0);
  const waiting = waitingPieces(found);
  return found.pieces.pieces.flatMap((piece, place) => {
    if (waiting.has(place)) return [];
    const open = piece.entries.filter(isOpen);
    return open.length === 0 ? [] : [placingOf(piece, open, entries, unplaced <= MOST_IN_FULL)];
  });
}

/**
 * Pieces that wait for a decision, by their places, and those that they wait for. Two people on record are never put
 * together again unless somebody says so; so of two pieces that may be one, the greater is recorded and the other waits.
 */
export function waitingPieces(found: CareersFound): ReadonlyMap<number, readonly number[]> {
  const { pieces } = found;
  const rivals = rivalsOf(found);
  const recorded = new Set(pieces.pieces.flatMap(({ people }, piece) => (people.length > 0 ? [piece] : [])));
  const bySize = [...rivals.keys()].sort(
    (a, b) =>
      sizeOf(pieces, b) - sizeOf(pieces, a) ||
      (pieces.pieces[a]?.entries[0] ?? 0) - (pieces.pieces[b]?.entries[0] ?? 0),
  );
  const waiting = new Map<number, readonly number[]>();
  for (const piece of bySize) {
    if (recorded.has(piece)) continue;
    const greater = [...(rivals.get(piece) ?? [])].filter((rival) => recorded.has(rival));
    if (greater.length > 0) waiting.set(piece, greater);
    else recorded.add(piece);
  }
  return waiting;
}

const sizeOf = ({ pieces }: Pieces, piece: number): number => pieces[piece]?.entries.length ?? 0;

/** For each piece those that it may be one with. */
function rivalsOf({ linkage, pieces, doubts }: CareersFound): ReadonlyMap<number, ReadonlySet<number>> {
  const rivals = new Map<number, Set<number>>();
  const add = (one: string, other: string): void => {
    const [a, b] = [one, other].map((id) => pieces.pieceOf[pieces.at(id) as number] as number) as [number, number];
    if (a === b) return;
    rivals.set(a, (rivals.get(a) ?? new Set()).add(b));
    rivals.set(b, (rivals.get(b) ?? new Set()).add(a));
  };
  for (const { one, other } of doubts) add(one, other);
  for (const { last, first } of linkage.nameChanges()) add(last, first);
  return rivals;
}

/** A piece as it is recorded, with the reason of each line. */
export function placingOf(
  piece: Piece,
  open: readonly number[],
  entries: readonly ListEntry[],
  inFull: boolean,
  decided?: string,
): Placing {
  return {
    person: piece.people[0],
    called: fullestName(piece.entries, entries),
    entries: open.map((at) => ({ at, why: whyJoined(piece, at, inFull, decided) })),
  };
}

function whyJoined({ entries, joins }: Piece, at: number, inFull: boolean, decided: string | undefined): string {
  if (decided !== undefined) return decided;
  const join = joins[entries.indexOf(at)];
  if (join === undefined) return entries.length === 1 ? 'no other line is like it' : 'the first line known';
  const chance = `a chance of ${chanceInWords(join.chance)}`;
  return inFull ? `as ${join.earlier}: ${strongest(join)}; ${chance}` : `as ${join.earlier}: ${chance}`;
}

/** Grounds that are named: those that say most. */
const NAMED = 3;

const strongest = ({ grounds }: Join): string =>
  grounds
    .filter(({ level }) => level !== 'none')
    .sort((a, b) => b.bits - a.bits)
    .slice(0, NAMED)
    .map(({ text }) => text)
    .join(', ');

export const chanceInWords = (chance: number): string =>
  chance > 0.9999 ? 'over 0.9999' : chance.toFixed(chance > 0.99 ? 4 : 2);

/** The entry with the most letters in its forenames; of equals the first. */
export function fullestName(own: readonly number[], entries: readonly ListEntry[]): number {
  const letters = (at: number): number => entries[at]?.forenames.replaceAll(/[^\p{L}]/gu, '').length ?? 0;
  return own.reduce((best, at) => (letters(at) > letters(best) ? at : best), own[0] as number);
}
