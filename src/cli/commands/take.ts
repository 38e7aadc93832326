import type { Command } from 'commander';
import { EXIT, type HeldbyError } from '../../errors.ts';
import { dateOptionsOf, type GivenDateOptions } from '../../time/given-options.ts';
import { type CommonOptions, type Context, originOf, recordingIn, widthOf } from '../context.ts';
import { dateOptions } from '../date-options.ts';
import { failureText } from '../failures.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
import { shown } from '../text.ts';
import type { Ask, Offers, TakeOffers } from './take-offers.ts';
import type { Outcome, Session } from './take-session.ts';

type TakeCommandOptions = CommonOptions &
  GivenDateOptions & {
    readonly why?: string;
    readonly dryRun?: true;
    readonly new?: true;
    readonly monthFirst?: true;
    readonly goOn?: true;
    readonly fields?: true;
  };

const NOTATION = `
One line an entry, as the page prints it or shorter. The parts may come in any order
and are known by their look; what is left over is the name:

  Lieut. J. P. Ferrand, 2nd Fencibles, 16 May 1833, p. 213
  ferrand jp lt 16my33          small letters, two figures of the year, and two
                                letters of the month do (ja fe mr ap my jn jl au se
                                oc no de); 16.5.33 is read day first
  2nd Fencibles                 a corps, rank or page on a line of its own holds for
                                the lines that follow, until another is given; so
                                do Captains and p213
  p+                            the next page. Another corps ends the rank.
  " J. Holt 3 June 1830         a ditto (" do. —) before the name changes nothing,
  —, William, do.               before a comma it is the surname above, behind the
                                name the date above

A sign says what a part is, where its look does not:
  @CORPS   a corps; the beginnings of its words do once it is known (@2f); @- none
  ^RANK    a rank
  =PERSON  whose line it is: =p12, =a name; =- nobody yet; + makes a new person
  <NAME>   all of it is the name: <Major Holt>
  {DATE}   the date as printed, where that cannot be: 28 Feb. 1833 {31 Feb. 1833}
  // TEXT  a note, to the end of the line
  !        at the end: keep the line, whatever looks wrong in it
  # TEXT   a remark that is not recorded
  :undo    takes back the line before; :help; :end

On a terminal the key TAB completes people of the ledger, and ranks and corps as this
edition has them; :fields (or --fields) asks for each entry field by field, and :lines
goes back to lines.

Without =, + or =- the line is given to the one person whom the name fits in that
corps, or the only one whose forename agrees in full; else it waits (heldby careers).
Of a new name nobody is recorded.
Each line is on the disk when it is acknowledged. What looks wrong is asked about on a
terminal, and elsewhere held back unless the line ends in !. A line that the edition
has already is known and not recorded again, so that a file can be given again whole.
Lines that were held back or not understood: exit status 6.`;

/** `entry take`: lines of an edition from the keyboard or a file. */
export function addTakeCommand(entry: Command, context: Context): void {
  const take = entry
    .command('take')
    .description('take down many lines of one issue, from the keyboard or from standard input')
    .argument('<edition>', 'the issue: its id, key, or words such as "Coast Survey 1834"')
    .option('--new', 'a name that fits nobody makes a person')
    .option('--month-first', 'dates in figures have the month first')
    .option('--go-on', 'begin with the rank, corps and page of the last line taken; a terminal does so anyway')
    .option('--fields', 'on a terminal: ask for each entry field by field')
    .option('--why <text>', 'the reason, kept in the journal')
    .option('--dry-run', 'say what would be recorded, and record nothing');
  common(dateOptions(take))
    .addHelpText('after', NOTATION + example('heldby entry take 1834', 'heldby entry take 1834 --new < page-213.txt'))
    .action((words: string) => {
      const options = optionsOf<TakeCommandOptions>(take);
      return recordingIn(context, options, async (db) => {
        const [{ takeSession }, { takeOffers }, { resolveRef }, { kindNamed }] = await Promise.all([
          import('./take-session.ts'),
          import('./take-offers.ts'),
          import('../../ledger/refs.ts'),
          import('../../ledger/kinds.ts'),
        ]);
        const edition = resolveRef(db, kindNamed('edition'), words);
        const atTerminal = process.stdin.isTTY === true && process.stdout.isTTY === true && options.json !== true;
        const origin = originOf(context, options.why);
        const session = takeSession(
          db,
          edition,
          (line) => ({
            ...origin,
            at: new Date().toISOString(),
            command: `${origin.command} <<< '${line.trim().replaceAll("'", "'\\''")}'`,
          }),
          {
            monthFirst: options.monthFirst === true,
            dates: dateOptionsOf(options),
            makePeople: options.new === true,
            dryRun: options.dryRun === true,
            atTerminal,
          },
        );
        if (atTerminal) await atKeyboard(session, context, takeOffers(db, edition), options.fields === true);
        else {
          if (options.goOn) session.goOn();
          await fromInput(session, context, options, typedLines());
        }
      });
    });
}

/** Lines of standard input, each as soon as it is whole. */
async function* typedLines(): AsyncIterable<string> {
  const decoder = new TextDecoder();
  let rest = '';
  for await (const bytes of process.stdin) {
    const lines = (rest + decoder.decode(bytes as Buffer, { stream: true })).split(/\r?\n/);
    rest = lines.pop() ?? '';
    yield* lines;
  }
  rest += decoder.decode();
  if (rest !== '') yield rest;
}

type Tally = { recorded: number; known: number; held: number; refused: number };

async function fromInput(
  session: Session,
  context: Context,
  options: TakeCommandOptions,
  lines: AsyncIterable<string>,
): Promise<void> {
  const tally: Tally = { recorded: 0, known: 0, held: 0, refused: 0 };
  const told: unknown[] = [];
  const words = await import('./take-words.ts');
  let number = 0;
  for await (const text of lines) {
    number += 1;
    const outcome = session.take(text);
    if (outcome.kind === 'command' && /^(?:end|quit)$/i.test(outcome.words)) break;
    if (outcome.kind in tally) tally[outcome.kind as keyof Tally] += 1;
    if (options.json) {
      if (outcome.kind !== 'nothing') told.push({ line: number, text, ...outcomeInAnswer(outcome) });
      continue;
    }
    const where = `line ${number}`;
    switch (outcome.kind) {
      case 'recorded':
      case 'known':
        context.out(
          words.takenInLines(outcome.answer, session.edition.label, context.style, widthOf(context)).join('\n'),
        );
        for (const line of words.doubtsInLines(outcome.answer, context.style, widthOf(context)))
          context.note(`${where}, kept all the same: ${line}`);
        break;
      case 'held':
        context.note(
          [
            `${where} held back: ${shown(text.trim())}`,
            ...words.doubtsInLines(outcome.answer, context.style, widthOf(context)).map((line) => `  ${line}`),
          ].join('\n'),
        );
        break;
      case 'refused':
        context.note(`${where} not recorded: ${shown(text.trim())}\n  ${refusal(outcome.error)}`);
        break;
      case 'undone':
        context.out(`Took back ${outcome.id}`);
        break;
      case 'command':
        context.note(`${where}: there is no :${shown(outcome.words)}; :undo and :end are all there is in a file.`);
        break;
      case 'heading':
        context.out(words.headingInWords(outcome.standing));
        for (const line of words.doubtsInLines(outcome, context.style, widthOf(context)))
          context.note(`${where}: ${line}`);
        break;
      case 'nothing':
        break;
    }
  }
  if (options.json) printJson(context, { edition: session.edition, ...tally, lines: told });
  else context.note(tallyInWords(tally, options.dryRun === true));
  if (tally.held + tally.refused > 0) context.exitStatus(EXIT.unresolved);
}

function outcomeInAnswer(outcome: Outcome): Record<string, unknown> {
  switch (outcome.kind) {
    case 'recorded':
    case 'known':
    case 'held': {
      const { id, ...rest } = outcome.answer;
      return { outcome: outcome.kind, act: outcome.act, id: outcome.kind === 'held' ? null : id, ...rest };
    }
    case 'refused': {
      const { code, message, hint } = outcome.error;
      return { outcome: 'refused', error: { code, message, hint } };
    }
    case 'undone':
      return { outcome: 'undone', id: outcome.id };
    case 'heading': {
      const { rank = null, corps = null, page = null } = outcome.standing;
      return { outcome: 'heading', rank, corps, page, doubts: outcome.doubts };
    }
    default:
      return { outcome: outcome.kind };
  }
}

function tallyInWords({ recorded, known, held, refused }: Tally, dryRun: boolean): string {
  const parts = [
    `${recorded} ${dryRun ? 'would be recorded' : 'recorded'}`,
    ...(known > 0 ? [`${known} known already`] : []),
    ...(held > 0 ? [`${held} held back (end a line in ! to keep it)`] : []),
    ...(refused > 0 ? [`${refused} not understood`] : []),
  ];
  return `${parts.join(', ')}.`;
}

const refusal = (error: HeldbyError): string =>
  failureText(error, false)
    .replace(/^heldby: /, '')
    .replaceAll('\n', '\n  ');

async function atKeyboard(session: Session, context: Context, offers: TakeOffers, fields: boolean): Promise<void> {
  // Asked for here alone: no other command talks to a keyboard.
  const { createInterface } = process.getBuiltinModule('node:readline');
  const { converse } = await import('./take-keyboard.ts');
  let offered: Offers | undefined;
  const terminal = createInterface({
    input: process.stdin,
    output: process.stdout,
    terminal: true,
    historySize: 200,
    completer: (typed: string) => {
      const [hits, replaced] = offered?.(typed) ?? [[], typed];
      return [hits, replaced];
    },
  });
  let interrupted = false;
  terminal.on('SIGINT', () => {
    interrupted = true;
    terminal.close();
  });
  const lines = terminal[Symbol.asyncIterator]();
  const ask: Ask = async (prompt, by) => {
    offered = by;
    terminal.setPrompt(prompt);
    terminal.prompt();
    const next = await lines.next();
    if (next.done !== true) return next.value;
    context.out(''); // the prompt stands alone on its line
    return undefined;
  };
  await converse(session, context, ask, { notation: NOTATION.trim(), offers, fields });
  terminal.close();
  if (interrupted) context.exitStatus(EXIT.interrupted);
}
