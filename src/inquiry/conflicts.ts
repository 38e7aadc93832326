import { assumptionsOf } from '../ledger/assumed.ts';
import { everybodyBySurname, objectsWithDays, type SetAsideRow, setAsides } from '../ledger/conflict-lookups.ts';
import { type EvidenceReader, evidenceReader } from '../ledger/evidence.ts';
import { kindNamed, parseId } from '../ledger/kinds.ts';
import { markById, objectById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { personName, samePeople } from '../ledger/people.ts';
import { resolveAny } from '../ledger/refs.ts';
import { type SlipFound, slipFinder } from './conflict-slips.ts';
import { type CareerConflicts, careerConflicts, type OtherOfTheName, type TwiceListed } from './conflicts-careers.ts';
import type { Concern, ConflictFound } from './conflicts-found.ts';
import { livesConflicts } from './conflicts-lives.ts';
import { conflictsOfObject } from './conflicts-objects.ts';
import { isNotedRight } from './noted-right.ts';

/** Conflicts listed; the rest are counted. */
const MOST_CONFLICTS = 1000;

/** People whose entries are read together. */
const PEOPLE_A_BATCH = 2000;

export type ConflictsAnswer = {
  /** Whom or what was asked about; null for the whole ledger. */
  readonly of: Concern | null;
  readonly conflicts: readonly ConflictFound[];
  /** How many there are beyond those listed. */
  readonly conflictsBeyond: number;
  /** False where kin hang together in so many ways that some conflicts between their lives may have been missed. */
  readonly complete: boolean;
  /** What would contradict each other had the researcher not set a record aside. */
  readonly decided: readonly ConflictFound[];
  /** Editions that name somebody with a conflict in two posts, as they name two people of one name. */
  readonly twiceListed: readonly TwiceListed[];
  /** Of each person so named the lines that would be the other's, where that is beyond doubt. */
  readonly othersOfTheName: readonly OtherOfTheName[];
  /** Slips that would explain what contradicts, and lines that contradict nothing but stand apart from the others. */
  readonly slips: readonly SlipFound[];
  /** How many people and objects have conflicts. */
  readonly people: number;
  readonly objects: number;
  /** What a claim of each kind counts for when it is weighed which of them gives way. */
  readonly reliability: Readonly<Record<Reliable, number>>;
};

const RELIABLE = ['life', 'notice', 'dated', 'listing', 'nil', 'hearsay'] as const;
type Reliable = (typeof RELIABLE)[number];

export type Progress = (done: number, of: number) => void;

/** The minimal sets of claims that cannot all be true: of a person, of an object, or of the whole ledger. */
export function conflictsOf(db: Db, words: string | undefined, progress: Progress = () => {}): ConflictsAnswer {
  const assumptions = assumptionsOf(db);
  const read = evidenceReader(db, assumptions);
  const names = new Map<number, Concern>();
  const nameOf = (person: number): Concern => {
    const known = names.get(person) ?? personName(db, person);
    names.set(person, known);
    return known;
  };
  const asked = words === undefined ? undefined : askedAbout(db, words, nameOf);
  const gathered = new Gathered();
  let complete = true;
  if (asked?.object === undefined) {
    gatherCareers(db, read, asked?.people, gathered, nameOf, progress);
    const lives = livesConflicts(db, read, asked?.people, nameOf, assumptions);
    for (const conflict of lives.found) gathered.add(conflict);
    complete = lives.complete;
  }
  for (const object of asked?.object === undefined ? (asked ? [] : objectsWithDays(db)) : [asked.object])
    for (const conflict of conflictsOfObject(db, read, object, assumptions)) gathered.add(conflict);
  const reliability = Object.fromEntries(
    RELIABLE.map((each) => [each, assumptions.values[`reliability.${each}`]]),
  ) as Record<Reliable, number>;
  return { of: asked?.concern ?? null, complete, ...gathered.answer(), reliability };
}

type Asked = { readonly concern: Concern; readonly people?: readonly number[]; readonly object?: number };

/** A person, an object, or a mark for the object that bears it. */
function askedAbout(db: Db, words: string, nameOf: (person: number) => Concern): Asked {
  const tenure = /^(p\d+)\.\d+$/.exec(words.trim());
  const id = resolveAny(db, tenure?.[1] ?? words, [kindNamed('person'), kindNamed('object'), kindNamed('mark')]);
  const { kind, row } = parseId(id) as NonNullable<ReturnType<typeof parseId>>;
  if (kind.kind === 'person') {
    const people = samePeople(db)(row);
    return { concern: nameOf(people[0] ?? row), people };
  }
  const object = kind.kind === 'object' ? row : (markById(db, row)?.object_id ?? row);
  const found = objectById(db, object);
  return {
    concern: { id: `o${object}`, key: found?.key ?? null, name: `${found?.ref ?? ''}  ${found?.title ?? ''}` },
    object,
  };
}

/** Keeps the smallest conflicts and counts the rest, so that a large ledger needs no large memory. */
class Gathered {
  readonly #bySize = new Map<number, ConflictFound[]>();
  readonly #decided: ConflictFound[] = [];
  readonly #twice: TwiceListed[] = [];
  readonly #others: OtherOfTheName[] = [];
  readonly #slips: SlipFound[] = [];
  readonly #people = new Set<string>();
  readonly #objects = new Set<string>();
  #count = 0;

  add(conflict: ConflictFound): void {
    this.#count += 1;
    for (const { id } of conflict.concerns) (conflict.kind === 'object' ? this.#objects : this.#people).add(id);
    const others = this.#bySize.get(conflict.members.length);
    if (others === undefined) this.#bySize.set(conflict.members.length, [conflict]);
    else if (others.length < MOST_CONFLICTS) others.push(conflict);
  }

  addCareer({ open, openBeyond, decided, twice, otherOfTheName }: CareerConflicts): void {
    for (const conflict of open) this.add(conflict);
    this.#count += openBeyond;
    if (this.#decided.length < MOST_CONFLICTS) this.#decided.push(...decided);
    if (this.#twice.length < MOST_CONFLICTS) this.#twice.push(...twice);
    if (otherOfTheName !== undefined && this.#others.length < MOST_CONFLICTS) this.#others.push(otherOfTheName);
  }

  addSlips(slips: readonly SlipFound[]): void {
    if (this.#slips.length < MOST_CONFLICTS) this.#slips.push(...slips);
  }

  answer(): Omit<ConflictsAnswer, 'of' | 'complete' | 'reliability'> {
    const sizes = [...this.#bySize.keys()].sort((a, b) => a - b);
    const conflicts = sizes.flatMap((size) => this.#bySize.get(size) ?? []).slice(0, MOST_CONFLICTS);
    return {
      conflicts,
      conflictsBeyond: this.#count - conflicts.length,
      decided: this.#decided.slice(0, MOST_CONFLICTS),
      twiceListed: this.#twice.slice(0, MOST_CONFLICTS),
      othersOfTheName: this.#others,
      slips: this.#slips.slice(0, MOST_CONFLICTS),
      people: this.#people.size,
      objects: this.#objects.size,
    };
  }
}

function gatherCareers(
  db: Db,
  read: EvidenceReader,
  asked: readonly number[] | undefined,
  gathered: Gathered,
  nameOf: (person: number) => Concern,
  progress: Progress,
): void {
  const assumptions = assumptionsOf(db);
  const whySetAside = reasons(setAsides(db));
  const slipsIn = slipFinder(db, read, nameOf);
  const together = samePeople(db);
  const first = (person: number): number => together(person)[0] ?? person;
  const people =
    asked === undefined
      ? everybodyBySurname(db).filter((person) => first(person) === person)
      : [first(asked[0] as number)];
  for (let from = 0; from < people.length; from += PEOPLE_A_BATCH) {
    const batch = people.slice(from, from + PEOPLE_A_BATCH);
    const groups = new Map(batch.map((person) => [person, together(person)]));
    for (const [person, evidence] of read.careersOf(groups)) {
      const found = careerConflicts(evidence, () => nameOf(person), whySetAside, assumptions, MOST_CONFLICTS);
      gathered.addCareer(found);
      // Of two people taken for one no line is a slip.
      if (found.twice.length < 2)
        gathered.addSlips(slipsIn(evidence, () => nameOf(person), found.aside).filter((slip) => !isRight(db, slip)));
    }
    progress(Math.min(from + PEOPLE_A_BATCH, people.length), people.length);
  }
}

/** Whether what contradicts nothing was looked at again and noted to be right; of two lines exchanged either. */
const isRight = (db: Db, { id, kind, beside, contradicts }: SlipFound): boolean =>
  !contradicts &&
  [id, ...(kind === 'exchanged' || kind === 'slid' ? beside.slice(0, 1) : [])].some((each) => isNotedRight(db, each));

const reasons = (rows: readonly SetAsideRow[]): ((id: string) => string | undefined) => {
  const why = new Map(rows.map((row) => [row.record, `${row.why ?? 'no reason given'} (${row.who}, act ${row.act})`]));
  return (id) => why.get(id);
};
