import { createHash } from 'node:crypto';
import { closeSync, openSync, readFileSync, readSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import { HeldbyError } from '../errors.ts';
import { rememberedDecisions } from '../intake/decided.ts';
import { ANSWERS, type Answer, type Decision, type Question } from '../intake/decisions.ts';
import { decisionRows } from '../intake/decisions-file.ts';
import {
  type BundleImport,
  type ForeignFile,
  importBundle,
  isBundle,
  ledgerOfBundle,
} from '../intake/import-bundle.ts';
import { formatOf, isStandardInput, readAll } from '../intake/import-file.ts';
import { importHistory, isHistory } from '../intake/import-history.ts';
import { ledgerOfHistory, type Merged, mergeHistory } from '../intake/merge-history.ts';
import { findKind } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { lastActId } from '../ledger/undo.ts';
import { csvLine } from '../report/csv.ts';
import { writeWhole } from '../report/write-file.ts';
import { canAsk, conversing } from './ask.ts';
import { type Context, originOf } from './context.ts';
import { printJson } from './options.ts';
import { type RecordingOptions, recordAct } from './record-command.ts';
import { shown } from './text.ts';

export type ForeignOptions = RecordingOptions & {
  readonly decisions?: string;
  readonly questions?: string;
  readonly differences?: string;
  readonly format?: string;
};

/** Enough to tell a bundle or a history by its beginning. */
const LOOKED_AT_BYTES = 64;

/**
 * Records a file of another ledger: a bundle of objects, or a history. False, and nothing done, where it is something
 * else.
 */
export async function recordForeign(db: Db, file: string, options: ForeignOptions, context: Context): Promise<boolean> {
  const isInput = isStandardInput(file);
  // A list can be long, and is read as it comes.
  if (isInput && options.format !== undefined && formatOf(file, options.format) !== 'jsonl') return false;
  const path = isInput ? 0 : resolve(context.workingFolder, file);
  const beginning = path === 0 ? readAll(0, file).toString('utf8', 0, LOOKED_AT_BYTES) : beginningOf(path);
  const isOfActs = isHistory(beginning);
  if (!isOfActs && !isBundle(beginning)) return false;
  const bytes = readAll(path, file);
  const text = bytes.toString('utf8');
  const foreign: ForeignFile = {
    name: path === 0 ? 'standard input' : basename(file),
    sha256: createHash('sha256').update(bytes).digest('hex'),
    pictures: { file: path === 0 ? undefined : path, keep: options.dryRun !== true },
  };
  if (isOfActs && lastActId(db) === 0) return readHistory(db, text, foreign, options, context);
  const decisions = rememberedDecisions(db, isOfActs ? ledgerOfHistory(text) : ledgerOfBundle(text));
  for (const [record, decision] of givenDecisions(options, context)) decisions.set(record, decision);
  for (;;) {
    const done = isOfActs
      ? mergeHistory(db, text, decisions, foreign, {
          origin: originOf(context, options.why),
          dryRun: options.dryRun === true,
        })
      : bundleOnce(db, text, decisions, foreign, options, context);
    if (done.questions.length === 0) {
      tell(done, foreign.name, options, context);
      return true;
    }
    if (options.differences !== undefined) decideAlike(done.questions, options.differences, decisions);
    else if (canAsk() && !options.json) await askAbout(done.questions, decisions, context);
    else refuseOpen(done.questions, options, context);
  }
}

type Done = (BundleImport & { readonly act: number | undefined }) | Merged;

/** One attempt: what is open is returned with nothing recorded. */
function bundleOnce(
  db: Db,
  text: string,
  decisions: ReadonlyMap<string, Decision>,
  foreign: ForeignFile,
  options: ForeignOptions,
  context: Context,
): Done {
  class Nothing extends Error {
    readonly done: BundleImport;
    constructor(done: BundleImport) {
      super();
      this.done = done;
    }
  }
  try {
    const { result, act } = recordAct(db, context, options, (into) => {
      const done = importBundle(into, text, decisions, foreign);
      // Words of the dictionaries alone are no act.
      if (done.questions.length > 0 || !done.isKept) throw new Nothing(done);
      return done;
    });
    return { ...result, act: act?.id };
  } catch (error) {
    if (error instanceof Nothing) return { ...error.done, act: undefined };
    throw error;
  }
}

function readHistory(
  db: Db,
  text: string,
  { pictures }: ForeignFile,
  options: ForeignOptions,
  context: Context,
): boolean {
  const { acts, records } = importHistory(db, text, options.dryRun === true, pictures, (note) => context.note(note));
  if (options.json) printJson(context, { ...(options.dryRun ? { dryRun: true } : {}), acts, records });
  else
    context.out(
      `${options.dryRun ? 'Would be recorded' : 'Recorded'} again: ${acts} acts, ${records} records and corrections`,
    );
  return true;
}

function tell(done: Done, name: string, options: ForeignOptions, context: Context): void {
  const { known, corrected, notes } = done;
  if ('acts' in done) {
    const { acts, knownActs, added } = done;
    if (options.json) {
      printJson(context, {
        ...(options.dryRun ? { dryRun: true } : {}),
        acts,
        knownActs,
        added,
        known,
        corrected,
        notes,
      });
      return;
    }
    for (const note of notes) context.note(shown(note));
    const said = `${name}: ${counted(acts, 'act')} (${counted(added, 'record')}, ${counted(corrected, 'correction')}); ${counted(knownActs, 'act')} of it ${knownActs === 1 ? 'was' : 'were'} here already`;
    if (acts === 0) context.out(`Nothing new to record: ${said}`);
    else context.out(`${options.dryRun ? 'Would be recorded' : 'Recorded'}: ${said}`);
    return;
  }
  const added = Object.fromEntries([...done.added].map(([type, count]) => [findKind(type)?.plural ?? type, count]));
  const count = Object.values(added).reduce((sum, each) => sum + each, 0);
  if (options.json) {
    printJson(context, {
      act: options.dryRun ? null : (done.act ?? null),
      ...(options.dryRun ? { dryRun: true } : {}),
      file: name,
      new: count,
      added,
      known,
      corrected,
      notes,
    });
    return;
  }
  for (const note of notes) context.note(shown(note));
  const parts = [...done.added].map(([type, each]) =>
    counted(each, (findKind(type)?.called ?? type).replace(/^an? /, ''), findKind(type)?.plural),
  );
  const said = `${name}: ${count} new, ${known} known${corrected > 0 ? `, ${corrected} completed or corrected` : ''}${parts.length > 0 ? ` (${parts.join(', ')})` : ''}`;
  if (done.act === undefined && !options.dryRun) context.out(`Nothing new to record: ${said}`);
  else context.out(options.dryRun ? `Would be recorded: ${said}` : `Recorded in act ${done.act}: ${said}`);
}

const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

function decideAlike(questions: readonly Question[], word: string, decisions: Map<string, Decision>): void {
  const answer = word === 'mine' || word === 'theirs' ? word : undefined;
  if (answer === undefined)
    throw new HeldbyError('USAGE', `--differences cannot be "${word}".`, 'One of: mine, theirs.');
  for (const { record } of questions) decisions.set(record, { answer, here: undefined, why: undefined });
}

/** What each letter means where two different things are possible, and where they are not. */
const MEANING: Readonly<Record<Answer, string>> = {
  mine: '[m] the same; what is here stands',
  theirs: '[t] the same; what the file says stands',
  other: '[o] another one',
};

/** Asks the first question; the others may be settled by the answer. */
async function askAbout(
  [question]: readonly Question[],
  decisions: Map<string, Decision>,
  context: Context,
): Promise<void> {
  if (question === undefined) return;
  await conversing(async (ask) => {
    context.out(`\n${shown(question.record)} of the file ${shown(question.says)}.`);
    for (;;) {
      const said = await ask(`${question.answers.map((each) => MEANING[each]).join('  ')}  [q] end > `);
      const word = said?.trim().toLowerCase();
      if (word === undefined || word === 'q')
        throw new HeldbyError(
          'UNRESOLVED',
          'The questions were not all answered: nothing was recorded.',
          'Give the file again when you know.',
        );
      const answer = question.answers.find((each) => word !== '' && each.startsWith(word));
      if (answer === undefined) continue;
      const why = (await ask('why (may be left empty) > '))?.trim();
      decisions.set(question.record, { answer, here: undefined, why: why === '' ? undefined : why });
      return;
    }
  });
}

const SHOWN = 12;

/** Nobody can be asked: the questions are told, and written to be answered in a file. */
function refuseOpen(questions: readonly Question[], options: ForeignOptions, context: Context): never {
  if (options.questions !== undefined)
    writeWhole(resolve(context.workingFolder, options.questions), [
      csvLine(['one', 'other', 'decision', 'why', 'question', 'answers'], true),
      ...questions.map(({ record, here, says, answers }) =>
        csvLine([record, here, '', '', says, answers.join(', ')], true),
      ),
    ]);
  const told = questions.slice(0, SHOWN).map(({ record, says }) => `  ${shown(record)} ${shown(says)}`);
  const more = questions.length > SHOWN ? [`  … and ${questions.length - SHOWN} more`] : [];
  throw new HeldbyError(
    'CONFLICT',
    `${questions.length === 1 ? 'One thing has' : `${questions.length} things have`} to be decided:\n${[...told, ...more].join('\n')}`,
    options.questions === undefined
      ? 'Nothing was recorded. Give the file again at a terminal, where each is asked; or write them to a file (--questions FILE), decide there (mine, theirs, other), and give that: --decisions FILE. Or decide all alike: --differences mine'
      : `Nothing was recorded. Write mine, theirs or other into the column decision of ${options.questions}, and give the file again with --decisions ${options.questions}`,
    undefined,
    { questions },
  );
}

function givenDecisions({ decisions }: ForeignOptions, context: Context): Map<string, Decision> {
  const given = new Map<string, Decision>();
  if (decisions === undefined) return given;
  let bytes: Buffer;
  try {
    bytes = readFileSync(resolve(context.workingFolder, decisions));
  } catch {
    throw new HeldbyError('INPUT_FILE', `${decisions} cannot be read.`, 'Look at the name and the rights of the file.');
  }
  for (const { line, one, other, decision, why } of decisionRows(bytes)) {
    const answer = ANSWERS.find((each) => each === decision) ?? (decision === 'same' ? 'mine' : undefined);
    if (answer === undefined)
      throw new HeldbyError('VALUE', `"${decision}" is no decision.`, `One of: ${ANSWERS.join(', ')}.`, `line ${line}`);
    given.set(one, {
      answer,
      here: other === '' || answer === 'other' ? undefined : other,
      why: why === '' ? undefined : why,
    });
  }
  return given;
}

/** Nothing for a file that cannot be read: whoever reads it next says what is wrong. */
function beginningOf(path: string): string {
  try {
    const descriptor = openSync(path, 'r');
    const buffer = Buffer.alloc(LOOKED_AT_BYTES);
    const got = readSync(descriptor, buffer);
    closeSync(descriptor);
    return buffer.subarray(0, got).toString('utf8');
  } catch {
    return '';
  }
}
