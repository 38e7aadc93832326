import { BOUNDS } from '../careers/bound-reasons.ts';
import { HeldbyError } from '../errors.ts';
import { parseId } from '../ledger/kinds.ts';
import { marksOf } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import { resolveAny } from '../ledger/refs.ts';
import { standWithout } from '../ledger/without.ts';
import type { Span } from '../time/span.ts';
import { assumptionList } from './assumptions.ts';
import type { WordsAsked } from './candidates.ts';
import type { Whole } from './careers-found.ts';
import {
  type CareersFigure,
  careersFigure,
  isJoinedFigure,
  type JoinedFigure,
  joinedFigure,
  pairNamed,
} from './grounds-careers.ts';
import { type ConflictCount, conflictAsked, conflictCount, freesFigure } from './grounds-conflicts.ts';
import { estimateFigure } from './grounds-estimates.ts';
import { figureNamed, type Subject, USUAL } from './grounds-figures.ts';
import { gainFigure, NO_COST, planFigure } from './grounds-lookups.ts';
import { markFigure } from './grounds-mark-figures.ts';
import { asGround, candidateFigure, windowFigure } from './grounds-marks.ts';
import {
  featureGrounds,
  isProvenanceFigure,
  type MadeFigure,
  madeFigure,
  provenanceFigure,
} from './grounds-objects.ts';
import { concernOf, recordFigure } from './grounds-records.ts';
import { isRoleFigure, roleOfObject } from './grounds-roles.ts';
import { isSearchesFigure, searchesFigure } from './grounds-searches.ts';
import { markRow, objectRow, type Situation, situationOf } from './grounds-situation.ts';
import { type StatusFigure, statusFigure } from './grounds-status.ts';
import { type Given, refuseMisplaced, subjectNamed } from './grounds-subject.ts';
import {
  postInWords,
  type Reckoned,
  setAsideGrounds,
  type TenureFigure,
  tenureAt,
  tenureFigure,
} from './grounds-tenures.ts';
import { type Ground, ground } from './grounds-tree.ts';
import { unrecordedFigure } from './grounds-unrecorded.ts';
import type { VolumeCost } from './lookup-subject.ts';
import { objectDays } from './mark-dating.ts';

export type FigureAnswer = {
  /** As it is asked for: `startLatest`, `share Ferrand`. */
  readonly figure: string;
  readonly of: string;
  readonly value: unknown;
  readonly says: string;
  readonly grounds: readonly Ground[];
  /** The same figure had the records named never been made; null where nobody asked, `value` null where there is none. */
  readonly without: { readonly value: unknown; readonly says: string } | null;
};

export type GroundsAnswer = {
  /** `id`: null of words that are not recorded. */
  readonly of: { readonly id: string | null; readonly key: string | null; readonly name: string };
  readonly figures: readonly FigureAnswer[];
  /** What was left out: the records named, and those that cannot be without them. */
  readonly without: { readonly ids: readonly string[]; readonly with: readonly string[] } | null;
};

/** How the commands that print the figures are asked. */
export type GroundsOptions = {
  /** Records to be left out for comparison, by id, key or words. */
  readonly without?: readonly string[];
  /** Which editions count as taken down whole, where entries are put together. */
  readonly whole?: Whole;
  /** Of a mark, or of words: the days between which it was put on, whatever else is known. */
  readonly between?: Span | undefined;
  /** Of a plan of look-ups: what calling up a volume costs. */
  readonly cost?: VolumeCost | undefined;
  /** Of an object: how many successions are told, as `provenance --chains` is asked. */
  readonly chains?: number | undefined;
};

/**
 * Why figures are what they are.
 * @param of the thing, by id, key or words; or words that were just read, as `candidates --text` is asked about them.
 * @param figure the words of the figure, none for the usual ones.
 */
export function groundsOf(
  db: Db,
  of: string | WordsAsked,
  figure: readonly string[],
  { without = [], whole = 'by lines', between, cost, chains }: GroundsOptions = {},
): GroundsAnswer {
  const subject: Subject = typeof of === 'string' ? subjectNamed(db, of) : { is: 'words', words: of };
  const given = { between, cost, chains };
  refuseMisplaced(subject, given);
  const wanted =
    figure.length === 0 ? USUAL[subject.is].map((name) => ({ name, rest: [] })) : [figureNamed(subject, figure)];
  const ids = without.map((each) => resolveAny(db, each));
  const asked = situationOf(db, whole);
  const found = wanted.flatMap(({ name, rest }) => reckoned(asked, subject, name, rest, given));
  const named = subjectInAnswer(asked, subject);
  if (ids.length === 0)
    return { of: named, figures: found.map((each) => ({ ...each.answer, without: null })), without: null };
  const tell = found.map(({ again }) => again);
  const all = standWithout(db, ids);
  const then = situationOf(db, whole);
  return {
    of: named,
    figures: found.map(({ answer }, at) => ({ ...answer, without: withoutThem(() => tell[at]?.(then)) })),
    without: { ids, with: all.filter((id) => !ids.includes(id)) },
  };
}

/** The figure as the ledger stands without the records; what is there no more is said. */
function withoutThem(again: () => Reckoned | undefined): { value: unknown; says: string } {
  try {
    const then = again();
    return then === undefined
      ? { value: null, says: 'there is no such figure' }
      : { value: then.value, says: then.says };
  } catch (error) {
    if (error instanceof HeldbyError && (error.code === 'REFERENCE' || error.code === 'VALUE'))
      return { value: null, says: error.message };
    throw error;
  }
}

type Found = {
  readonly answer: Omit<FigureAnswer, 'without'>;
  /** The same figure in another situation. */
  readonly again: (situation: Situation) => Reckoned | undefined;
};

function reckoned(
  situation: Situation,
  subject: Subject,
  name: string,
  rest: readonly string[],
  { between, cost = NO_COST, chains }: Given,
): Found[] {
  const figure = [name, ...rest].join(' ');
  const whose = rest.length === 0 ? undefined : rest.join(' ');
  const one: One = (of, again) => {
    const { value, says, grounds } = again(situation) as Reckoned;
    return [{ answer: { figure, of, value, says, grounds }, again }];
  };
  switch (subject.is) {
    case 'tenure':
      return tenureFound(situation, subject.person, subject.place, name as TenureFigure);
    case 'person': {
      const of = `p${subject.person}`;
      if (isJoinedFigure(name)) return joinedFound(situation, of, name, whose, one);
      if (name === 'frees') return freesFound(situation, of, of, whose, one);
      if (name === 'conflicts') return one(of, (then) => conflictCount(then, of, 'count'));
      if (isSearchesFigure(name)) return one(of, ({ db, reader }) => searchesFigure(db, of, name, whose, reader));
      return situation
        .person(subject.person)
        .career.tenures.flatMap((_, at) =>
          BOUNDS.flatMap((bound) => tenureFound(situation, subject.person, at + 1, bound)),
        );
    }
    case 'mark': {
      const of = `m${subject.mark}`;
      if (name === 'gain') return one(of, ({ db, reader }) => gainFigure(db, of, rest, reader));
      if (name === 'plan') return one(of, ({ db, reader }) => planFigure(db, of, whose, cost, reader));
      if (name === 'frees') return freesFound(situation, of, of, whose, one);
      if (name === 'conflicts') return one(of, (then) => conflictCount(then, of, 'count'));
      if (name === 'share' && whose === undefined && situation.mark(subject.mark, between).shares.nobodyFits) return [];
      return one(of, (then) => markFigure(then.mark(subject.mark, between), name, whose));
    }
    case 'words':
      if (name === 'share' && whose === undefined && situation.words(subject.words, between).shares.nobodyFits)
        return [];
      return one(subject.words.text, (then) => markFigure(then.words(subject.words, between), name, whose));
    case 'status':
      return one('status', ({ db, reader }) => statusFigure(db, name as StatusFigure, whose, reader));
    case 'object': {
      const of = `o${subject.object}`;
      if (name === 'gain') return one(of, ({ db, reader }) => gainFigure(db, of, rest, reader));
      if (name === 'plan') return one(of, ({ db, reader }) => planFigure(db, of, whose, cost, reader));
      if (name === 'frees') return freesFound(situation, of, of, whose, one);
      if (name === 'conflicts') return one(of, (then) => conflictCount(then, of, 'count'));
      if (isRoleFigure(name))
        return one(of, (then) =>
          roleOfObject(
            then.db,
            objectRow(then.db, subject.object),
            name,
            rest,
            {
              markGrounds: (mark, person) => markGround(then, mark, person),
              features: () =>
                featureGrounds(objectDays(then.db, subject.object, then.read, then.assumptions), then.reader),
            },
            then.reader,
          ),
        );
      if (isProvenanceFigure(name))
        return one(of, (then) =>
          provenanceFigure(
            then.db,
            objectRow(then.db, subject.object),
            name,
            whose,
            { chains, markGrounds: (mark, person) => markGround(then, mark, person) },
            then.reader,
          ),
        );
      return one(of, (then) => madeFound(then, subject.object, name as MadeFigure));
    }
    case 'assumption':
      if (name === 'estimate') return one(subject.name, (then) => estimateFigure(then, subject.name));
      return one(subject.name, ({ db, reader }) => {
        if (!assumptionList(db).some((each) => each.name === subject.name))
          throw new HeldbyError(
            'REFERENCE',
            `The ledger sets no ${subject.name}: the general value holds.`,
            'Ask: heldby grounds tenure.mean   (or, what it would come to: heldby grounds tenure.mean estimate)',
          );
        const { says, value, grounds } = reader.assumption(subject.name);
        return { says, value, grounds };
      });
    case 'entry':
      if (isJoinedFigure(name)) return joinedFound(situation, subject.entry, name, whose, one);
      if (name === 'frees') return freesOfRecord(situation, subject.entry, one);
      return recordFound(subject.entry, one);
    case 'careers':
      return one('careers', (then) => careersFigure(then.careers(), name as CareersFigure, rest, then.reader));
    case 'conflicts':
      if (name === 'frees') return freesFound(situation, 'conflicts', undefined, whose, one);
      return one('conflicts', (then) => conflictCount(then, undefined, name as ConflictCount));
    case 'record':
      if (name === 'frees') return freesOfRecord(situation, subject.id, one);
      return recordFound(subject.id, one);
  }
}

type One = (of: string, again: Found['again']) => Found[];

const recordFound = (id: string, one: One): Found[] =>
  one(id, ({ db, reader, read, assumptions }) => recordFigure(db, id, read, assumptions, reader));

/** A conflict keeps its claims, not its number, when records are left out. */
function freesFound(
  situation: Situation,
  id: string,
  of: string | undefined,
  words: string | undefined,
  one: One,
): Found[] {
  const asked = conflictAsked(situation, of, words);
  return one(id, (then) => freesFigure(then, of, asked));
}

/** Of the person or object whom a record is about. */
const freesOfRecord = (situation: Situation, id: string, one: One): Found[] => {
  const of = concernOf(situation.db, id);
  return one(id, (then) =>
    of === undefined
      ? { value: null, says: `${id} is nobody’s evidence yet, and contradicts nothing`, grounds: [] }
      : freesFigure(then, of, { record: id }),
  );
};

/** The pair of entries that a chance is about stays the same when records are left out. */
function joinedFound(
  situation: Situation,
  id: string,
  figure: JoinedFigure,
  whose: string | undefined,
  one: One,
): Found[] {
  const pair = figure === 'chance' || figure === 'settles' ? pairNamed(situation.careers(), id, whose) : undefined;
  return one(id, (then) => joinedFigure(then.careers(), id, figure, { words: whose, pair }, then.reader));
}

/** A tenure keeps its post, not its number, when records are left out. */
function tenureFound(situation: Situation, person: number, place: number, figure: TenureFigure): Found[] {
  const solved = situation.person(person);
  const tenure = tenureAt(solved, place);
  const signature = (each: typeof tenure): string =>
    [each.rank.service, each.rank.id, each.corps?.key, each.kind].join(' ');
  const before = solved.career.tenures
    .slice(0, place - 1)
    .filter((each) => signature(each) === signature(tenure)).length;
  const again: Found['again'] = (then) => {
    const now = then.person(person);
    const same = now.career.tenures.filter((each) => signature(each) === signature(tenure));
    // Without its own evidence a post can still follow from those around it.
    const implied = now.career.tenures.find(
      (each) => each.implied && each.rank.id === tenure.rank.id && each.rank.service === tenure.rank.service,
    );
    const found = same[before] ?? same[same.length - 1] ?? implied;
    if (found === undefined)
      return { value: null, says: `nothing shows that ${postInWords(tenure)} was ever held`, grounds: [] };
    const told = tenureFigure(now, found, figure, then.reader);
    return { ...told, grounds: [...told.grounds, ...setAsideGrounds(then.db, now, then.reader)] };
  };
  const { value, says, grounds } = again(situation) as Reckoned;
  return [{ answer: { figure, of: `${solved.person}.${place}`, value, says, grounds }, again }];
}

function markGround(situation: Situation, mark: string, person: string | undefined): Ground {
  const subject = situation.mark(Number(mark.slice(1)));
  const fits = person !== undefined && subject.shares.ranked.some((each) => each.person === person);
  return asGround(fits ? candidateFigure(subject, 'share', person) : unrecordedFigure(subject, 'unrecorded'), mark);
}

function madeFound(situation: Situation, object: number, figure: MadeFigure): Reckoned {
  const { db, read, assumptions, reader } = situation;
  const dated = objectDays(db, object, read, assumptions);
  const markWindows = () =>
    marksOf(db, object).map(({ id }) => {
      const subject = situation.mark(id);
      const names = subject.shares.ranked.slice(0, 3).map(({ person }) => person);
      return ground('figure', windowFigure(subject).says, `m${id}`, [
        ...windowFigure(subject).grounds,
        ...names.map((person) => asGround(candidateFigure(subject, 'share', person), `m${id}`)),
      ]);
    });
  return madeFigure(db, objectRow(db, object), figure, { dated, markWindows }, reader);
}

function subjectInAnswer({ db, person }: Situation, subject: Subject): GroundsAnswer['of'] {
  const named = (id: string, name: string): GroundsAnswer['of'] => {
    const parsed = parseId(id);
    return { id, key: (parsed && readRecord(db, parsed.kind, parsed.row)?.key) ?? null, name };
  };
  switch (subject.is) {
    case 'tenure': {
      const solved = person(subject.person);
      const tenure = tenureAt(solved, subject.place);
      return { id: `${solved.person}.${subject.place}`, key: null, name: `${solved.name}, ${postInWords(tenure)}` };
    }
    case 'person':
      return named(`p${subject.person}`, person(subject.person).name);
    case 'mark':
      return named(`m${subject.mark}`, `“${markRow(db, subject.mark).text}”`);
    case 'object': {
      const { ref, title } = objectRow(db, subject.object);
      return named(`o${subject.object}`, `${ref}  ${title}`);
    }
    case 'assumption':
      return { id: subject.name, key: null, name: subject.name };
    case 'entry':
      return named(subject.entry, subject.entry);
    case 'careers':
    case 'conflicts':
    case 'status':
      return { id: subject.is, key: null, name: subject.is };
    case 'words':
      return { id: null, key: null, name: `“${subject.words.text}”` };
    case 'record':
      return named(subject.id, subject.id);
  }
}
