import { Command } from 'commander';
import { HeldbyError } from '../errors.ts';
import { findKind } from '../ledger/kinds.ts';
import { VERSION } from '../version.ts';
import type { Context } from './context.ts';
import { fitHelp, helpWidthOf } from './fit-help.ts';
import { nearestOf } from './nearest.ts';

/** `commands`: the names of all there are. */
type Register = (program: Command, context: Context, commands: readonly string[]) => void;

/**
 * Which module holds which commands. Only the one asked for is read, so that a command starts as quickly as its own
 * code allows; help and mistakes read them all.
 */
const MODULES: readonly {
  readonly commands: readonly string[];
  readonly load: () => Promise<{ register: Register }>;
}[] = [
  { commands: ['init', 'backup', 'verify', 'upgrade'], load: () => import('./commands/keeping.ts') },
  { commands: ['series', 'edition', 'entry', 'search'], load: () => import('./commands/lists.ts') },
  { commands: ['person', 'kin', 'notice', 'condition'], load: () => import('./commands/people.ts') },
  { commands: ['object', 'mark', 'reading', 'attribute'], load: () => import('./commands/objects.ts') },
  { commands: ['photo'], load: () => import('./commands/photo.ts') },
  { commands: ['service', 'rank', 'corps'], load: () => import('./commands/services.ts') },
  { commands: ['amend', 'withdraw', 'set-aside', 'undo'], load: () => import('./commands/corrections.ts') },
  { commands: ['assume'], load: () => import('./commands/assume.ts') },
  { commands: ['import'], load: () => import('./commands/import.ts') },
  { commands: ['names'], load: () => import('./commands/names.ts') },
  { commands: ['when'], load: () => import('./commands/when.ts') },
  { commands: ['tenures'], load: () => import('./commands/tenures.ts') },
  { commands: ['conflicts'], load: () => import('./commands/conflicts.ts') },
  { commands: ['grounds'], load: () => import('./commands/grounds.ts') },
  { commands: ['searches'], load: () => import('./commands/searches.ts') },
  { commands: ['careers'], load: () => import('./commands/careers.ts') },
  { commands: ['candidates'], load: () => import('./commands/candidates.ts') },
  { commands: ['provenance'], load: () => import('./commands/provenance.ts') },
  { commands: ['lookups'], load: () => import('./commands/lookups.ts') },
  { commands: ['feature', 'fact', 'clue'], load: () => import('./commands/facts.ts') },
  { commands: ['clues'], load: () => import('./commands/clues.ts') },
  { commands: ['made'], load: () => import('./commands/made.ts') },
  { commands: ['changes'], load: () => import('./commands/changes.ts') },
  { commands: ['report'], load: () => import('./commands/report.ts') },
  { commands: ['timeline'], load: () => import('./commands/timeline.ts') },
  { commands: ['bundle'], load: () => import('./commands/bundle.ts') },
  { commands: ['export'], load: () => import('./commands/export.ts') },
  { commands: ['show', 'list', 'history'], load: () => import('./commands/records.ts') },
  { commands: ['find'], load: () => import('./commands/find.ts') },
  { commands: ['completion'], load: () => import('./commands/completion.ts') },
  { commands: ['help'], load: () => import('./commands/help-topics.ts') },
];

const INTRODUCTION = `heldby keeps a ledger of the evidence on old objects and their owners, and answers from it
who could have made a mark, in which post and between which days, and how sure that is.

  heldby init
  heldby import lists.csv
  heldby candidates --text "Lieut. J. Ferr[..]d" --between 1834 1838`;

const OUTRO = `
Every command: --help with an example, --json for programs, --ledger FILE (else
$HELDBY_LEDGER, else heldby.sqlite here or above), --as-of ACT to ask the past.
Exit status: 0 done, 1 a defect of heldby, 2 wrong usage, 3 no such (or no single
such) record or ledger, 4 input rejected, nothing recorded, 5 ledger locked,
damaged or newer, or a place that cannot be written, 6 done but unresolved.

An attribution is an opinion on the evidence recorded, not a warranty.`;

export async function makeProgram(context: Context): Promise<Command> {
  const program = new Command('heldby')
    .description(INTRODUCTION)
    .version(VERSION, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print help')
    .addHelpText('after', OUTRO)
    .configureHelp({ helpWidth: helpWidthOf(context), minWidthToWrap: 20, showGlobalOptions: false })
    .configureOutput({
      writeOut: (text) => context.out(fitHelp(text, helpWidthOf(context))),
      writeErr: (text) => context.note(text),
      outputError: (text) => {
        throw usage(text, program, context.arguments);
      },
    })
    .exitOverride()
    .enablePositionalOptions()
    .option('--ledger <file>', 'the ledger to use')
    .option('--as-of <act>', 'answer as the ledger stood after that act')
    .option('--json', 'print JSON');
  const names = MODULES.flatMap(({ commands }) => commands);
  for (const load of modulesFor(context.arguments)) (await load()).register(program, context, names);
  return program;
}

/** What the words need: one command, with the one it is about; nothing but the ledger's standing; or all of them. */
function modulesFor(words: readonly string[]): readonly (() => Promise<{ register: Register }>)[] {
  const moduleOf = (name: string | undefined) =>
    MODULES.find(({ commands }) => name !== undefined && commands.includes(name));
  const wanted = commandIn(words);
  const one = moduleOf(wanted);
  if (one === undefined) {
    const asksForHelp =
      wanted !== undefined || words.some((word) => ['-h', '--help', '-V', '--version'].includes(word));
    return asksForHelp ? MODULES.map(({ load }) => load) : [() => import('./commands/status.ts')];
  }
  const behind = words.slice(words.indexOf(wanted ?? '') + 1);
  if (wanted === 'completion' && behind[0] === 'words') return MODULES.map(({ load }) => load);
  if (wanted !== 'help') return [one.load];
  const about = moduleOf(behind.find((word) => moduleOf(word) !== undefined));
  if (about !== undefined && about !== one) return [one.load, about.load];
  return behind.length > 0 && !behind.includes('--man') ? [one.load] : MODULES.map(({ load }) => load);
}

const WITH_VALUE = ['--ledger', '--as-of'];

/** The first word that is neither an option of the program nor the value of one. */
function commandIn(words: readonly string[]): string | undefined {
  for (let i = 0; i < words.length; i += 1) {
    const word = words[i] ?? '';
    if (WITH_VALUE.includes(word)) i += 1;
    else if (!word.startsWith('-')) return word;
  }
  return undefined;
}

/** What the option reader reports, as one sentence and a way out. */
function usage(text: string, program: Command, words: readonly string[]): HeldbyError {
  const lines = text
    .replace(/^error: /, '')
    .trim()
    .split('\n');
  const message = lines[0] ?? 'The command is not understood.';
  const hint = usageHint(text, program, words);
  return new HeldbyError(
    'USAGE',
    `${message.charAt(0).toUpperCase()}${message.slice(1)}${/[.!?]$/.test(message) ? '' : '.'}`,
    hint,
  );
}

/**
 * The way out of a mistyped command line.
 * 1. The two words of a command changed about, `add person`. 2. A kind of record alone, `people`, which `list` shows. 3. A
 * command nearly written so. 4. Words too many, which belong together as a rule. 5. An option nearly written so. 6. The
 * help of the command.
 */
function usageHint(text: string, program: Command, words: readonly string[]): string {
  const { path, command } = commandNamed(program, words);
  const help = `See: ${path} --help`;
  const unknown = /^error: unknown command '(.*?)'/s.exec(text)?.[1];
  if (unknown !== undefined) {
    const group = program.commands.find(
      (each) => words.includes(each.name()) && each.commands.some((below) => below.name() === unknown),
    );
    if (group !== undefined && commandIn(words) === unknown)
      return `Did you mean ${program.name()} ${group.name()} ${unknown}?`;
    // Whoever types the name of many, and nothing else, wants to see them.
    const last = words.findLast((word) => !word.startsWith('-'));
    const kind = last === unknown && command === program ? findKind(unknown) : undefined;
    if (kind !== undefined) return `To see them: ${program.name()} list ${kind.plural.replaceAll(' ', '-')}. ${help}`;
    const near = nearestOf(
      unknown,
      command.commands.map((each) => each.name()),
    );
    return near === undefined ? help : `Did you mean ${near}?`;
  }
  if (text.includes('too many arguments'))
    return `Words that belong together go between quotation marks, and options begin with --. ${help}`;
  const near = /\(Did you mean (?:one of )?(.+?)\?\)/.exec(text)?.[1];
  return near === undefined ? help : `Did you mean ${near}?`;
}

/** The command that the words lead to, as it is typed: `heldby entry take`. */
function commandNamed(program: Command, words: readonly string[]): { path: string; command: Command } {
  let command = program;
  const path = [program.name()];
  for (const word of words) {
    const next = command.commands.find((each) => each.name() === word);
    if (next === undefined) continue;
    command = next;
    path.push(word);
  }
  return { path: path.join(' '), command };
}
