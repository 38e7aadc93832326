import { HeldbyError, isFaultOfInput } from '../errors.ts';
import { actSignature, actsInOrder, ledgerMark } from '../ledger/act-contents.ts';
import { type ActOrigin, record } from '../ledger/journal.ts';
import { findKind, KINDS, parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import { type Draft, recording } from '../ledger/recording.ts';
import { amendRecord, currentRow, hasSaid, restingOn, withdrawRecord } from '../ledger/records.ts';
import { addSourceFile, knownSourceFile } from '../ledger/source-files.ts';
import { refreshSurnameIndex } from '../ledger/surname-search.ts';
import { correctionsOf } from '../ledger/twins.ts';
import { undoAct } from '../ledger/undo.ts';
import { recordReader } from '../ledger/whole-records.ts';
import { type Bringing, bringing } from './bring-in.ts';
import { keptDecisions } from './decided.ts';
import type { Decisions, Question } from './decisions.ts';
import { inWords, named } from './difference-words.ts';
import type { ForeignLine } from './foreign-lines.ts';
import type { ForeignFile } from './import-bundle.ts';
import { actsIn, filesIn, grouped, type HistoryAct, type HistoryEntry, inPlace, originOf } from './import-history.ts';
import { type Pictures, withPicture } from './pictures.ts';

export type Merged = {
  /** Acts of the file: recorded here, and here already. */
  readonly acts: number;
  readonly knownActs: number;
  readonly added: number;
  readonly known: number;
  readonly corrected: number;
  readonly questions: readonly Question[];
  readonly notes: readonly string[];
};

/** Which ledger a history is of, by its first act: two copies of one ledger have it in common. */
export function ledgerOfHistory(text: string): string {
  const [first] = actsIn(text);
  return first === undefined ? '' : ledgerMark(first.head.fields);
}

const headOf = ({ head }: HistoryAct): string => actSignature(head.fields);

/**
 * Brings the history of another ledger into this one, act by act. Acts that both have, from a common beginning or from
 * an earlier time, are recognised by who recorded them, when and how; of the others, what is here already is recognised
 * and the rest recorded under whoever recorded it there. Where both corrected the same, that is a question.
 * @param closing who brings it in, and the file, which is kept so that it is known again.
 */
export function mergeHistory(
  db: Db,
  text: string,
  decisions: Decisions,
  file: ForeignFile,
  closing: { readonly origin: ActOrigin; readonly dryRun: boolean },
): Merged {
  class Back extends Error {}
  let merged: Merged | undefined;
  try {
    db.transaction(() => {
      const merging = new Merging(db, actsIn(text), decisions, file);
      merged = merging.run();
      const options = keptDecisions(ledgerOfHistory(text), decisions, merging.idOf);
      const isNew = !knownSourceFile(db, file.sha256, options) && (merged.acts > 0 || decisions.size > 0);
      if (isNew)
        record(db, closing.origin, (act) =>
          addSourceFile(recording(db, act), { name: file.name, sha256: file.sha256, options }),
        );
      if (closing.dryRun || merged.questions.length > 0 || (merged.acts === 0 && !isNew)) throw new Back();
    }).immediate();
  } catch (error) {
    if (!(error instanceof Back)) throw error;
  }
  if (merged === undefined) throw new Error('a history was brought in without an outcome');
  refreshSurnameIndex(db);
  return merged;
}

class Merging {
  readonly #notes: string[] = [];
  readonly idOf: Bringing['idOf'];
  readonly #bring: Bringing;
  readonly #db: Db;
  readonly #acts: readonly HistoryAct[];
  readonly #pictures: Pictures;
  /** The act here of an act of the file. */
  readonly #actHere = new Map<unknown, number>();
  #added = 0;
  #known = 0;
  #corrected = 0;

  constructor(db: Db, acts: readonly HistoryAct[], decisions: Decisions, file: ForeignFile) {
    this.#db = db;
    this.#acts = acts;
    this.#pictures = file.pictures;
    this.#bring = bringing(
      db,
      acts.flatMap(({ lines }) => lines.flatMap(foreign)),
      decisions,
      file.name,
    );
    this.idOf = this.#bring.idOf;
  }

  run(): Merged {
    const here = actsBySignature(this.#db);
    let recorded = 0;
    for (const act of this.#acts) {
      const known = here.get(headOf(act))?.shift();
      if (known !== undefined) this.#actHere.set(act.head.fields['act'], known);
      if (known !== undefined && this.#pair(act, known)) continue;
      const made = this.#record(act);
      if (made === undefined) continue;
      if (known === undefined) this.#actHere.set(act.head.fields['act'], made);
      recorded += 1;
    }
    return {
      acts: recorded,
      knownActs: this.#acts.length - recorded,
      added: this.#added,
      known: this.#known,
      corrected: this.#corrected,
      questions: [...this.#bring.questions.values()],
      notes: this.#notes,
    };
  }

  /** An act that is here with all its records: each stands for its like. */
  #pair(act: HistoryAct, here: number): boolean {
    const read = recordReader(this.#db);
    const lines = act.lines.flatMap(foreign);
    const kinds = [...new Set(lines.map(({ kind }) => kind.kind))];
    const records = [...read.ofAct(here, kinds)].filter(({ row, id }) => row === id);
    if (records.length !== lines.length || records.some(({ kind }, at) => kind !== lines[at]?.kind.kind)) return false;
    for (const [at, line] of lines.entries()) this.#bring.settle(line, `${line.kind.prefix}${records[at]?.id}`);
    this.#known += act.lines.length;
    return true;
  }

  /** @returns the number of the act here; undefined where there was nothing to record. */
  #record(act: HistoryAct): number | undefined {
    const { head } = act;
    const undone = head.fields['undoes'];
    if (typeof undone === 'number') return this.#undo(act, undone);
    class Nothing extends Error {}
    try {
      return record(this.#db, originOf(head), (sealed) => {
        const into = recording(this.#db, sealed);
        const before = this.#added + this.#corrected;
        this.#bring.begin(into);
        for (const line of grouped(act.lines)) inPlace(line.number, () => this.#line(into, line));
        if (this.#added + this.#corrected === before) throw new Nothing(); // words alone are no act
        for (const file of filesIn(head)) addSourceFile(into, file);
      }).act?.id;
    } catch (error) {
      if (error instanceof Nothing) return undefined;
      throw error;
    }
  }

  #line(into: ReturnType<typeof recording>, line: HistoryEntry): void {
    const [record] = foreign(line);
    if (record !== undefined) {
      const draft =
        record.kind.kind === 'photo'
          ? withPicture(this.#db, record.draft, this.#pictures, (note) => this.#notes.push(note))
          : record.draft;
      const outcome = this.#bring.bring({ ...record, draft });
      if (outcome === 'new') this.#added += 1;
      else if (outcome === 'known') this.#known += 1;
      else this.#corrected += 1;
      return;
    }
    const words = String(line.fields['record']);
    const id = parseId(this.#bring.local(KINDS, words));
    if (!id) throw new HeldbyError('REFERENCE', `There is no record ${words}.`, 'The file is not whole.');
    const why = typeof line.fields['why'] === 'string' ? line.fields['why'] : null;
    if (currentRow(this.#db, id.kind, id.row) === undefined) {
      if (line.type === 'amendment')
        this.#notes.push(`Line ${line.number}: ${words} was withdrawn here, and is not corrected.`);
      this.#known += 1;
      return;
    }
    if (line.type === 'withdrawal') {
      this.#withdraw(into, line, id, why);
      return;
    }
    const change = this.#bring.localDraft(id.kind, line.fields['change'] as Draft);
    if (hasSaid(into, id.kind, id.row, change)) {
      this.#known += 1;
      return;
    }
    if (!this.#maySay(line, words, id, change)) {
      this.#known += 1;
      return;
    }
    amendRecord(into, id.kind, id.row, change, why);
    this.#corrected += 1;
  }

  #withdraw(
    into: ReturnType<typeof recording>,
    line: HistoryEntry,
    id: NonNullable<ReturnType<typeof parseId>>,
    why: string | null,
  ): void {
    const resting = restingOn(this.#db, id.kind, id.row);
    if (resting.length > 0) {
      this.#notes.push(
        `Line ${line.number}: ${id.kind.prefix}${id.row} is not withdrawn here: ${resting.slice(0, 5).join(', ')} rest on it.`,
      );
      this.#known += 1;
      return;
    }
    withdrawRecord(into, id.kind, id.row, why);
    this.#corrected += 1;
  }

  /** Whether a correction of the file may be made: it was not corrected otherwise here, or that was decided. */
  #maySay(line: HistoryEntry, words: string, id: NonNullable<ReturnType<typeof parseId>>, change: Draft): boolean {
    const fromFile = new Set(this.#actHere.values());
    const field = Object.keys(change)[0] ?? '';
    const act = correctionsOf(this.#db, id.kind, id.row, field).find((each) => !fromFile.has(each));
    if (act === undefined) return true;
    const { answer } = this.#bring.ask(
      { number: line.number, kind: id.kind, key: `${words} ${field}`, draft: change },
      {
        here: `${id.kind.prefix}${id.row}`,
        says: `is ${named(this.#db, id.kind, id.row)}, and was corrected here too, in act ${act}: its ${field} is ${inWords(this.#hereSays(id, field))} here and ${inWords(change[field])} in the file`,
        answers: ['mine', 'theirs'],
      },
    );
    return answer === 'theirs';
  }

  #hereSays({ kind, row }: NonNullable<ReturnType<typeof parseId>>, field: string): unknown {
    return readRecord(this.#db, kind, row)?.fields[field];
  }

  #undo(act: HistoryAct, undone: number): number | undefined {
    const target = this.#actHere.get(undone);
    const note = (why: string): undefined => {
      this.#notes.push(`Line ${act.head.number}: act ${undone} of the file is undone there, and not here: ${why}.`);
    };
    if (target === undefined) return note('what it recorded was here already');
    try {
      return record(this.#db, originOf(act.head), (sealed) => undoAct(this.#db, sealed, target), { undoes: target }).act
        ?.id;
    } catch (error) {
      if (!isFaultOfInput(error)) throw error;
      return note(error.message.replace(/\.$/, ''));
    }
  }
}

/** A line that records something; none for one that corrects or withdraws. */
function foreign({ number, type, fields }: HistoryEntry): ForeignLine[] {
  const kind = findKind(type);
  const { key, ownKey: _, ...draft } = fields;
  return kind === undefined || typeof key !== 'string' ? [] : [{ number, kind, key, draft }];
}

/** Acts of this ledger by who recorded them, when and how; the earliest first. */
function actsBySignature(db: Db): Map<string, number[]> {
  const acts = new Map<string, number[]>();
  for (const act of actsInOrder(db, Number.MAX_SAFE_INTEGER)) {
    const known = acts.get(actSignature(act));
    if (known) known.push(act.id);
    else acts.set(actSignature(act), [act.id]);
  }
  return acts;
}
