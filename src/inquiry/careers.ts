import type { LinkageInput, ListEntry } from '../careers/linkage/entries.ts';
import type { JoinGround, NameChange, WeightTable } from '../careers/linkage/linkage.ts';
import type { Exchanged } from '../careers/linkage/odd-lines.ts';
import { entryById } from '../ledger/entries.ts';
import { type PersonName, personName } from '../ledger/people.ts';
import type { Placing } from '../ledger/placings.ts';
import { patternFrom } from '../names/pattern.ts';
import { surnameCost } from '../names/surname-cost.ts';
import { certainPlacings } from './careers-certain.ts';
import type { CareersFound } from './careers-found.ts';
import type { Piece } from './careers-pieces.ts';

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

function sayer({ db, source }: Pick<CareersFound, 'db' | 'source'>): (at: number) => LineSaid {
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

/** An entry by its id. */
export const lineSaid = (found: CareersFound, id: string): LineSaid => sayer(found)(found.pieces.at(id) as number);

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
  const exchanged = found.odd.exchanged.map((pair) => exchangedSaid(pair, found));
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
    nameChanges: linkage.nameChanges().map((change) => changeSaid(change, found)),
    exchanged: exchanged.slice(0, wanted.doubts),
    exchangedBeyond: Math.max(0, exchanged.length - wanted.doubts),
  };
}

/** That neither side has a suffix is told only where it says something. */
const groundsSaid = (grounds: readonly JoinGround[]): Pick<JoinGround, 'text' | 'bits'>[] =>
  grounds
    .filter(({ field, level, bits }) => field !== 'suffix' || level !== 'none' || Math.abs(bits) >= LEAST_TOLD)
    .map(({ text, bits }) => ({ text, bits }));

/** Bits that would be printed as 0.0. */
const LEAST_TOLD = 0.05;

export function changeSaid(
  { last, first, before, after, bits, grounds }: NameChange,
  found: CareersFound,
): NameChangeAnswer {
  const [from, to] = [last, first].map(
    (id) => found.source.input.entries[found.pieces.at(id) as number]?.surname ?? '',
  );
  const options = { elementBits: Number.POSITIVE_INFINITY, limitBits: RESPELT_BITS };
  return {
    last: lineSaid(found, last),
    first: lineSaid(found, first),
    before,
    after,
    respelt: Number.isFinite(surnameCost(patternFrom(from ?? ''), to ?? '', options)),
    bits,
    grounds: groundsSaid(grounds),
  };
}

export function exchangedSaid({ one, other, like }: Exchanged, found: CareersFound): ExchangedAnswer {
  const say = sayer(found);
  const idOf = (at: number): string => found.source.input.entries[at]?.id ?? '';
  return { one: say(one), other: say(other), like: like.map(idOf) };
}

export function proposedInAnswer(
  placing: Placing,
  found: Pick<CareersFound, 'db' | 'source' | 'pieces'>,
  say: (at: number) => LineSaid = sayer(found),
): ProposedPerson {
  const { db, source, pieces } = found;
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
