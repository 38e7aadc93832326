import type { Assumptions } from '../assumptions.ts';
import type { Career } from '../careers/career.ts';
import type { CareerEvidence, ListedEntry } from '../careers/evidence.ts';
import { solveCareer } from '../careers/solve.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { entryById, pageCell } from '../ledger/entries.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import { linesAlike, type PrintedLine } from '../ledger/find-in-edition.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, personName, samePeople } from '../ledger/people.ts';
import { readRecord } from '../ledger/reading-records.ts';
import type { Recording } from '../ledger/recording.ts';
import { addRecord } from '../ledger/records.ts';
import { resolveRef } from '../ledger/refs.ts';
import { readName } from '../names/name.ts';
import { recordedDate } from '../time/recorded-date.ts';
import { bearerAmong, type Fitting, peopleFitting, unplacedAlike } from './take-bearer.ts';
import { type Doubt, doubtsOfCareer, doubtsOfDate } from './take-doubts.ts';
import { type Settled, settledBy } from './take-settles.ts';

/** A line of an edition as somebody took it down. */
export type LineTaken = {
  readonly name: string;
  readonly rank: string;
  readonly corps: string | undefined;
  readonly dated: { readonly text: string; readonly printed: string | undefined } | undefined;
  readonly page: string | undefined;
  readonly appointment: string | undefined;
  readonly note: string | undefined;
  /** Whose it is: found by the name, a person to be made, nobody yet, or named. */
  readonly bearer: { readonly kind: 'by name' | 'new' | 'nobody' } | { readonly kind: 'named'; readonly words: string };
};

export type TakenAnswer = {
  readonly id: string;
  /** The ledger had this line before; nothing was recorded. */
  readonly known: boolean;
  /** As the ledger shows the record, with the rank that was understood. */
  readonly entry: Readonly<Record<string, unknown>>;
  readonly person: PersonName | null;
  readonly made: boolean;
  /** Others whom the name fits, where it could not be told whose it is. */
  readonly fitting: readonly PersonName[];
  /** Lines of other editions with such a name that are nobody's yet. */
  readonly unplaced: readonly { readonly id: string; readonly edition: string; readonly rank: string }[];
  readonly settles: Settled | null;
  readonly doubts: readonly Doubt[];
};

/** Looks wrong, and the typist has not said that it is meant: thrown so that nothing of it is recorded. */
export class HeldBack extends Error {
  override readonly name = 'HeldBack';
  readonly answer: TakenAnswer;
  constructor(answer: TakenAnswer) {
    super('held back');
    this.answer = answer;
  }
}

export type TakeOptions = {
  /** Keep it in spite of what looks wrong. */
  readonly keep: boolean;
  /** A name that fits nobody makes a person. */
  readonly makePeople: boolean;
  /** What looks wrong beside the lines before. */
  readonly doubts: readonly Doubt[];
};

const UNPLACED_SHOWN = 3;

/**
 * Records one line of an edition and tells what follows from it: whose it is, what it settles in his career, and what
 * looks wrong.
 * @throws HeldBack when something looks wrong and `keep` is not given; HeldbyError for what cannot be recorded.
 */
export function takeEntry(into: Recording, edition: number, line: LineTaken, options: TakeOptions): TakenAnswer {
  const { db } = into;
  const assumptions = assumptionsOf(db);
  const whose = bearerOf(into, edition, line, options, assumptions);
  const id = addRecord(into, kindNamed('entry'), {
    edition: `ed${edition}`,
    ...(whose.person === undefined ? {} : { person: `p${whose.person}` }),
    name: line.name,
    rank: line.rank,
    corps: line.corps ?? null,
    dated: line.dated?.text ?? null,
    ...(line.dated?.printed === undefined ? {} : { datedAsPrinted: line.dated.printed }),
    page: line.page ?? null,
    ...(line.appointment === undefined ? {} : { kind: line.appointment }),
    note: line.note ?? null,
  });
  into.act.flush();
  const answer = answerFor(db, edition, id, whose, options, assumptions);
  if (answer.doubts.length > 0 && !options.keep) throw new HeldBack(answer);
  return answer;
}

/** What the ledger says of a line that it had before. */
export function knownEntry(db: Db, id: number): TakenAnswer {
  const record = readRecord(db, kindNamed('entry'), id);
  const person = record?.fields['person'];
  const row = entryById(db, id);
  const title = row && evidenceReader(db, assumptionsOf(db)).rank(row.rank_id).title;
  return {
    id: `e${id}`,
    known: true,
    entry: { ...record?.fields, ...(title === undefined ? {} : { title }) },
    person: typeof person === 'string' ? personName(db, Number(person.slice(1))) : null,
    made: false,
    fitting: [],
    unplaced: [],
    settles: null,
    doubts: [],
  };
}

/** Ids of the lines of this edition that say just this, whoever bears them. */
export function alikeBefore(into: Recording, edition: number, service: string, line: LineTaken): number[] {
  const tidy = (text: string): string => text.normalize('NFC').replaceAll(/\s+/g, ' ').trim();
  const appointment = line.appointment ?? into.words.rank(service, line.rank).appointment;
  const printed: PrintedLine = {
    name: tidy(line.name),
    surname: readName(tidy(line.name)).surname,
    rank: tidy(line.rank),
    corps: line.corps === undefined ? null : tidy(line.corps),
    dated: line.dated === undefined ? null : recordedDate(line.dated.text, into.dates).reading.text,
    page: line.page === undefined ? null : pageCell(line.page),
    appointment: appointment === 'substantive' ? null : appointment,
  };
  return linesAlike(into.db, edition, printed);
}

type Whose = {
  readonly person: number | undefined;
  readonly people: readonly number[];
  readonly made: boolean;
  readonly fitting: readonly number[];
  /** The career without this line. */
  readonly before: Career | undefined;
};

function bearerOf(
  into: Recording,
  edition: number,
  line: LineTaken,
  options: TakeOptions,
  assumptions: Assumptions,
): Whose {
  const { db } = into;
  const nobody: Whose = { person: undefined, people: [], made: false, fitting: [], before: undefined };
  const make = (): Whose => {
    const person = Number(addRecord(into, kindNamed('person'), { name: line.name }).slice(1));
    into.act.flush();
    return { ...nobody, person, people: [person], made: true };
  };
  const reader = evidenceReader(db, assumptions);
  const careerOf = (people: readonly number[]) => {
    const evidence = reader.careerOf(people);
    return { evidence, career: solveCareer(evidence, assumptions) };
  };
  switch (line.bearer.kind) {
    case 'nobody':
      return nobody;
    case 'new':
      return make();
    case 'named': {
      const person = resolveRef(db, kindNamed('person'), line.bearer.words);
      const people = samePeople(db)(person);
      return { ...nobody, person, people, before: careerOf(people).career };
    }
    case 'by name': {
      const fitting = peopleFitting(db, line.name).map((each) => ({ ...each, ...careerOf(each.people) }));
      const free = fitting.filter((each) => !standsIn(each, edition, line, into, reader));
      const found = bearerAmong(free, line.corps);
      if (found !== undefined) return { ...nobody, person: found.person, people: found.people, before: found.career };
      if (fitting.length === 0 && options.makePeople) return make();
      return { ...nobody, fitting: fitting.map(({ person }) => person) };
    }
  }
}

/** Somebody who stands in the edition in this post already is not the man of a second line. */
function standsIn(
  { evidence }: Fitting & { readonly evidence: CareerEvidence },
  edition: number,
  line: LineTaken,
  into: Recording,
  reader: ReturnType<typeof evidenceReader>,
): boolean {
  const there = evidence.entries.filter((entry) => entry.edition.id === `ed${edition}`);
  if (there.length === 0) return false;
  const rank = into.words.rank(reader.edition(edition).service, line.rank);
  into.act.flush();
  return there.some((entry) => entry.rank.id === reader.rank(rank.id).id);
}

function answerFor(
  db: Db,
  edition: number,
  id: string,
  whose: Whose,
  options: TakeOptions,
  assumptions: Assumptions,
): TakenAnswer {
  // Read anew: what is known of dates, ranks and people has grown by the line.
  const reader = evidenceReader(db, assumptions);
  const row = entryById(db, Number(id.slice(1)));
  if (row === undefined) throw new Error(`the entry ${id} was not recorded`);
  const listed: ListedEntry = reader.entryOf(row);
  const doubts: Doubt[] = [...options.doubts, ...doubtsOfDate(listed)];
  let settles: Settled | null = null;
  if (whose.before !== undefined) {
    const evidence = reader.careerOf(whose.people);
    const after = solveCareer(evidence, assumptions);
    settles = settledBy(whose.before, after, id) ?? null;
    doubts.push(...doubtsOfCareer(evidence, whose.before, after, listed));
  }
  const fields: Readonly<Record<string, unknown>> =
    readRecord(db, kindNamed('entry'), Number(id.slice(1)))?.fields ?? {};
  const unplaced =
    whose.person === undefined || whose.made ? unplacedAlike(db, String(fields['name']), edition, UNPLACED_SHOWN) : [];
  return {
    id,
    known: false,
    entry: { ...fields, title: listed.rank.title },
    person: whose.person === undefined ? null : personName(db, whose.person),
    made: whose.made,
    fitting: whose.fitting.map((person) => personName(db, person)),
    unplaced: unplaced.map((each) => ({
      id: `e${each.id}`,
      edition: reader.edition(each.edition_id).label,
      rank: each.rank,
    })),
    settles,
    doubts,
  };
}
