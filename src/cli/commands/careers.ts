import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type CareersAnswer, careersInAnswer, careersWeights } from '../../inquiry/careers.ts';
import { certainPlacings } from '../../inquiry/careers-certain.ts';
import { type CareerDecision, DECISIONS, recordDecisions } from '../../inquiry/careers-decisions.ts';
import { careersFound, type Whole } from '../../inquiry/careers-found.ts';
import { decisionRows } from '../../intake/decisions-file.ts';
import type { Db } from '../../ledger/open.ts';
import { recordPlacings } from '../../ledger/placings.ts';
import { type Ask, canAsk, conversing } from '../ask.ts';
import { askWhetherOne } from '../ask-whether-one.ts';
import {
  careersInLines,
  changeInLines,
  counted,
  csvOf,
  doubtInLines,
  EVIDENCE_IN_WORDS,
  weightsInLines,
} from '../careers-words.ts';
import { actNumber, asking, type Context, recordingIn, widthOf } from '../context.ts';
import { example, optionsOf, printAnswer, printJson, recordingOptions } from '../options.ts';
import { type RecordingOptions, recordAct } from '../record-command.ts';
import { wrapped } from '../text.ts';
import { wholeMeant } from '../whole-option.ts';

type CareersOptions = RecordingOptions & {
  readonly accept?: true;
  readonly review?: true;
  readonly weights?: true;
  readonly decisions?: string;
  readonly whole?: string;
  readonly limit?: string;
  readonly csv?: true;
};

/** People and doubts shown in words. */
const SHOWN = 20;
const IN_JSON = 10_000;

export function register(program: Command, context: Context): void {
  const command = program
    .command('careers')
    .description(
      'put the entries that are nobody’s yet together into people: propose, record what is certain, ask what is doubtful',
    )
    .option('--accept', 'record the certain joins: new people, and a link with its reason for each entry, in one act')
    .option('--review', 'ask about the doubtful ones, first what settles most; without a terminal, list them')
    .option('--decisions <file>', 'record decisions from a CSV file (columns one, other, decision, why), in one act')
    .option('--weights', 'the weights by which lines are compared, as estimated from the entries')
    .option(
      '--whole <editions>',
      'which editions count as taken down whole: all, none (those that look so unless you say)',
    )
    .option('--limit <number>', `how many people and doubts to show (${SHOWN} unless you say another)`)
    .option('--csv', 'print the doubts and changes of name as a file for --decisions');
  recordingOptions(command)
    .addHelpText(
      'after',
      `
A decision is same, differ, or renamed (one person: the name of the first entry
was changed for that of the other). Whatever is decided, by you or by --accept,
can be taken back: heldby undo, or for one line heldby amend LINK person "".
What you decided is kept, and everything else is put together around it.
${example('heldby careers', 'heldby careers --accept', 'heldby careers --review', 'heldby careers --csv > doubts.csv   (fill in the column decision)', 'heldby careers --decisions doubts.csv')}`,
    )
    .action(async () => {
      const options = optionsOf<CareersOptions>(command);
      const chosen = [options.accept, options.review, options.weights, options.decisions].filter(
        (each) => each !== undefined,
      );
      if (chosen.length > 1)
        throw new HeldbyError(
          'USAGE',
          'One thing at a time.',
          'Give one of --accept, --review, --decisions FILE, --weights.',
        );
      const whole = wholeMeant(options.whole);
      if (options.accept) await recordingIn(context, options, (db) => accept(db, whole, context, options));
      else if (options.decisions !== undefined)
        await recordingIn(context, options, (db) => decide(db, whole, context, options, options.decisions ?? ''));
      else if (options.review && atTerminal(options))
        await recordingIn(context, options, (db) => review(db, whole, context, options));
      else await asking(context, options, (db) => propose(db, whole, context, options));
    });
}

const atTerminal = (options: CareersOptions): boolean => canAsk() && !options.json && !options.csv;

function limitOf({ limit }: CareersOptions, otherwise: number): number {
  if (limit === undefined) return otherwise;
  if (!/^[1-9]\d{0,6}$/.test(limit))
    throw new HeldbyError('USAGE', `"${limit}" is no number.`, 'Give a whole number, such as --limit 50.');
  return Number(limit);
}

function propose(db: Db, whole: Whole, context: Context, options: CareersOptions): void {
  const found = careersFound(db, whole);
  if (options.weights) {
    const weights = careersWeights(found);
    if (options.json) printJson(context, { weights, about: about(db, options) });
    else context.out(weightsInLines(weights, context).join('\n'));
    return;
  }
  const many = options.csv ? Number.MAX_SAFE_INTEGER : limitOf(options, options.json ? IN_JSON : SHOWN);
  const answer = careersInAnswer(found, { people: options.csv ? 0 : many, doubts: many });
  if (options.json) printAnswer(context, db, { ...answer, about: about(db, options) });
  else if (options.csv) context.out(csvOf(answer));
  else context.out(careersInLines(answer, options.review === true, context).join('\n'));
}

const about = (db: Db, { asOf }: CareersOptions) => aboutAnswer(db, asOf === undefined ? undefined : actNumber(asOf));

function accept(db: Db, whole: Whole, context: Context, options: CareersOptions): void {
  const found = careersFound(db, whole);
  const placings = certainPlacings(found);
  const { result, act } = recordAct(db, context, options, (into) => recordPlacings(into, found.source.facts, placings));
  const entries = placings.reduce((sum, placing) => sum + placing.entries.length, 0);
  const newPeople = placings.filter(({ person }) => person === undefined).length;
  if (options.json) {
    const people = [...new Set(result)].map((person) => `p${person}`);
    printJson(context, {
      ...(options.dryRun ? { dryRun: true } : {}),
      act: act?.id ?? null,
      entries,
      newPeople,
      people,
    });
    return;
  }
  if (entries === 0) context.out('There is nothing certain to record.');
  else {
    const said = `${counted(entries, 'entry', 'entries')} placed, ${counted(newPeople, 'person', 'people')} made`;
    context.out(options.dryRun ? `Would be recorded: ${said}` : `Recorded in act ${act?.id}: ${said}`);
    if (act !== undefined && !options.dryRun) context.note(`To take it back: heldby undo ${act.id}`);
  }
  if (found.doubts.length > 0)
    context.note(`${counted(found.doubts.length, 'join is', 'joins are')} doubtful: heldby careers --review`);
}

function decide(db: Db, whole: Whole, context: Context, options: CareersOptions, file: string): void {
  const decisions = decisionsIn(context, file);
  const found = careersFound(db, whole);
  const { result, act } = recordAct(db, context, options, (into) => recordDecisions(into, found, decisions));
  if (options.json) {
    printJson(context, {
      ...(options.dryRun ? { dryRun: true } : {}),
      act: act?.id ?? null,
      decisions: decisions.length,
      ...result,
    });
    return;
  }
  const said = `${counted(decisions.length, 'decision', 'decisions')}, ${counted(result.links, 'entry', 'entries')} placed, ${counted(result.newPeople, 'person', 'people')} made`;
  if (act === undefined) context.out('Nothing new to record.');
  else context.out(options.dryRun ? `Would be recorded: ${said}` : `Recorded in act ${act.id}: ${said}`);
}

function decisionsIn(context: Context, file: string): CareerDecision[] {
  let bytes: Buffer;
  try {
    bytes = readFileSync(resolve(context.workingFolder, file));
  } catch {
    throw new HeldbyError('INPUT_FILE', `${file} cannot be read.`, 'Look at the name and the rights of the file.');
  }
  return decisionRows(bytes).map(({ line, one, other, decision, why }) => {
    const known = DECISIONS.find((each) => each === decision);
    if (known === undefined)
      throw new HeldbyError(
        'VALUE',
        `"${decision}" is no decision.`,
        `One of: ${DECISIONS.join(', ')}.`,
        `line ${line}`,
      );
    return { one, other, decision: known, why: why === '' ? undefined : why, where: `line ${line}` };
  });
}

/** Asks one doubt after another; each answer is an act of its own, and what it settles is not asked any more. */
const review = (db: Db, whole: Whole, context: Context, options: CareersOptions): Promise<void> =>
  conversing((ask) => converse(db, whole, context, options, ask));

/** Where it takes longer to put the whole ledger together anew, the questions first found are gone through. */
const QUICK_MS = 3000;

async function converse(db: Db, whole: Whole, context: Context, options: CareersOptions, ask: Ask): Promise<void> {
  const passed = new Set<string>();
  const start = performance.now();
  let found = careersFound(db, whole);
  const isQuick = performance.now() - start < QUICK_MS;
  let decided = 0;
  let asked = false;
  for (;;) {
    const answer = careersInAnswer(found, { people: 0, doubts: IN_JSON });
    const next = questionsOf(answer).find(({ one, other }) => !passed.has(`${one} ${other}`));
    if (next === undefined) break;
    if (!asked) context.out(wrapped(EVIDENCE_IN_WORDS, widthOf(context)).join('\n'));
    context.out(['', ...next.lines(context)].join('\n'));
    asked = true;
    const said = await askWhetherOne(ask, next.isRename, context);
    if (said === 'end') break;
    passed.add(`${next.one} ${next.other}`);
    if (said === 'skip') continue;
    const why = (await ask('why (may be left empty) > '))?.trim();
    const decision = said === 'two' ? 'differ' : next.isRename ? 'renamed' : 'same';
    const { act } = recordAct(db, context, options, (into) =>
      recordDecisions(into, found, [{ one: next.one, other: next.other, decision, why: why === '' ? undefined : why }]),
    );
    decided += 1;
    context.out(`Recorded in act ${act?.id}; to take it back: heldby undo ${act?.id}`);
    if (isQuick) found = careersFound(db, whole);
  }
  const pairs = found.odd.exchanged.length;
  if (pairs > 0)
    context.out(`${counted(pairs, 'pair of lines', 'pairs of lines')} may have been exchanged: heldby careers`);
  const certain = certainPlacings(found).length > 0 ? ' What is certain: heldby careers --accept' : '';
  context.out(
    !asked ? `Nothing is doubtful.${certain}` : `${counted(decided, 'decision', 'decisions')} recorded.${certain}`,
  );
}

type Question = {
  readonly one: string;
  readonly other: string;
  readonly isRename: boolean;
  lines(context: Context): string[];
};

const questionsOf = ({ doubts, nameChanges }: CareersAnswer): Question[] => [
  ...doubts.map(
    (doubt): Question => ({
      one: doubt.one.id,
      other: doubt.other.id,
      isRename: false,
      lines: (context) => doubtInLines(doubt, context),
    }),
  ),
  ...nameChanges.map(
    (change): Question => ({
      one: change.last.id,
      other: change.first.id,
      isRename: true,
      lines: (context) => changeInLines(change, context),
    }),
  ),
];
