import type { Assumptions } from '../assumptions.ts';
import { DEFAULTS } from '../assumptions.ts';
import { sourceOf } from '../dating/fact.ts';
import { type FoundClue, findClues } from '../dating/find-clues.ts';
import type { RecordedForce } from '../dating/recorded-force.ts';
import { splitForce } from '../dating/recorded-force.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { confirmedFacts } from '../ledger/house-facts.ts';
import { kindNamed, parseId } from '../ledger/kinds.ts';
import { type MarkRow, markById, markWritten } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { resolveRef } from '../ledger/refs.ts';
import { readTranscription } from '../names/reading.ts';
import { asEvidence } from '../time/evidence-date.ts';
import { readDate } from '../time/read-date.ts';
import { ALL_TIME, type Day, type Span } from '../time/span.ts';
import { spanInAnswer } from './days.ts';
import { type ShelfFact, shelf } from './shelf.ts';

type Days = { readonly from: string | null; readonly to: string | null };

export type ClueAnswer = {
  readonly fact: string;
  /** The record of a house's own fact; null: it ships. */
  readonly id: string | null;
  readonly text: string;
  /** The wording as it was found, and its place: UTF-16 units from 0, the last one not included. */
  readonly words: string;
  readonly at: { readonly from: number; readonly until: number };
  /** A letter of it is unsure or restored. */
  readonly unsure: boolean;
  /** The date expression, and the days that it stands for. */
  readonly expression: string | null;
  readonly window: Days;
  readonly force: RecordedForce;
  readonly weight: string;
  readonly confidence: string;
  readonly source: string;
  readonly fromMemory: boolean;
  readonly dates: string;
  readonly note: string;
  /** The clue by which the researcher confirmed it for this mark. */
  readonly confirmed: string | null;
};

export type CluesAnswer = {
  readonly text: string;
  readonly mark: { readonly id: string; readonly key: string | null; readonly role: string } | null;
  readonly clues: readonly ClueAnswer[];
  /** What the hard ends of all of them leave; null where they leave no day, or there are none. */
  readonly firm: Days | null;
  readonly contradictory: boolean;
  readonly cautions: readonly string[];
};

const CAUTIONS = [
  'A wording dates what it stands on, never by itself the object.',
  'What is found is a suggestion: it counts when you confirm it, with heldby clue confirm MARK FACT.',
];

/** Every datable wording in a text, or in a recorded mark. Without a ledger the shelf that ships is searched alone. */
export function cluesIn(db: Db | undefined, words: string): CluesAnswer {
  const mark = db === undefined ? undefined : markMeant(db, words);
  const text = mark?.text ?? words;
  const assumptions = db === undefined ? DEFAULTS : assumptionsOf(db);
  const confirmed: ReadonlyMap<string, string> =
    db === undefined || mark === undefined ? new Map() : confirmedFacts(db, mark.id);
  const facts = shelf(db);
  const found = findClues(readTranscription(text), facts).map((clue) => ({
    clue,
    dated: datedClue(clue, assumptions),
  }));
  const ids = new Map(facts.map(({ name, id }) => [name, id]));
  const hard = found
    .flatMap(({ dated: { span, force } }) => splitForce({ window: span, force }))
    .filter(({ force }) => force === 'hard')
    .map(({ window }) => window);
  const firm = common(hard);
  return {
    text,
    mark: mark === undefined ? null : { id: `m${mark.id}`, key: mark.key, role: mark.role },
    clues: found.map(({ clue, dated }) => ({
      fact: clue.fact.name,
      id: ids.get(clue.fact.name) ?? null,
      text: clue.fact.text,
      words: clue.words,
      at: { from: clue.from, until: clue.until },
      unsure: clue.unsure,
      expression: dated.expression ?? null,
      window: spanInAnswer(dated.span),
      force: dated.force,
      weight: dated.weight,
      confidence: clue.fact.confidence,
      source: sourceOf(clue.fact),
      fromMemory: clue.fact.fromMemory,
      dates: clue.fact.dates,
      note: [clue.fact.note, clue.number?.note ?? '', clue.registered?.note ?? '']
        .filter((part) => part !== '')
        .join(' '),
      confirmed: confirmed.get(clue.fact.name) ?? null,
    })),
    firm: hard.length === 0 || firm === undefined ? null : spanInAnswer(firm),
    contradictory: hard.length > 0 && firm === undefined,
    cautions: CAUTIONS,
  };
}

/** A mark by its id, its key, or its whole text; any other words are a text to search. */
function markMeant(db: Db, words: string): MarkRow | undefined {
  const trimmed = words.trim();
  const kind = kindNamed('mark');
  if (parseId(trimmed)?.kind.kind === 'mark') return markById(db, resolveRef(db, kind, trimmed));
  return markWritten(db, trimmed);
}

const common = (windows: readonly Span[]): Span | undefined => {
  const from = Math.max(ALL_TIME.from, ...windows.map((window) => window.from)) as Day;
  const until = Math.min(ALL_TIME.until, ...windows.map((window) => window.until)) as Day;
  return from < until ? { from, until } : undefined;
};

export type DatedClue = {
  /** As it is recorded when the clue is confirmed; undefined where nothing dates it. */
  readonly expression: string | undefined;
  readonly span: Span;
  readonly force: RecordedForce;
  readonly weight: string;
};

/**
 * The window of a wording that was found.
 * 1. A year in the words is the earliest, and firm: nothing is written before a date that it bears. An end of the fact
 *    that lies before it is left out.
 * 2. A serial number gives the year in which its series reached it: firm where the first numbers are known, else usual.
 * 3. A lozenge of design registration gives its day, firmly: nothing bears it before.
 * 4. Anything else has the window of the fact.
 */
export function datedClue({ fact, year, number, registered }: FoundClue, assumptions: Assumptions): DatedClue {
  const end = fact.window?.split('/')[1] ?? '..';
  const told = (expression: string, force: RecordedForce, weight: string = fact.weight): DatedClue => ({
    expression,
    span: asEvidence(readDate(expression), assumptions),
    force,
    weight,
  });
  if (year !== undefined) {
    const ended = end !== '..' && readDate(end).span.until <= readDate(String(year)).span.from;
    const firmEnd = fact.force === 'hard' || fact.force === 'hard-end';
    const expression = `${year}/${ended ? '..' : end}`;
    return told(expression, firmEnd || expression.endsWith('/..') ? 'hard' : 'hard-start');
  }
  if (number !== undefined) {
    const approximate = fact.confidence !== 'high' || number.next === undefined || fact.name === 'rd-no';
    return told(`${number.earliest}/..`, approximate ? 'usual' : 'hard', 'strong');
  }
  if (registered !== undefined) return told(`${registered.expression}/..`, 'hard', 'strong');
  if (fact.window === undefined)
    return { expression: undefined, span: ALL_TIME, force: fact.force, weight: fact.weight };
  return told(fact.window, fact.force);
}

/** The wording by which a fact is found in a mark, the first of several. */
export function foundIn(text: string, fact: ShelfFact): FoundClue | undefined {
  return findClues(readTranscription(text), [fact])[0];
}
