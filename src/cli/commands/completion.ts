import type { Command, Option } from 'commander';
import { HeldbyError } from '../../errors.ts';
import type { Beginning } from '../../ledger/find-beginnings.ts';
import type { Db } from '../../ledger/open.ts';
import type { CommonOptions, Context } from '../context.ts';
import { common, optionsOf, printJson } from '../options.ts';
import { SCRIPTS } from './completion-scripts.ts';

/** So many are offered at one time; a shell shows no more at a glance. */
const OFFERED = 60;

export function register(program: Command, context: Context, commands: readonly string[] = []): void {
  const completion = program
    .command('completion')
    .description('a script for your shell that completes commands, options and the records of the ledger')
    .argument('<shell>', Object.keys(SCRIPTS).join(', '))
    .argument('[words...]', 'used by the scripts themselves: heldby completion words SHELL -- WORDS');
  common(completion)
    .addHelpText(
      'after',
      '\nExample:\n  eval "$(heldby completion bash)"\n  heldby completion fish > ~/.config/fish/completions/heldby.fish',
    )
    .action(async (shell: string, words: string[]) => {
      if (shell === 'words') {
        const [asking = 'bash', ...line] = words;
        const offered = await completions(program, context, commands, line.length === 0 ? [''] : line);
        if (offered.length > 0) context.out(offered.map((each) => inShell(asking, each)).join('\n'));
        return;
      }
      const script = SCRIPTS[shell];
      if (script === undefined)
        throw new HeldbyError(
          'USAGE',
          `There is no script for "${shell}".`,
          `One of: ${Object.keys(SCRIPTS).join(', ')}.`,
        );
      if (optionsOf<CommonOptions>(completion).json) printJson(context, { shell, script });
      else context.out(script);
    });
}

/** @param line the words behind `heldby`; the last is the one that is being typed, perhaps empty. */
async function completions(
  program: Command,
  context: Context,
  commands: readonly string[],
  line: readonly string[],
): Promise<Beginning[]> {
  const typed = unquoted(line.at(-1) ?? '');
  const before = line.slice(0, -1).map(unquoted);
  const { command, given, option } = walk(program, before);
  const begins = (values: readonly string[], about = ''): Beginning[] =>
    values.filter((value) => value.toLowerCase().startsWith(typed.toLowerCase())).map((value) => ({ value, about }));
  if (option !== undefined) return offer(argumentOf(option), typed, before, context, begins);
  if (typed.startsWith('-'))
    return command.options
      .filter(({ long, hidden }) => !hidden && long?.startsWith(typed))
      .map(({ long, description }) => ({ value: long ?? '', about: description }));
  if (command === program) return begins(commands);
  if (command.commands.length > 0)
    return command.commands
      .filter((each) => each.name().startsWith(typed))
      .map((each) => ({ value: each.name(), about: each.description() }));
  const wanted = command.registeredArguments;
  const argument = wanted[given] ?? (wanted.at(-1)?.variadic ? wanted.at(-1) : undefined);
  if (command.name() === 'help') return begins([...commands, ...Object.keys((await import('./help-texts.ts')).TOPICS)]);
  return argument === undefined ? [] : offer(argument.name(), typed, before, context, begins);
}

/** Where the words lead: the command, how many arguments it has been given, and an option that waits for its value. */
function walk(
  program: Command,
  before: readonly string[],
): { command: Command; given: number; option: Option | undefined } {
  let command = program;
  let given = 0;
  for (let at = 0; at < before.length; at += 1) {
    const word = before[at] ?? '';
    if (word.startsWith('-')) {
      const option = [...command.options, ...program.options].find(
        ({ long, short }) => long === word || short === word,
      );
      if (option?.required !== true) continue;
      if (at === before.length - 1) return { command, given, option };
      at += 1;
      continue;
    }
    const next = command.commands.find((each) => each.name() === word);
    if (next === undefined) given += 1;
    else command = next;
  }
  return { command, given, option: undefined };
}

/** `--person <person>` takes a person. */
const argumentOf = ({ flags }: Option): string => /<([^>]+)>/.exec(flags)?.[1] ?? '';

/** What an argument of this name can be. */
async function offer(
  name: string,
  typed: string,
  before: readonly string[],
  context: Context,
  begins: (values: readonly string[], about?: string) => Beginning[],
): Promise<Beginning[]> {
  const { APPOINTMENT_KINDS, EVENTS, KINDS, RELATIONS } = await import('../../ledger/kinds.ts');
  switch (name) {
    case 'shell':
      return begins(Object.keys(SCRIPTS));
    case 'kind':
      return begins(
        before[0] === 'list' || before[0] === 'export'
          ? KINDS.map(({ plural }) => plural.replaceAll(' ', '-'))
          : APPOINTMENT_KINDS,
      );
    case 'role':
      return begins((await import('../../dating/mark-roles.ts')).MARK_ROLES);
    case 'event':
      return begins(EVENTS);
    case 'relation':
      return begins(RELATIONS);
    case 'service':
      return begins((await import('../../services/ladder.ts')).shippedServices());
    case 'force':
      return begins(['hard', 'usual']);
    case 'weight':
      return begins(['strong', 'moderate', 'weak']);
    case 'state':
      return begins(['original', 'thought-original', 'doubtful', 'replaced', 'added']);
    case 'name':
      return before[0] === 'assume'
        ? begins([...Object.keys((await import('../../assumptions.ts')).DEFINITIONS), 'horizon'])
        : [];
    default:
      return fromLedger(name, typed, before, context);
  }
}

async function fromLedger(
  name: string,
  typed: string,
  before: readonly string[],
  context: Context,
): Promise<Beginning[]> {
  const beginnings = await import('../../ledger/find-beginnings.ts');
  const { kindNamed } = await import('../../ledger/kinds.ts');
  const read: Readonly<Record<string, (db: Db) => Beginning[]>> = {
    person: (db) => [
      ...beginnings.peopleBeginning(db, typed, OFFERED),
      ...(typed === '' ? [] : beginnings.idsBeginning(db, kindNamed('person'), typed, 20)),
    ],
    edition: (db) => beginnings.editionsBeginning(db, typed, OFFERED),
    series: (db) => beginnings.seriesBeginning(db, typed, OFFERED),
    object: (db) => beginnings.objectsBeginning(db, typed, OFFERED),
    mark: (db) => beginnings.marksBeginning(db, typed, OFFERED),
    corps: (db) => beginnings.corpsBeginning(db, typed, OFFERED),
    rank: (db) => beginnings.ranksBeginning(db, typed, OFFERED),
    act: (db) => beginnings.actsBeginning(db, typed, 20),
    record: (db) => beginnings.recordsBeginning(db, typed, OFFERED),
  };
  const of = read[SAME[name] ?? name];
  if (of === undefined) return [];
  const { findLedger, openLedger } = await import('../../ledger/open.ts');
  const named = before[before.indexOf('--ledger') + 1];
  const options: CommonOptions = before.includes('--ledger') && named !== undefined ? { ledger: named } : {};
  try {
    const db = openLedger(
      findLedger(options.ledger, context.environment['HELDBY_LEDGER'], context.workingFolder),
      'read',
    );
    try {
      return of(db).slice(0, OFFERED);
    } finally {
      db.close();
    }
  } catch (error) {
    // No ledger, or none that can be read: there is nothing to offer, and a shell has no place for messages.
    if (error instanceof HeldbyError) return [];
    throw error;
  }
}

/** Arguments that are the same sort of record under another name. */
const SAME: Readonly<Record<string, string>> = {
  other: 'person',
  relative: 'person',
  who: 'person',
  id: 'record',
  of: 'record',
  'mark|object': 'record',
  'object|mark': 'record',
  'person|object': 'record',
  words: 'record',
  objects: 'object',
  'object|file': 'object',
};

/** What a shell hands over of a word that was begun in quotation marks, or has spaces behind backslashes. */
const unquoted = (word: string): string => word.replace(/^["']/, '').replace(/["']$/, '').replaceAll(/\\(.)/g, '$1');

/** Bash puts in what it is given as it stands; the others take a description beside it. */
function inShell(shell: string, { value, about }: Beginning): string {
  const words = about.replaceAll(/\s+/g, ' ').slice(0, 60).trim();
  if (shell === 'bash') return value.replaceAll(/[^\p{L}\p{N}_@%+=:,./-]/gu, '\\$&');
  if (shell === 'fish') return words === '' ? value : `${value}\t${words}`;
  return words === '' ? value.replaceAll(':', '\\:') : `${value.replaceAll(':', '\\:')}:${words}`;
}
