import { BOUNDS } from '../careers/bound-reasons.ts';
import { HeldbyError } from '../errors.ts';
import type { WordsAsked } from './candidates.ts';
import { CAREERS_FIGURES, JOINED_FIGURES, type JoinedFigure } from './grounds-careers.ts';
import { CONFLICT_COUNTS } from './grounds-conflicts.ts';
import { HOLDER_FIGURES } from './grounds-holders.ts';
import { CANDIDATE_FIGURES } from './grounds-marks.ts';
import { MADE_FIGURES, PROVENANCE_FIGURES } from './grounds-objects.ts';
import { ROLE_FIGURES } from './grounds-roles.ts';
import { SEARCHES_FIGURES } from './grounds-searches.ts';
import { STATUS_FIGURES } from './grounds-status.ts';

export type FigureAbout = { readonly name: string; readonly takes: string; readonly about: string };

/** What `careers` works out of an entry or a person. */
const joined = (careers: string): FigureAbout[] =>
  Object.entries({ ...JOINED_FIGURES, careers }).map(([name, about]) => ({
    name,
    takes: TAKES[name as JoinedFigure],
    about,
  }));

const TAKES: Readonly<Record<JoinedFigure, string>> = {
  careers: '',
  chance: '[ENTRY|PERSON]',
  settles: '[ENTRY|PERSON]',
  nameChange: '[ENTRY|PERSON]',
  exchanged: '',
};

const FREES: FigureAbout = {
  name: 'frees',
  takes: '[NUMBER|RECORD]',
  about: 'how many conflicts are cleared by what gives way in one, and why; its number in heldby conflicts --csv',
};
const OF_RECORD: FigureAbout = { ...FREES, takes: '', about: 'how many conflicts are cleared by setting it aside' };
const PLAN: FigureAbout = {
  name: 'plan',
  takes: '[NUMBER]',
  about: 'what so many look-ups in one visit are worth together',
};
const CONFLICTS: FigureAbout = { name: 'conflicts', takes: '', about: CONFLICT_COUNTS.count };

/** What is worked out of a mark, recorded or not. */
const OF_WORDS: readonly FigureAbout[] = [
  { name: 'window', takes: '', about: 'when it was put on' },
  ...Object.entries(CANDIDATE_FIGURES).map(([name, about]) => ({ name, takes: '[PERSON]', about })),
  { name: 'further', takes: '[NUMBER]', about: 'the share together of those behind the first so many' },
  { name: 'ruledOut', takes: '[PERSON]', about: 'why somebody is no candidate' },
  { name: 'vary', takes: '[ASSUMPTION]', about: 'between which values it leaves the same name first' },
  { name: 'unrecorded', takes: '', about: 'the share of somebody who is not in the ledger' },
  { name: 'expected', takes: '', about: 'how many such people are expected' },
  { name: 'unplaced', takes: '', about: 'lines of the name that are nobody’s yet, and were not weighed' },
  { name: 'noHolder', takes: '', about: 'the chance that it names no holder, by its roles' },
  { name: 'role', takes: 'ROLE', about: 'who would lead were that its role for certain' },
  { name: 'beyond', takes: '', about: 'who is nearest beyond the limit, where nobody fits' },
];

/** The figures of each kind of thing, with what they take and mean. */
export const FIGURES: Readonly<Record<Subject['is'], readonly FigureAbout[]>> = {
  tenure: [
    { name: 'startEarliest', takes: '', about: 'the earliest day on which the post can have begun' },
    { name: 'startLatest', takes: '', about: 'the latest' },
    { name: 'endEarliest', takes: '', about: 'the earliest first day no longer in post' },
    { name: 'endLatest', takes: '', about: 'the latest' },
    { name: 'possible', takes: '', about: 'the days on which it can have been held' },
    { name: 'certain', takes: '', about: 'the days on which it certainly was' },
    { name: 'provisional', takes: '', about: 'whether another choice among contradicting records would change it' },
  ],
  person: [
    { name: 'tenures', takes: '', about: 'every bound of every tenure' },
    ...joined('what careers would add'),
    FREES,
    CONFLICTS,
    ...Object.entries(SEARCHES_FIGURES).map(([name, about]) => ({ name, takes: '[SERIES]', about })),
  ],
  entry: [
    { name: 'record', takes: '', about: 'where it comes from, and what rests on it' },
    ...joined(JOINED_FIGURES.careers),
    OF_RECORD,
  ],
  careers: Object.entries(CAREERS_FIGURES).map(([name, each]) => ({ name, ...each })),
  conflicts: [FREES, ...Object.entries(CONFLICT_COUNTS).map(([name, about]) => ({ name, takes: '', about }))],
  mark: [
    ...OF_WORDS,
    { name: 'gain', takes: 'EDITION PERSON|SURNAME', about: 'what looking somebody up is worth' },
    PLAN,
    FREES,
    CONFLICTS,
  ],
  words: OF_WORDS,
  status: Object.entries(STATUS_FIGURES).map(([name, each]) => ({ name, ...each })),
  object: [
    ...Object.entries(MADE_FIGURES).map(([name, about]) => ({ name, takes: '', about })),
    ...Object.entries(HOLDER_FIGURES).map(([name, about]) => ({ name, takes: '[PERSON]', about })),
    { name: 'chain', takes: '[NUMBER]', about: PROVENANCE_FIGURES.chain },
    { name: 'leftOut', takes: '', about: PROVENANCE_FIGURES.leftOut },
    { name: 'role', takes: '[MARK] [ROLE]', about: ROLE_FIGURES.role },
    { name: 'noHolder', takes: '[MARK]', about: ROLE_FIGURES.noHolder },
    { name: 'phraseIfRole', takes: '[MARK] [ROLE]', about: ROLE_FIGURES.phraseIfRole },
    { name: 'gain', takes: 'EDITION PERSON|SURNAME', about: 'what looking somebody up is worth' },
    PLAN,
    FREES,
    CONFLICTS,
  ],
  assumption: [
    { name: 'value', takes: '', about: 'the value in force' },
    {
      name: 'estimate',
      takes: '',
      about: 'what it comes to in this ledger, before it is recorded; of tenure.mean for every rank',
    },
  ],
  record: [{ name: 'record', takes: '', about: 'where it comes from, and what rests on it' }, OF_RECORD],
};

export type Subject =
  | { readonly is: 'tenure'; readonly person: number; readonly place: number }
  | { readonly is: 'person'; readonly person: number }
  | { readonly is: 'entry'; readonly entry: string }
  | { readonly is: 'careers' }
  | { readonly is: 'conflicts' }
  | { readonly is: 'status' }
  /** Words that were just read, as `candidates --text` is asked about them. */
  | { readonly is: 'words'; readonly words: WordsAsked }
  | { readonly is: 'mark'; readonly mark: number }
  | { readonly is: 'object'; readonly object: number }
  | { readonly is: 'assumption'; readonly name: string }
  | { readonly is: 'record'; readonly id: string };

/** What is asked for when no figure is named. */
export const USUAL: Readonly<Record<Subject['is'], readonly string[]>> = {
  tenure: BOUNDS,
  person: ['tenures'],
  entry: ['record'],
  careers: ['certain', 'waiting'],
  conflicts: ['count', 'people', 'objects'],
  mark: ['window', 'share', 'unrecorded'],
  words: ['window', 'share', 'unrecorded'],
  status: ['counts', 'unplaced'],
  object: ['span', 'spanWithMarks'],
  assumption: ['value'],
  record: ['record'],
};

const plain = (word: string): string => word.toLowerCase().replaceAll(/[^\p{L}\p{N}]/gu, '');

/** `start latest`, `start.latest` and `startLatest` are one; what follows the figure says whose it is. */
export function figureNamed(subject: Subject, words: readonly string[]): { name: string; rest: readonly string[] } {
  const known = FIGURES[subject.is];
  for (let taken = words.length; taken > 0; taken -= 1) {
    const said = plain(words.slice(0, taken).join(''));
    const found = known.find(({ name }) => plain(name) === said);
    if (found !== undefined) return { name: found.name, rest: words.slice(taken) };
  }
  throw new HeldbyError(
    'USAGE',
    `${words.join(' ')} is no figure of ${CALLED[subject.is]}.`,
    `One of: ${known.map(({ name, takes }) => [name, takes].filter((part) => part !== '').join(' ')).join(', ')}.`,
  );
}

const CALLED: Readonly<Record<Subject['is'], string>> = {
  tenure: 'a tenure',
  person: 'a person',
  entry: 'an entry',
  careers: 'the careers',
  conflicts: 'the conflicts',
  mark: 'a mark',
  words: 'words of a mark',
  status: 'the ledger as a whole',
  object: 'an object',
  assumption: 'an assumption',
  record: 'such a record',
};
