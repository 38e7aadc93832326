import type { ListEntry } from '../careers/linkage/entries.ts';
import { HeldbyError } from '../errors.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { samePeople } from '../ledger/people.ts';
import { recordPlacings } from '../ledger/placings.ts';
import type { Recording } from '../ledger/recording.ts';
import { addRecord } from '../ledger/records.ts';
import { isoDay } from '../time/calendar.ts';
import type { Day } from '../time/span.ts';
import { fullestName, placingOf } from './careers-certain.ts';
import type { CareersFound } from './careers-found.ts';
import type { Piece } from './careers-pieces.ts';

export const DECISIONS = ['same', 'differ', 'renamed'] as const;

/**
 * What the researcher decided about two entries, or people: they are one; they are not; or they are one who changed the
 * name of the first for that of the other.
 */
export type CareerDecision = {
  readonly one: string;
  readonly other: string;
  readonly decision: (typeof DECISIONS)[number];
  readonly why: string | undefined;
  /** Where it stands in a file, for messages. */
  readonly where?: string;
};

export type Decided = {
  /** Ids of what was recorded beside links: findings and names. */
  readonly findings: readonly string[];
  readonly links: number;
  readonly newPeople: number;
};

/** Entries of one piece, or a person named outright. */
type Side = { readonly piece: number | undefined; readonly entry: number | undefined; person: number | undefined };

/**
 * Records decisions, one after another, each upon what those before it have made.
 * @throws HeldbyError REFERENCE for an entry that is not there, CONFLICT for two that are found to be one, or not to be.
 */
export function recordDecisions(into: Recording, found: CareersFound, decisions: readonly CareerDecision[]): Decided {
  const decider = new Decider(into, found);
  for (const decision of decisions) {
    try {
      decider.decide(decision);
    } catch (error) {
      if (error instanceof HeldbyError && error.where === undefined && decision.where !== undefined)
        throw new HeldbyError(error.code, error.message, error.hint, decision.where);
      throw error;
    }
  }
  return { findings: decider.findings, links: decider.links, newPeople: decider.newPeople };
}

class Decider {
  readonly findings: string[] = [];
  links = 0;
  newPeople = 0;
  readonly #into: Recording;
  readonly #found: CareersFound;
  readonly #personOf: Map<number, number>;

  constructor(into: Recording, found: CareersFound) {
    this.#into = into;
    this.#found = found;
    this.#personOf = found.placedSince;
  }

  decide({ one, other, decision, why }: CareerDecision): void {
    const [a, b] = [this.#side(one), this.#side(other)];
    const reason = why ?? `decided: ${one} and ${other} ${decision === 'differ' ? 'are not one' : 'are one'}`;
    if (decision === 'differ') this.#keepApart(a, b, reason);
    else {
      const known = { before: a.person !== undefined, after: b.person !== undefined };
      this.#join(a, b, reason);
      if (decision === 'renamed') this.#rename(a, b, known);
    }
  }

  #side(id: string): Side {
    const person = /^p([1-9]\d*)$/.exec(id);
    if (person) return { piece: undefined, entry: undefined, person: Number(person[1]) };
    const entry = this.#found.pieces.at(id);
    if (!/^e[1-9]\d*$/.test(id) || entry === undefined)
      throw new HeldbyError('REFERENCE', `There is no entry or person ${id}.`, 'Use ids such as e410 and p12.');
    const piece = this.#found.pieces.pieceOf[entry] as number;
    const known = this.#personOf.get(piece) ?? this.#piece(piece).people[0];
    return { piece, entry, person: known };
  }

  #piece(piece: number): Piece {
    return this.#found.pieces.pieces[piece] as Piece;
  }

  #entries(): readonly ListEntry[] {
    return this.#found.source.input.entries;
  }

  /** Gives all entries of a piece that are nobody's to a person, who is made where there is none. */
  #place(side: Side, person: number | undefined, why: string): number {
    if (side.piece === undefined) return side.person as number;
    const placed = this.#personOf.get(side.piece);
    if (placed !== undefined) return placed;
    const piece = this.#piece(side.piece);
    const open = piece.entries.filter((at) => this.#entries()[at]?.person === undefined);
    const bearer = this.#record(piece, open, person ?? side.person, why);
    this.#personOf.set(side.piece, bearer);
    side.person = bearer;
    return bearer;
  }

  #record(piece: Piece, open: readonly number[], person: number | undefined, why: string): number {
    const placing = { ...placingOf(piece, open, this.#entries(), false, why), person };
    const [bearer] = recordPlacings(this.#into, this.#found.source.facts, [placing]);
    this.links += open.length;
    if (person === undefined) this.newPeople += 1;
    return bearer as number;
  }

  #join(a: Side, b: Side, why: string): void {
    const [first, second] = a.person === undefined && b.person !== undefined ? [b, a] : [a, b];
    const person = this.#place(first, undefined, why);
    if (second.person === undefined) this.#place(second, person, why);
    else {
      this.#place(second, undefined, why);
      this.#find('same', person, second.person, why);
    }
  }

  #keepApart(a: Side, b: Side, why: string): void {
    const person = this.#place(a, undefined, why);
    let other = this.#place(b, undefined, why);
    if (person === other) {
      if (b.entry === undefined || b.piece === undefined)
        throw new HeldbyError('CONFLICT', 'The two are one record already.', 'Name two entries, or two people.');
      // Only the one line is said to be somebody else's.
      other = this.#record(this.#piece(b.piece), [b.entry], undefined, why);
    }
    this.#find('differ', person, other, why);
  }

  #find(kind: 'same' | 'differ', person: number, other: number, why: string): void {
    if (person === other) return;
    this.#into.act.flush();
    const areOne = samePeople(this.#into.db)(person).includes(other);
    if (areOne && kind === 'same') return;
    if (areOne)
      throw new HeldbyError(
        'CONFLICT',
        `p${person} and p${other} are found to be one.`,
        'Withdraw that finding first: heldby list findings-that-two-are-one',
      );
    this.findings.push(addRecord(this.#into, kindNamed(kind), { person: `p${person}`, other: `p${other}`, why }));
  }

  /**
   * The name that the person is not recorded under: the later one from the last list with the earlier name on, or the
   * earlier one up to the first list with the later. Two records that are found to be one have both names already.
   */
  #rename(a: Side, b: Side, known: { readonly before: boolean; readonly after: boolean }): void {
    if (a.entry === undefined || b.entry === undefined)
      throw new HeldbyError(
        'VALUE',
        'A change of name is told by two entries.',
        'Name the last entry under the one name and the first under the other.',
      );
    if (known.before && known.after) return;
    const { entries, editions } = this.#found.source.input;
    const [earlier, later] = [entries[a.entry] as ListEntry, entries[b.entry] as ListEntry];
    const named = this.#piece((known.after ? a.piece : b.piece) as number);
    const { surname, forenames } = entries[fullestName(named.entries, entries)] as ListEntry;
    const day = (known.after ? editions[later.edition]?.asAt.from : editions[earlier.edition]?.asAt.from) as Day;
    const person = this.#personOf.get(a.piece as number) ?? a.person;
    const name = {
      person: `p${person}`,
      name: [forenames, surname].filter((part) => part !== '').join(' '),
      surname,
      ...(forenames === '' ? {} : { forenames }),
      ...(Number.isFinite(day) ? { [known.after ? 'to' : 'from']: isoDay(day) } : {}),
    };
    this.#into.act.flush();
    this.findings.push(addRecord(this.#into, kindNamed('name'), name));
  }
}
