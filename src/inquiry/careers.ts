import type { LinkageInput, ListEntry } from '../careers/linkage/entries.ts';
import { linkEntries } from '../careers/linkage/link-entries.ts';
import type { Doubt, Join, JoinGround, Linkage, NameChange, WeightTable } from '../careers/linkage/linkage.ts';
import { type OddLines, oddLines } from '../careers/linkage/odd-lines.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { entryById } from '../ledger/entries.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import { type LinkageSource, linkageSource } from '../ledger/linkage-input.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, personName } from '../ledger/people.ts';
import type { Placing } from '../ledger/placings.ts';
import { patternFrom } from '../names/pattern.ts';
import { surnameCost } from '../names/surname-cost.ts';
import { type Piece, type Pieces, piecesOf } from './careers-pieces.ts';

/** A line of a list as the answers tell it. */
export type LineSaid = {
  readonly id: string;
  readonly says: string;
  /** The person who is said to bear it. */
  readonly person: PersonName | null;
};

export type ProposedPerson = {
  /** Null for somebody new. */
  readonly person: PersonName | null;
  readonly name: string;
  /** Every entry in the order of time, and those of them that would be placed. */
  readonly entries: readonly string[];
  readonly added: readonly string[];
  readonly first: LineSaid;
  readonly last: LineSaid;
  /** The least chance of a join among them; null where there is none. */
  readonly leastChance: number | null;
};

export type DoubtAnswer = {
  readonly one: LineSaid;
  readonly other: LineSaid;
  /** Whether they are taken for one as things stand. */
  readonly joined: boolean;
  readonly chance: number;
  /** How many pairs of entries an answer would settle. */
  readonly settles: number;
  readonly instead: LineSaid | null;
  readonly grounds: readonly Pick<JoinGround, 'text' | 'bits'>[];
  /** Two lines of one edition, one of them asked about, that may have been exchanged; null where there are none. */
  readonly exchanged: ExchangedAnswer | null;
  /** A line apart from others of the name that says the same; the chance is that of the two taken by themselves. */
  readonly stray: boolean;
};

/** Two lines of one edition that agree with those of their names only if what they say is exchanged. */
export type ExchangedAnswer = { readonly one: LineSaid; readonly other: LineSaid; readonly like: readonly string[] };

export type NameChangeAnswer = {
  readonly last: LineSaid;
  readonly first: LineSaid;
  readonly before: string;
  readonly after: string;
  /** The surnames differ by so little that it may be a spelling or a misprint. */
  readonly respelt: boolean;
  readonly bits: number;
  readonly grounds: readonly Pick<JoinGround, 'text' | 'bits'>[];
};

export type CareersAnswer = {
  readonly entries: { readonly all: number; readonly placed: number; readonly unplaced: number };
  readonly editions: { readonly all: number; readonly whole: number };
  /** Entries that `--accept` would place, the people it would make, and the entries that wait for a decision. */
  readonly certain: { readonly entries: number; readonly newPeople: number; readonly knownPeople: number };
  readonly waiting: number;
  readonly people: readonly ProposedPerson[];
  readonly peopleBeyond: number;
  readonly doubts: readonly DoubtAnswer[];
  readonly doubtsBeyond: number;
  readonly nameChanges: readonly NameChangeAnswer[];
  /** Every pair of lines that may have been exchanged, asked about or not. */
  readonly exchanged: readonly ExchangedAnswer[];
  readonly exchangedBeyond: number;
};

export type Whole = 'all' | 'none' | 'by lines';

/** Entries put together, with what is needed to tell and record it. */
export type CareersFound = {
  readonly db: Db;
  readonly source: LinkageSource;
  readonly linkage: Linkage;
  readonly pieces: Pieces;
  readonly doubts: readonly Doubt[];
  /** Those of the doubts that are of stray lines. */
  readonly strays: ReadonlySet<Doubt>;
  readonly odd: OddLines;
  /** Who bears pieces that decisions have placed since. */
  readonly placedSince: Map<number, number>;
};

/** Puts all entries of the ledger together into people. */
export function careersFound(db: Db, whole: Whole): CareersFound {
  const assumptions = assumptionsOf(db);
  const source = linkageSource(db, evidenceReader(db, assumptions), assumptions, whole);
  const linkage = linkEntries(source.input);
  const pieces = piecesOf(linkage, source.input);
  const odd = oddLines(source.input);
  const doubts = linkage.doubts();
  const strays = strayLines(source.input.entries, linkage, pieces, odd, doubts);
  return {
    db,
    source,
    linkage,
    pieces,
    doubts: [...doubts, ...strays],
    strays: new Set(strays),
    odd,
    placedSince: new Map(),
  };
}

/**
 * Lines that stand alone, though another of the same name says the same of the same day: by the years they are two, but
 * the line may have been taken down under the wrong edition, so it is asked.
 */
function strayLines(
  entries: readonly ListEntry[],
  linkage: Linkage,
  { pieces, at, pieceOf }: Pieces,
  odd: OddLines,
  asked: readonly Doubt[],
): Doubt[] {
  const known = new Set(asked.flatMap(({ one, other }) => [one, other].map((id) => pieceOf[at(id) as number])));
  const idOf = (place: number): string => entries[place]?.id ?? '';
  return pieces.flatMap(({ entries: own, people }, place): Doubt[] => {
    const [line] = own;
    if (line === undefined || own.length > 1 || people.length > 0 || known.has(place)) return [];
    const like = odd.alike(line);
    if (like === undefined || pieceOf[like] === place) return [];
    const [one, other] = [idOf(like), idOf(line)];
    const settles = pieces[pieceOf[like] as number]?.entries.length ?? 1;
    const { chance, grounds } = linkage.compared(one, other);
    return [{ one, other, joined: false, chance, settles, instead: undefined, grounds }];
  });
}

/** Links of few entries are given their reasons in full. */
const MOST_IN_FULL = 20_000;

/**
 * What is certain enough to be recorded: the entries that are nobody's yet, piece by piece. Two people on record are
 * never put together again unless somebody says so; so of two pieces that may be one, the greater is recorded and the
 * other waits for a decision.
 */
export function certainPlacings(found: CareersFound): Placing[] {
  const { source, pieces } = found;
  const { entries } = source.input;
  const isOpen = (at: number): boolean => entries[at]?.person === undefined;
  const unplaced = entries.reduce((sum, { person }) => sum + (person === undefined ? 1 : 0), 0);
  const rivals = rivalsOf(found);
  const recorded = new Set(pieces.pieces.flatMap(({ people }, piece) => (people.length > 0 ? [piece] : [])));
  const bySize = [...rivals.keys()].sort(
    (a, b) =>
      sizeOf(pieces, b) - sizeOf(pieces, a) ||
      (pieces.pieces[a]?.entries[0] ?? 0) - (pieces.pieces[b]?.entries[0] ?? 0),
  );
  const waiting = new Set<number>();
  for (const piece of bySize) {
    if (recorded.has(piece)) continue;
    const hasRival = [...(rivals.get(piece) ?? [])].some((rival) => recorded.has(rival));
    (hasRival ? waiting : recorded).add(piece);
  }
  return pieces.pieces.flatMap((piece, place) => {
    if (waiting.has(place)) return [];
    const open = piece.entries.filter(isOpen);
    return open.length === 0 ? [] : [placingOf(piece, open, entries, unplaced <= MOST_IN_FULL)];
  });
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
  [...grounds]
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

export function sayer({ db, source }: Pick<CareersFound, 'db' | 'source'>): (at: number) => LineSaid {
  const { input } = source;
  return (at) => {
    const entry = input.entries[at] as ListEntry;
    return {
      id: entry.id,
      says: lineInWords(entry, input, entryById(db, Number(entry.id.slice(1)))?.page ?? null),
      person: entry.person === undefined ? null : personName(db, Number(entry.person.slice(1))),
    };
  };
}

function lineInWords(entry: ListEntry, { editions }: LinkageInput, page: string | number | null): string {
  const { surname, forenames, suffix, rank, corps, dated, edition, kind } = entry;
  return [
    [forenames, surname, suffix].filter((part) => part !== undefined && part !== '').join(' '),
    ...(rank === undefined ? [] : [`${rank.title}${kind === 'substantive' ? '' : ` (${kind})`}`]),
    ...(corps === undefined ? [] : [corps.name]),
    ...(dated === undefined ? [] : [`dated ${dated.text}`]),
    `edition ${editions[edition]?.label ?? ''}`,
    ...(page === null ? [] : [`p. ${page}`]),
  ].join(', ');
}

/** Two letters that differ; a change of name is of more. */
const RESPELT_BITS = 24;

export type CareersWanted = { readonly people: number; readonly doubts: number };

/** What would be recorded, what is doubtful, and which names may have changed. */
export function careersInAnswer(found: CareersFound, wanted: CareersWanted): CareersAnswer {
  const { source, linkage, pieces, doubts } = found;
  const { entries, editions } = source.input;
  const placings = certainPlacings(found);
  const placed = entries.reduce((sum, { person }) => sum + (person === undefined ? 0 : 1), 0);
  const certain = placings.reduce((sum, placing) => sum + placing.entries.length, 0);
  const say = sayer(found);
  const at = (id: string): number => pieces.at(id) as number;
  const isNear = (one: number, other: number): boolean => {
    const pattern = patternFrom(entries[one]?.surname ?? '');
    const options = { elementBits: Number.POSITIVE_INFINITY, limitBits: RESPELT_BITS };
    return Number.isFinite(surnameCost(pattern, entries[other]?.surname ?? '', options));
  };
  const exchanged = found.odd.exchanged.map(
    ({ one, other, like }): ExchangedAnswer => ({
      one: say(one),
      other: say(other),
      like: like.map((place) => entries[place]?.id ?? ''),
    }),
  );
  const exchangedOf = new Map(exchanged.flatMap((pair) => [pair.one, pair.other].map(({ id }) => [id, pair] as const)));
  const proposed = [...placings].sort((a, b) => b.entries.length - a.entries.length);
  return {
    entries: { all: entries.length, placed, unplaced: entries.length - placed },
    editions: { all: editions.length, whole: editions.filter((edition) => edition.whole).length },
    certain: {
      entries: certain,
      newPeople: placings.filter(({ person }) => person === undefined).length,
      knownPeople: new Set(placings.flatMap(({ person }) => person ?? [])).size,
    },
    waiting: entries.length - placed - certain,
    people: proposed.slice(0, wanted.people).map((placing) => proposedInAnswer(placing, found, say)),
    peopleBeyond: Math.max(0, proposed.length - wanted.people),
    doubts: doubts.slice(0, wanted.doubts).map((doubt) => ({
      one: say(at(doubt.one)),
      other: say(at(doubt.other)),
      joined: doubt.joined,
      chance: doubt.chance,
      settles: doubt.settles,
      instead: doubt.instead === undefined ? null : say(at(doubt.instead)),
      grounds: groundsSaid(doubt.grounds),
      stray: found.strays.has(doubt),
      exchanged: exchangedOf.get(doubt.one) ?? exchangedOf.get(doubt.other) ?? null,
    })),
    doubtsBeyond: Math.max(0, doubts.length - wanted.doubts),
    nameChanges: linkage.nameChanges().map((change) => changeInAnswer(change, say, at, isNear)),
    exchanged: exchanged.slice(0, wanted.doubts),
    exchangedBeyond: Math.max(0, exchanged.length - wanted.doubts),
  };
}

const groundsSaid = (grounds: readonly JoinGround[]): Pick<JoinGround, 'text' | 'bits'>[] =>
  grounds.map(({ text, bits }) => ({ text, bits }));

const changeInAnswer = (
  { last, first, before, after, bits, grounds }: NameChange,
  say: (at: number) => LineSaid,
  at: (id: string) => number,
  isNear: (one: number, other: number) => boolean,
): NameChangeAnswer => ({
  last: say(at(last)),
  first: say(at(first)),
  before,
  after,
  respelt: isNear(at(last), at(first)),
  bits,
  grounds: groundsSaid(grounds),
});

function proposedInAnswer(
  placing: Placing,
  { db, source, pieces }: CareersFound,
  say: (at: number) => LineSaid,
): ProposedPerson {
  const { entries } = source.input;
  const piece = pieces.pieces[pieces.pieceOf[placing.called] as number] as Piece;
  const { forenames, surname } = entries[placing.called] as ListEntry;
  const person = placing.person === undefined ? null : personName(db, placing.person);
  const chances = piece.joins.flatMap((join) => (join === undefined ? [] : [join.chance]));
  const id = (at: number): string => entries[at]?.id ?? '';
  return {
    person,
    name: person?.name ?? [forenames, surname].filter((part) => part !== '').join(' '),
    entries: piece.entries.map(id),
    added: placing.entries.map((each) => id(each.at)),
    first: say(piece.entries[0] as number),
    last: say(piece.entries[piece.entries.length - 1] as number),
    leastChance: chances.length === 0 ? null : Math.min(...chances),
  };
}

/** The weights by which lines are compared, as they were estimated from the entries. */
export const careersWeights = ({ linkage }: Pick<CareersFound, 'linkage'>): WeightTable => linkage.weights;
