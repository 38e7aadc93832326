import { HeldbyError, isFaultOfInput } from '../../errors.ts';
import { alikeBefore, HeldBack, knownEntry, type LineTaken, type TakenAnswer, takeEntry } from '../../inquiry/take.ts';
import type { Doubt } from '../../inquiry/take-doubts.ts';
import { type CompactLine, compactReader, type Standing } from '../../intake/compact-line.ts';
import { assumptionsOf } from '../../ledger/assumed.ts';
import { evidenceReader } from '../../ledger/evidence.ts';
import { lastEntryIn, ranksSeen } from '../../ledger/find-in-edition.ts';
import { type ActOrigin, record } from '../../ledger/journal.ts';
import { kindNamed } from '../../ledger/kinds.ts';
import { knownCorps } from '../../ledger/ladders.ts';
import type { Db } from '../../ledger/open.ts';
import { readRecord } from '../../ledger/reading-records.ts';
import { recording } from '../../ledger/recording.ts';
import { datesOfEdition, nearer } from '../../ledger/series-dates.ts';
import { refreshSurnameIndex } from '../../ledger/surname-search.ts';
import { undoAct } from '../../ledger/undo.ts';
import { readName } from '../../names/name.ts';
import { findRankInText } from '../../services/find-rank.ts';
import { customLadder, type Ladder } from '../../services/ladder.ts';
import type { DateOptions } from '../../time/reading-options.ts';

/**
 * What became of a line: 1. `nothing` in it; 2. a `heading`; 3. `recorded`; 4. `known` before; 5. `held` back, because
 * something looks wrong; 6. `refused`, not understood or impossible; 7. `undone`, the line before; 8. another `command`.
 */
export type Outcome =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'heading'; readonly standing: Standing; readonly doubts: readonly Doubt[] }
  | { readonly kind: 'recorded' | 'known' | 'held'; readonly answer: TakenAnswer; readonly act: number | null }
  | { readonly kind: 'refused'; readonly error: HeldbyError }
  | { readonly kind: 'undone'; readonly id: string }
  | { readonly kind: 'command'; readonly words: string };

export type SessionOptions = {
  readonly monthFirst: boolean;
  /** How the dates are written, beside their words. */
  readonly dates?: DateOptions;
  readonly makePeople: boolean;
  readonly dryRun: boolean;
  /** The typist sees a refusal at once and types the line again; in a file the lines below may have hung on it. */
  readonly atTerminal: boolean;
};

export type Session = {
  readonly edition: { readonly id: string; readonly label: string; readonly series: string; readonly asAt: string };
  readonly standing: Standing;
  /** Takes up where the edition was left. @returns the last line taken. */
  goOn(): TakenAnswer | undefined;
  /** @param keep as if the line ended in !. */
  take(text: string, keep?: boolean): Outcome;
};

/** Stands for a rank or corps that a line above may have said, had it been understood. */
const UNSURE = '\u0000';
/** So many lines above with a date make one without it worth a second look. */
const DATED_LINES = 3;

/** Takes down lines of one edition, each an act of its own, on the disk before the answer is given. */
export function takeSession(
  db: Db,
  edition: number,
  originOf: (line: string) => ActOrigin,
  options: SessionOptions,
): Session {
  const reader = evidenceReader(db, assumptionsOf(db));
  const { label, series, service, asAt } = reader.edition(edition);
  const ladder = ladderFor(db, service, reader.ladder(service));
  const dates = nearer(datesOfEdition(db, edition), options.dates ?? {});
  const read = compactReader({
    ladder,
    asAt: asAt.span,
    monthFirst: options.monthFirst,
    dates,
    knownCorps: knownCorps(db),
  });
  let standing: Standing = {};
  let datedInRow = 0;
  /** How often each line was there before this sitting, and has come in it. */
  const seen = new Map<string, { readonly before: readonly number[]; times: number }>();
  const done: { readonly act: number; readonly id: string; readonly line: string; readonly standing: Standing }[] = [];

  const take = (text: string, keep = false): Outcome => {
    try {
      if (text.includes('\ufffd'))
        throw new HeldbyError('INPUT_FILE', 'The line is not UTF-8 text.', 'Save the file as UTF-8.');
      const line = read(text, standing);
      switch (line.kind) {
        case 'nothing':
          return line;
        case 'command':
          return /^undo$/i.test(line.words) ? undoLast(text) : line;
        case 'heading': {
          const doubts = [...line.slips.map(misspelt), ...pageGoesBack(line.standing.page)];
          standing = line.standing;
          return { kind: 'heading', standing, doubts };
        }
        case 'entry':
          return takeLine(text, line, keep || line.keep);
      }
    } catch (error) {
      if (!isFaultOfInput(error)) throw error;
      if (!options.atTerminal && canHoldBelow(text, ladder)) standing = { ...standing, rank: UNSURE, corps: UNSURE };
      return { kind: 'refused', error };
    }
  };

  const takeLine = (text: string, line: CompactLine & { readonly kind: 'entry' }, keep: boolean): Outcome => {
    const { entry } = line;
    if (entry.rank === UNSURE || entry.corps === UNSURE)
      throw new HeldbyError(
        'VALUE',
        `A line above was not understood, so the ${entry.rank === UNSURE ? 'rank' : 'corps'} that holds here is not known.`,
        'Mend that line and give the whole file again: lines that are recorded already are known.',
      );
    const doubts = [...line.slips.map(misspelt), ...besideTheLinesBefore(entry)];
    const signature = JSON.stringify({ ...entry, bearer: undefined, note: undefined });
    let known: number | undefined;
    let times = 0;
    try {
      const { result, act } = record(
        db,
        originOf(text),
        (opened) => {
          const into = recording(db, opened, dates);
          const before = seen.get(signature)?.before ?? alikeBefore(into, edition, service, entry);
          times = (seen.get(signature)?.times ?? 0) + 1;
          seen.set(signature, { before, times: times - 1 });
          known = before[times - 1];
          if (known !== undefined) return knownEntry(db, known);
          const twice: Doubt[] =
            times > before.length + 1 ? [{ about: 'twice', says: 'this very line was taken down just now' }] : [];
          return takeEntry(into, edition, entry, {
            keep,
            makePeople: options.makePeople,
            doubts: [...twice, ...doubts],
          });
        },
        options.dryRun ? { dryRun: true } : {},
      );
      seen.set(signature, { before: seen.get(signature)?.before ?? [], times });
      if (known === undefined && act !== undefined && !options.dryRun) {
        refreshSurnameIndex(db);
        done.push({ act: act.id, id: result.id, line: signature, standing });
      }
      advance(line);
      return known === undefined
        ? { kind: 'recorded', answer: result, act: act?.id ?? null }
        : { kind: 'known', answer: result, act: null };
    } catch (error) {
      if (!(error instanceof HeldBack)) throw error;
      // What is printed below is printed below this line, whether it is kept or not.
      if (!options.atTerminal) advance(line);
      return { kind: 'held', answer: error.answer, act: null };
    }
  };

  const advance = (line: CompactLine & { readonly kind: 'entry' }): void => {
    standing = line.standing;
    datedInRow = line.entry.dated === undefined ? 0 : datedInRow + 1;
  };

  /** 1. No date, where the lines above have one. 2. A page before the one above. */
  const besideTheLinesBefore = ({ dated, page }: LineTaken): Doubt[] => [
    ...(dated === undefined && datedInRow >= DATED_LINES
      ? [{ about: 'no date', says: 'it has no date, and the lines above have one' } as const]
      : []),
    ...pageGoesBack(page),
  ];

  const pageGoesBack = (page: string | undefined): Doubt[] =>
    Number(page) < Number(standing.page) ? [{ about: 'page', says: `p. ${page} comes after p. ${standing.page}` }] : [];

  const undoLast = (text: string): Outcome => {
    const last = done.at(-1);
    if (last === undefined)
      throw new HeldbyError(
        'REFERENCE',
        'No line was taken down since you began.',
        'Acts before that: heldby history, and heldby undo ACT.',
      );
    record(db, originOf(text), (act) => undoAct(db, act, last.act), { undoes: last.act });
    done.pop();
    const count = seen.get(last.line);
    if (count !== undefined) seen.set(last.line, { before: count.before, times: count.times - 1 });
    standing = last.standing;
    return { kind: 'undone', id: last.id };
  };

  return {
    edition: { id: `ed${edition}`, label, series, asAt: asAt.text },
    get standing() {
      return standing;
    },
    goOn() {
      const last = lastEntryIn(db, edition);
      if (last === undefined) return undefined;
      const id = last.id ?? last.row;
      const fields: Readonly<Record<string, unknown>> = readRecord(db, kindNamed('entry'), id)?.fields ?? {};
      const f = (name: string): string | undefined => (fields[name] === undefined ? undefined : String(fields[name]));
      const dated = f('dated');
      standing = {
        rank: f('rank'),
        corps: f('corps'),
        page: f('page'),
        dated: dated === undefined ? undefined : { text: dated, printed: f('datedAsPrinted') },
        surname: readName(f('name') ?? '').surname,
      };
      return knownEntry(db, id);
    },
    take,
  };
}

const misspelt = (says: string): Doubt => ({ about: 'spelling', says });

/** A service without a ladder has the ranks that were written in it. */
function ladderFor(db: Db, service: string, ladder: Ladder): Ladder {
  if (ladder.ranks.length > 0) return ladder;
  return customLadder(
    service,
    ranksSeen(db, service).map((title) => ({ title })),
  );
}

/** Whether a line that was not understood can have been a heading, or have had a rank or a corps of its own. */
const canHoldBelow = (text: string, ladder: Ladder): boolean =>
  !/\d\d/.test(text) ||
  /[@^,;|\t]/.test(text) ||
  (ladder.ranks.length > 0 && findRankInText(`${text} `, [ladder]) !== undefined);
