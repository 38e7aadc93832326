import { HeldbyError } from '../errors.ts';
import { readName } from '../names/name.ts';
import { plainName } from '../names/plain-name.ts';
import type { Ladder } from '../services/ladder.ts';
import { type RankReading, readRank } from '../services/read-rank.ts';
import { plainDay } from '../time/plain-day.ts';
import type { DateOptions } from '../time/reading-options.ts';
import { refuseUnreckoned } from '../time/reckoned-years.ts';
import { recordedDate } from '../time/recorded-date.ts';
import type { Day } from '../time/span.ts';
import type { Act, Cell } from './journal.ts';
import { ladderOf } from './ladders.ts';
import type { Db } from './open.ts';

/** UTF-16 units of a name with all its titles; a longer text is no name, and comparing it letter by letter would not end. */
const LONGEST_NAME = 500;

/** Words that say nothing about a surname's honours or place in a family are kept beside it. */
export type NameParts = {
  readonly surname: string;
  readonly forenames: string | null;
  readonly honours: string | null;
  readonly suffix: string | null;
};

export type FoundName = { readonly id: number; readonly surnameId: number };

/** A date that was kept in other words than those written. */
type MeantDate = { readonly written: string; readonly words: string };

/** The dictionaries while an act is recorded: every wording is looked up, and added with what was made of it if new. */
export type Dictionary = ReturnType<typeof dictionary>;

/** @param asWritten how the dates of the act are written, beside their words. */
export function dictionary(db: Db, act: Act, asWritten: DateOptions = {}) {
  const surnames = interned(db, act, 'surname', 'SELECT id FROM surname WHERE text = ?', ['text']);
  const names = interned(
    db,
    act,
    'printed_name',
    'SELECT id FROM printed_name WHERE surname_id = ? AND text = ? AND forenames IS ?',
    ['text', 'surname_id', 'forenames', 'honours', 'suffix'],
  );
  const ranks = interned(
    db,
    act,
    'rank_style',
    'SELECT id FROM rank_style WHERE service = ? AND text = ? AND rank = ?',
    ['service', 'text', 'rank'],
  );
  const corps = interned(db, act, 'corps_style', 'SELECT id FROM corps_style WHERE text = ?', ['text']);
  const dates = interned(db, act, 'date_expression', 'SELECT id FROM date_expression WHERE text = ? AND printed IS ?', [
    'text',
    'printed',
    'from_day',
    'until_day',
    'approximate',
    'uncertain',
  ]);
  const ladders = new Map<string, Ladder>();
  const read = new Map<string, FoundName>();
  const meant = new Map<string, MeantDate>();
  const rankNotes = new Map<string, string>();

  const ladder = (service: string): Ladder => {
    const known = ladders.get(service);
    if (known) return known;
    const found = ladderOf(db, service);
    ladders.set(service, found);
    return found;
  };

  const surname = (text: string): number => surnames([text], () => [text]);

  return {
    surname,
    ladder,
    /** A name as printed; its parts are read from it unless they were given apart. */
    name(text: string, given?: NameParts): FoundName {
      const known = given === undefined ? read.get(text) : undefined;
      if (known) return known;
      const printed = tidy(text);
      if (printed.length > LONGEST_NAME)
        throw new HeldbyError(
          'VALUE',
          `A name of ${printed.length} signs is longer than any name.`,
          'Look whether something else has come into its field.',
        );
      const parts = given ?? partsOf(printed);
      const surnameId = surname(parts.surname);
      const { forenames, honours, suffix } = parts;
      const id = names([surnameId, printed, forenames], () => [printed, surnameId, forenames, honours, suffix]);
      const found = { id, surnameId };
      if (given === undefined) read.set(text, found);
      return found;
    },
    /** @param when the days that decide what an abbreviation with several meanings stood for. */
    rank(service: string, text: string, when?: { from: Day; until: Day }): { id: number; appointment: string | null } {
      const printed = tidy(text);
      const reading = readRank(printed, ladder(service), { column: true, ...(when ? { span: when } : {}) });
      if (reading.kind !== 'found') throw rankFault(printed, service, reading);
      const notes = notesOf(printed, reading);
      if (notes !== '') rankNotes.set(printed, notes);
      const rank = reading.rank.id;
      return {
        id: ranks([service, printed, rank], () => [service, printed, rank]),
        appointment: heldAs(reading),
      };
    },
    corps(text: string): number {
      const printed = tidy(text);
      return corps([printed], () => [printed]);
    },
    /** What is to be said of ranks as they were written, one sentence or two for each. */
    rankNotes: (): readonly string[] => [...rankNotes.values()],
    /** Dates that were kept in other words than those written, each once. */
    meantDates: (): readonly MeantDate[] => [...meant.values()],
    /**
     * @param printed what the page shows, where that is no possible date.
     * @param options how this one is written.
     */
    date(
      expression: string,
      printed: string | null = null,
      options: DateOptions = asWritten,
    ): { id: number; from: Day; until: Day } {
      const day = Object.keys(options).every((name) => name === 'reference') ? plainDay(expression) : undefined;
      if (day !== undefined) {
        const until = (day + 1) as Day;
        return { id: dates([expression, printed], () => [expression, printed, day, until, 0, 0]), from: day, until };
      }
      const { reading, written } = recordedDate(expression, options);
      if (written !== undefined) meant.set(written, { written, words: reading.words });
      const { from, until } = reading.span;
      refuseUnreckoned(reading.text, reading.span);
      const shown = printed ?? written ?? null;
      const id = dates([reading.text, shown], () => [
        reading.text,
        shown,
        Number.isFinite(from) ? from : null,
        Number.isFinite(until) ? until : null,
        reading.approximate ? 1 : 0,
        reading.uncertain ? 1 : 0,
      ]);
      return { id, ...reading.span };
    },
  };
}

export function partsOf(printed: string): NameParts {
  const plain = plainName(printed);
  if (plain) return { ...plain, honours: null, suffix: null };
  const name = readName(printed);
  if (name.surname === '')
    throw new HeldbyError(
      'VALUE',
      `"${printed}" has no surname.`,
      'Write the name as "Forenames Surname" or "Surname, Forenames".',
    );
  return {
    surname: name.surname,
    forenames: name.forenames.length > 0 ? name.forenames.join(' ') : null,
    honours: name.titles.length > 0 ? name.titles.join(' ') : null,
    suffix: name.suffix ?? null,
  };
}

/** How the words beside a rank say that it was held: by brevet and the like, on half-pay, retired with it. */
const heldAs = ({ appointment, status }: Extract<RankReading, { kind: 'found' }>): string | null =>
  appointment ?? status.find((each) => each === 'half-pay' || each === 'retired') ?? null;

function notesOf(printed: string, reading: Extract<RankReading, { kind: 'found' }>): string {
  const held = heldAs(reading);
  return [
    ...(held === null ? [] : [`“${printed}” is taken as ${held}, where no kind is given.`]),
    ...(reading.caution === undefined ? [] : [`“${printed}”: ${reading.caution}`]),
  ].join(' ');
}

const tidy = (text: string): string => text.normalize('NFC').replaceAll(/\s+/g, ' ').trim();

/** Looks a wording up by its key cells, adds it when it is new, and remembers it for the rest of the act. */
function interned(db: Db, act: Act, table: string, sql: string, columns: readonly string[]) {
  const find = db.prepare(sql).pluck();
  const known = new Map<string, number>();
  const last = (db.prepare(`SELECT max(id) FROM ${table}`).pluck().get() as number | null) ?? 0;
  let next = last + 1;
  // Made at once, surnames first: batches are written in the order in which their inserters were made.
  const add = act.inserter(table, ['id', ...columns], true);
  return (key: readonly Cell[], row: () => readonly Cell[]): number => {
    const signature = key.length === 1 ? String(key[0]) : key.join('\u0001');
    const remembered = known.get(signature);
    if (remembered !== undefined) return remembered;
    let id = last === 0 ? undefined : (find.get(...key) as number | undefined);
    if (id === undefined) {
      id = next++;
      add([id, ...row()]);
    }
    known.set(signature, id);
    return id;
  };
}

function rankFault(
  text: string,
  service: string,
  reading: Exclude<ReturnType<typeof readRank>, { kind: 'found' }>,
): HeldbyError {
  if (reading.kind === 'ambiguous') {
    const titles = reading.ranks.map((each) => each.title);
    if (reading.decides === 'several')
      return new HeldbyError(
        'RANK',
        `"${text}" names ${titles.join(' and ')}: a record states one rank.`,
        'Record each by itself, with its own date and, where it was no substantive one, --kind.',
      );
    const meanings = titles.join(' or ');
    return new HeldbyError(
      'RANK',
      `"${text}" can mean ${meanings} in the service ${service}.`,
      'Write the rank meant in full.',
    );
  }
  const nearest = reading.nearest.length > 0 ? ` Nearest: ${reading.nearest.join(', ')}.` : '';
  return new HeldbyError(
    'RANK',
    `"${text}" is no rank of the service ${service}.`,
    `${nearest} Mend the spelling, or add it: heldby rank add ${service} "${text}" --order N`.trim(),
  );
}
