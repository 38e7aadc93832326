import { byYear } from '../dating/making-words.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import { kindNamed, parseId } from '../ledger/kinds.ts';
import { markById, objectById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, samePeople } from '../ledger/people.ts';
import { resolveAny } from '../ledger/refs.ts';
import type { CandidateAnswer } from './candidates.ts';
import { type LotQuestions, lotQuestions } from './lot-questions.ts';
import type { Days } from './made.ts';
import { type SaidDate, saidDate } from './report-dates.ts';

/** A stretch of days: possible in all of it, certain in the part that is given. */
export type TimelineBar = { readonly possible: Days; readonly certain: Days | null };

/** How likely each year is, from the first on; null where nothing is reckoned. */
export type YearShares = { readonly firstYear: number; readonly shares: readonly number[] };

/** One row of the picture. `text` is as recorded. */
export type TimelineRow = {
  readonly bars: readonly TimelineBar[];
  readonly density: YearShares | null;
} & (
  | { readonly kind: 'making'; readonly id: string; readonly by: 'features' | 'all' }
  | {
      readonly kind: 'window';
      readonly id: string;
      readonly text: string;
      readonly force: string;
      readonly state: string;
      readonly used: boolean;
    }
  | {
      readonly kind: 'mark';
      readonly id: string;
      readonly number: number;
      readonly text: string;
      readonly stated: boolean;
    }
  | {
      readonly kind: 'candidate';
      readonly id: string;
      readonly number: number;
      readonly person: PersonName;
      readonly share: number;
    }
  | { readonly kind: 'holder'; readonly id: string; readonly number: number; readonly person: PersonName | null }
  | {
      readonly kind: 'tenure';
      readonly id: string;
      readonly rank: string;
      readonly corps: string | null;
      readonly of: string;
      readonly implied: boolean;
    }
  | { readonly kind: 'life'; readonly id: string; readonly person: PersonName }
);

export type TimelineAnswer = {
  readonly of: { readonly kind: 'object' | 'mark' | 'person'; readonly id: string; readonly name: string };
  readonly rows: readonly TimelineRow[];
};

/** Candidates of a mark that the picture of an object shows, and that of the mark itself. */
const SHOWN_OF_OBJECT = 3;
const SHOWN_OF_MARK = 8;
const SHOWN_SHARE = 0.01;

/** Windows, marks, candidates, holders or appointments on one calendar: of an object, a mark or a person. */
export function timelineOf(db: Db, words: string, ask: LotQuestions = lotQuestions(db)): TimelineAnswer {
  const id = resolveAny(db, words, [kindNamed('object'), kindNamed('mark'), kindNamed('person')]);
  const row = Number(id.replace(/\D+/, ''));
  switch (parseId(id)?.kind.kind) {
    case 'object':
      return ofObject(db, row, ask);
    case 'mark':
      return ofMark(db, row, ask);
    default:
      return ofPerson(db, row, ask);
  }
}

function ofObject(db: Db, row: number, ask: LotQuestions): TimelineAnswer {
  const id = `o${row}`;
  const made = ask.made(id);
  const object = objectById(db, row);
  const marks = made.withMarks?.marks ?? [];
  const makings: TimelineRow[] = [
    { kind: 'making', id, by: 'features', bars: [{ possible: made.span, certain: null }], density: made.years },
    ...(made.withMarks === null
      ? []
      : [
          {
            kind: 'making' as const,
            id,
            by: 'all' as const,
            bars: [{ possible: made.withMarks.span, certain: null }],
            density: made.withMarks.years,
          },
        ]),
  ];
  const windows = made.windows.map(
    ({ id: feature, text, force, state, used, from, to }): TimelineRow => ({
      kind: 'window',
      id: feature,
      text,
      force,
      state,
      used,
      bars: [{ possible: { from, to }, certain: force === 'hard' ? { from, to } : null }],
      density: null,
    }),
  );
  const rows = marks.flatMap((mark, place): TimelineRow[] => [
    markRow(mark, place + 1, byYears(ask, mark.id)),
    ...(mark.namesHolder ? candidateRows(ask, mark.id, place + 1, SHOWN_OF_OBJECT) : []),
  ]);
  const holders = marks.some(({ namesHolder }) => namesHolder)
    ? (ask.provenance(id).chains[0]?.holders ?? []).map(
        ({ person, mark, from, to }): TimelineRow => ({
          kind: 'holder',
          id: mark,
          number: marks.findIndex((each) => each.id === mark) + 1,
          person,
          bars: [{ possible: { from, to }, certain: null }],
          density: null,
        }),
      )
    : [];
  const name = `${object?.ref ?? id} ${object?.title ?? ''}`.trim();
  return { of: { kind: 'object', id, name }, rows: [...makings, ...windows, ...rows, ...holders] };
}

function ofMark(db: Db, row: number, ask: LotQuestions): TimelineAnswer {
  const id = `m${row}`;
  const mark = markById(db, row);
  const answer = ask.candidates(id);
  const density = byYears(ask, id);
  const windowIs = mark?.made_id === null ? 'reckoned' : 'stated';
  return {
    of: { kind: 'mark', id, name: mark?.text ?? id },
    rows: [
      markRow({ id, text: mark?.text ?? id, windowIs, from: answer.window.from, to: answer.window.to }, 1, density),
      ...candidateRows(ask, id, 1, SHOWN_OF_MARK),
    ],
  };
}

function ofPerson(db: Db, row: number, ask: LotQuestions): TimelineAnswer {
  const read = evidenceReader(db, assumptionsOf(db));
  const { born, died, notices } = read.careerOf(samePeople(db)(row));
  const answer = ask.tenures(`p${row}`);
  const { person, tenures } = answer;
  const [birth, death] = [
    saidDate(born?.date.text),
    saidDate(died?.date.text ?? notices.find(({ event }) => event === 'died')?.date.text),
  ];
  const life = lifeBar(birth, death);
  return {
    of: { kind: 'person', id: person.id, name: person.name },
    rows: [
      ...(life === undefined ? [] : [{ kind: 'life' as const, id: person.id, person, bars: [life], density: null }]),
      ...tenures
        .filter(({ unsupported }) => !unsupported)
        .map(
          ({ id, rank, corps, kind, implied, possible, certain }): TimelineRow => ({
            kind: 'tenure',
            id,
            rank,
            corps,
            of: kind,
            implied,
            bars: [{ possible, certain }],
            density: null,
          }),
        ),
    ],
  };
}

/** From the first day of birth to the last of death; certain from the last of the one to the first of the other. */
function lifeBar(born: SaidDate | null, died: SaidDate | null): TimelineBar | undefined {
  if (born === null && died === null) return undefined;
  const [sureFrom, sureTo] = [born?.to ?? null, died?.from ?? null];
  const certain = sureFrom !== null && sureTo !== null && sureFrom < sureTo ? { from: sureFrom, to: sureTo } : null;
  return { possible: { from: born?.from ?? null, to: died?.to ?? null }, certain };
}

const markRow = (
  { id, text, windowIs, from, to }: Days & { readonly id: string; readonly text: string; readonly windowIs: string },
  number: number,
  density: YearShares | null,
): TimelineRow => {
  const stated = windowIs === 'stated';
  const bars = [{ possible: { from, to }, certain: stated ? { from, to } : null }];
  return { kind: 'mark', id, number, text, stated, bars, density: stated ? null : density };
};

/** The appointments by which each candidate fits; where the mark names no rank, the days on which they can have marked. */
function candidateRows(ask: LotQuestions, mark: string, number: number, most: number): TimelineRow[] {
  const shown = ask
    .candidates(mark)
    .candidates.slice(0, most)
    .filter(({ share }, place) => place === 0 || share >= SHOWN_SHARE);
  return shown.map((candidate): TimelineRow => {
    const { person, share } = candidate;
    return { kind: 'candidate', id: person.id, number, person, share, bars: barsOf(ask, candidate), density: null };
  });
}

function barsOf(ask: LotQuestions, { person, tenures, markedBetween }: CandidateAnswer): TimelineBar[] {
  const posts = ask.tenures(person.id).tenures.filter(({ id }) => tenures.includes(id));
  if (posts.length === 0) return [{ possible: markedBetween, certain: null }];
  return posts.map(({ possible, certain }) => ({ possible, certain }));
}

/** When a mark was put on, by years. */
function byYears(ask: LotQuestions, mark: string): YearShares | null {
  const density = ask.days(mark);
  return density === undefined ? null : byYear(density);
}
