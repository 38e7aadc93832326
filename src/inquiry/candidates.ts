import type { Assumptions } from '../assumptions.ts';
import { markDays } from '../attribution/candidate.ts';
import { describe, isProvisional, type Shares } from '../attribution/candidates.ts';
import { cautionsFor } from '../attribution/cautions.ts';
import { type Grade, gradeOf, isConclusion, wordingOf } from '../attribution/wording.ts';
import { keptRoles } from '../dating/mark-roles.ts';
import { HeldbyError } from '../errors.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { type EvidenceReader, evidenceReader } from '../ledger/evidence.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { type MarkRow, markById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, personName } from '../ledger/people.ts';
import { resolveRef } from '../ledger/refs.ts';
import type { MarkParts, PartOverrides } from '../names/mark-parts.ts';
import type { Span } from '../time/span.ts';
import { nearestBeyond } from './beyond-reading.ts';
import { type Answered, standing, windowsUnder } from './candidate-standing.ts';
import { spanInAnswer } from './days.ts';
import { betweenDays, daysOfWords, type MarkDays, markDaysOf, type ObjectDays, objectDays } from './mark-dating.ts';
import {
  type MarkQuestion,
  overridesOf,
  partsOfWords,
  questionOf,
  questionOfReadings,
  readingsOfMark,
} from './mark-question.ts';
import { type NamingRoles, namingRoles } from './naming-roles.ts';
import type { ObjectMarks } from './object-marks.ts';
import { recordInWords } from './record-words.ts';
import { type RoleAnswer, sharesByRole } from './role-shares.ts';
import { type RuledOut, ruledOutOf } from './ruled-out.ts';
import { tenureId } from './tenures.ts';
import { type UnplacedLines, unplacedLines } from './unplaced-lines.ts';
import { type WeighedMark, weighedMark } from './weighed-mark.ts';

type Overlap = { readonly from: string | null; readonly to: string | null; readonly days: number } | null;

export type CandidateAnswer = {
  readonly position: number;
  readonly person: PersonName;
  readonly rank: string | null;
  /** Where they bore it, as far as known: each corps once. */
  readonly corps: string | null;
  readonly tenures: readonly string[];
  readonly share: number;
  readonly possibleOverlap: Overlap;
  readonly certainOverlap: Overlap;
  readonly relations: readonly string[];
  readonly bits: {
    readonly surname: number;
    readonly forenames: number;
    readonly rank: number;
    readonly corps: number;
    readonly place: number;
  };
  readonly standing: string;
  /** Of several readings of the mark, the id of the one that fits best: the mark's own or a reading's. */
  readonly readAs: string | null;
  readonly markedBetween: { readonly from: string | null; readonly to: string | null };
  /** Whether it stands without any one record, and the records without which it does not; null where nobody asked. */
  readonly robust: boolean | null;
  readonly hangsOn: readonly string[];
  readonly provisional: boolean;
  readonly wording: string;
};

/** How words were read. `rank`: its title, or the several that the style can stand for, with "or" between them. */
type ReadingAnswer = {
  readonly rank: string | null;
  readonly forenames: string | null;
  readonly surname: string | null;
  readonly corps: string | null;
  readonly place: string | null;
  readonly service: string | null;
};

export type CandidatesAnswer = {
  readonly mark: {
    readonly id: string | null;
    readonly key: string | null;
    readonly text: string;
    readonly role: string;
    /** How much hangs on its role, the likeliest first; one alone where the role is certain. */
    readonly roles: readonly RoleAnswer[];
    readonly reading: ReadingAnswer;
    readonly rest: readonly string[];
    /** Every reading that stands, the mark's own text first; each counts alike. */
    readonly readings: readonly {
      readonly id: string | null;
      readonly text: string;
      readonly by: string | null;
      readonly reading: ReadingAnswer;
      readonly rest: readonly string[];
    }[];
  };
  readonly window: { readonly from: string | null; readonly to: string | null; readonly grounds: readonly string[] };
  readonly candidates: readonly CandidateAnswer[];
  /** Candidates that were not asked for: how many, and their share together. */
  readonly further: { readonly count: number; readonly share: number };
  /** Others whose name agrees, and on which ground they are no candidates. */
  readonly ruledOut: readonly RuledOut[];
  /** Lines of the name that are nobody's yet: they were not weighed. */
  readonly unplaced: UnplacedLines;
  readonly unrecorded: { readonly share: number; readonly expected: number };
  /** The share of the roles under which the mark names no holder: with all others it adds up to 1. */
  readonly noHolder: { readonly share: number };
  /** Where nobody fits: the nearest beyond the limit of the reading, with their bits. */
  readonly beyond: readonly { readonly person: PersonName; readonly bits: number }[];
  readonly cautions: readonly string[];
};

export type CandidateOptions = {
  readonly between?: Span | undefined;
  /** How many of the first candidates are tried without each record they rest on. */
  readonly tried: number;
  /** Of those, only such as something is concluded of: what print tells of the others does not hang on records. */
  readonly onlyConclusions?: boolean | undefined;
  /** How many of the first candidates are wanted; all unless said. */
  readonly wanted?: number | undefined;
  /** Of those, only such as have at least this share, but three in any case. */
  readonly leastShare?: number | undefined;
};

/** What print tells unless asked for more: so many, and shares below a thousandth summed up in one line. */
export const TOLD_IN_PRINT = { wanted: 10, leastShare: 0.001 } as const;

export type WordsAsked = {
  readonly text: string;
  /** One role, or several with their weights. */
  readonly role: string;
  readonly parts: PartOverrides;
};

/**
 * Who can have made a recorded mark.
 * @param known the object that bears it with all its marks, where that has been worked out already.
 */
export function candidatesForMark(
  db: Db,
  words: string,
  options: CandidateOptions,
  known?: ObjectMarks,
): CandidatesAnswer {
  const mark = markById(db, resolveRef(db, kindNamed('mark'), words));
  if (!mark) throw new HeldbyError('REFERENCE', `There is no mark "${words}".`, 'See the marks: heldby list marks');
  return answer(db, { text: mark.text, role: mark.role, parts: overridesOf(mark) }, mark, options, known);
}

/** Who can have written words that were just read. */
export const candidatesForText = (db: Db, asked: WordsAsked, options: CandidateOptions): CandidatesAnswer =>
  answer(db, asked, undefined, options);

function answer(
  db: Db,
  asked: WordsAsked,
  mark: MarkRow | undefined,
  options: CandidateOptions,
  known?: ObjectMarks,
): CandidatesAnswer {
  const assumptions = assumptionsOf(db);
  const read = known?.read ?? evidenceReader(db, assumptions);
  const object = known?.dated ?? (mark === undefined ? undefined : objectDays(db, mark.object_id, read, assumptions));
  const before = known?.marks.find(({ row }) => row.id === mark?.id && options.between === undefined);
  const days = before?.days ?? daysOfQuestion(asked, mark, object, options, read, assumptions);
  const { question, roles, when, candidates, shares } =
    before?.weighed ?? weighedAnew(db, asked, mark, days, read, assumptions);
  const wanted = wantedOf(shares, options);
  const answered: Answered = {
    question,
    shares,
    when,
    windows: mark !== undefined && options.between === undefined ? windowsUnder(days) : [],
    whenWithout: (id) => {
      if (mark === undefined) return when;
      const without = objectDays(db, mark.object_id, read, assumptions, id);
      return markDays(rolesAsked(markDaysOf(mark, without, read, assumptions), asked, question).density);
    },
  };
  const gradeHere = (each: Shares['ranked'][number]): Grade =>
    gradeOf(each.share * roles.weight, isProvisional(each.input), assumptions);
  const tried = shares.ranked
    .slice(0, options.tried)
    .map((each) => (options.onlyConclusions && !isConclusion(gradeHere(each)) ? undefined : standing(each, answered)));
  const [leader] = shares.ranked;
  const hangs = leader !== undefined && isConclusion(gradeHere(leader)) && (tried[0]?.hangsOn.length ?? 0) > 0;
  return {
    mark: {
      id: mark === undefined ? null : `m${mark.id}`,
      key: mark?.key ?? null,
      text: asked.text,
      role: asked.role,
      roles: sharesByRole(db, roles, shares, { candidates, unrecorded: question.unrecorded }, assumptions),
      ...readInAnswer(question.parts, asked.parts),
      readings: question.readings.map(({ id, text, by, parts }) => ({
        id: id === '' ? null : id,
        text,
        by,
        ...readInAnswer(parts, asked.parts),
      })),
    },
    window: { ...spanInAnswer(days.marking.window), grounds: days.grounds },
    candidates: shares.ranked.slice(0, wanted).map((share, place) => {
      const { position, ...told } = describe(share, place + 1, when, days.marking.window);
      const stands = tried[place];
      const provisional = isProvisional(share.input);
      const rankTitle = question.sought.ranks.find(({ id }) => id === share.rank)?.title ?? null;
      return {
        position,
        person: personName(db, Number(share.person.slice(1))),
        rank: rankTitle,
        corps: corpsOf(question, share.person, told.tenures),
        tenures: told.tenures,
        share: share.share * roles.weight,
        possibleOverlap: overlapInAnswer(told.possible),
        certainOverlap: overlapInAnswer(told.certain),
        relations: told.relations,
        bits: share.bits,
        standing: share.standing,
        readAs: share.reading ?? (mark === undefined ? null : `m${mark.id}`),
        markedBetween: spanInAnswer(told.markedBetween),
        robust: stands?.robust ?? null,
        hangsOn: stands?.hangsOn ?? [],
        provisional,
        wording: wordingOf(gradeHere(share), place === 0 ? hangsInWords(db, stands?.hangsOn ?? []) : []),
      };
    }),
    further: furtherShares(shares, wanted, roles.weight),
    ruledOut: ruledOutOf(question, shares),
    unplaced: unplacedLines(question),
    unrecorded: { ...shares.unrecorded, share: shares.unrecorded.share * roles.weight },
    noHolder: { share: 1 - roles.weight },
    beyond: shares.nobodyFits ? nearestBeyond(question, when) : [],
    cautions: cautionsFor(
      {
        shares,
        hangs,
        swept: question.unrecorded.sweeps.length > 0,
        damaged: question.unrecorded.surname?.damaged ?? false,
        dated: days.dated,
        beforeMaking: days.marking.beforeMaking,
        roleUncertain: days.marking.roles.length > 1,
      },
      assumptions,
    ).map(({ text }) => text),
  };
}

function readInAnswer(parts: MarkParts, given: PartOverrides): { reading: ReadingAnswer; rest: readonly string[] } {
  const titles = [...new Set(parts.rank?.ranks.map(({ title }) => title))];
  return {
    reading: {
      rank: titles.length > 0 ? titles.join(' or ') : (parts.rank?.text ?? null),
      forenames: parts.forenames ?? null,
      surname: parts.surname ?? null,
      corps: parts.corps ?? null,
      place: parts.place ?? null,
      service: parts.service ?? null,
    },
    rest: parts.rest.filter((words) => !Object.values(given).some((one) => one.includes(words))),
  };
}

/** Named in the wording only while they are few; all of them stand in `hangsOn`. */
const MOST_NAMED = 2;

const hangsInWords = (db: Db, ids: readonly string[]): string[] =>
  ids.length > MOST_NAMED ? [] : ids.map((id) => recordInWords(db, id));

function corpsOf(question: MarkQuestion, person: string, tenures: readonly string[]): string | null {
  const all = question.known.get(person)?.career.tenures ?? [];
  const corps = all.flatMap((tenure) =>
    tenure.corps !== undefined && tenures.includes(tenureId(person, tenure)) ? [tenure.corps.name] : [],
  );
  return corps.length === 0 ? null : [...new Set(corps)].join(' and ');
}

/** Told in any case, however small their shares. */
const ALWAYS_TOLD = 3;

function wantedOf({ ranked }: Shares, { wanted, leastShare }: CandidateOptions): number {
  const worth = leastShare === undefined ? ranked.length : ranked.filter(({ share }) => share >= leastShare).length;
  return Math.min(wanted ?? ranked.length, Math.max(worth, ALWAYS_TOLD), ranked.length);
}

const furtherShares = ({ ranked }: Shares, wanted: number, weight: number) => {
  const further = ranked.slice(wanted);
  return { count: further.length, share: further.reduce((sum, { share }) => sum + share * weight, 0) };
};

const overlapInAnswer = (overlap: { readonly span: Span; readonly days: number } | undefined): Overlap =>
  overlap === undefined ? null : { ...spanInAnswer(overlap.span), days: overlap.days };

function weighedAnew(
  db: Db,
  asked: WordsAsked,
  mark: MarkRow | undefined,
  days: MarkDays,
  read: EvidenceReader,
  assumptions: Assumptions,
): WeighedMark {
  const stated = days.dated ? days.marking.window : undefined;
  const question =
    mark === undefined
      ? questionOf(db, assumptions, read, partsOfWords(db, asked.text, asked.parts, stated))
      : questionOfReadings(db, assumptions, read, readingsOfMark(db, mark, stated));
  return weighedMark(question, rolesAsked(days, asked, question));
}

const rolesAsked = (days: MarkDays, asked: WordsAsked, { readings }: MarkQuestion): NamingRoles =>
  namingRoles(days, asked.parts.surname, readings);

export function daysOfQuestion(
  asked: WordsAsked,
  mark: MarkRow | undefined,
  object: ObjectDays | undefined,
  options: CandidateOptions,
  read: EvidenceReader,
  assumptions: Assumptions,
): MarkDays {
  const roles = mark?.roles ?? keptRoles(asked.role);
  if (mark === undefined || object === undefined) return daysOfWords(options.between, roles, assumptions);
  if (options.between !== undefined) return betweenDays(options.between, roles, object.horizon, assumptions);
  return markDaysOf(mark, object, read, assumptions);
}
