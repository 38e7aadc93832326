import { HeldbyError } from '../errors.ts';
import type { Beginning } from '../ledger/find-beginnings.ts';
import type { Db } from '../ledger/open.ts';
import type { CommandTree, FigureNames } from './command-tree.ts';
import { SHELLS } from './commands/completion-scripts.ts';

/** So many are offered at one time; a shell shows no more at a glance. */
const OFFERED = 60;

/** What a completion needs of the world around it. */
export type Surroundings = {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly workingFolder: string;
  /** Read only where one is typed. */
  readonly figures: () => Promise<FigureNames>;
};

/** What a shell is told: one line for each word that can be put in. @param words the shell, then those behind `heldby`. */
export async function completionLines(
  program: CommandTree,
  words: readonly string[],
  around: Surroundings,
): Promise<string> {
  const [shell = 'bash', ...line] = words;
  const offered = await completions(program, line.length === 0 ? [''] : line, around);
  return offered.map((each) => inShell(shell, each)).join('\n');
}

/** @param line the words behind `heldby`; the last is the one that is being typed, perhaps empty. */
async function completions(program: CommandTree, line: readonly string[], around: Surroundings): Promise<Beginning[]> {
  const typed = unquoted(line.at(-1) ?? '');
  const before = line.slice(0, -1).map(unquoted);
  const { command, given, option } = walk(program, before);
  const begins = (values: readonly string[], about = ''): Beginning[] =>
    values.filter((value) => value.toLowerCase().startsWith(typed.toLowerCase())).map((value) => ({ value, about }));
  if (option !== undefined) return offer(option, command.name, typed, before, around, begins);
  if (typed.startsWith('-'))
    return command.options.flatMap(({ names: [long = ''], about }) =>
      long.startsWith(typed) ? [{ value: long, about }] : [],
    );
  if (command.commands.length > 0)
    return command.commands
      .filter(({ name }) => name.startsWith(typed))
      .map(({ name, about }) => ({ value: name, about }));
  if (command.name === 'help') {
    const { TOPICS } = await import('./commands/help-texts.ts');
    return begins([...program.commands.map(({ name }) => name), ...Object.keys(TOPICS)]);
  }
  if (command.name === 'grounds') {
    const of = before.includes('--text') ? ['words', ...given] : given;
    if (of.length > 0) return figureOffered(of, typed, before, around, begins);
  }
  const argument = command.takes[given.length] ?? (command.takes.at(-1)?.many ? command.takes.at(-1) : undefined);
  return argument === undefined ? [] : offer(argument.name, command.name, typed, before, around, begins);
}

/** Where the words lead: the command, the arguments that it has been given, and what an option waits for. */
function walk(
  program: CommandTree,
  before: readonly string[],
): { command: CommandTree; given: readonly string[]; option: string | undefined } {
  let command = program;
  const given: string[] = [];
  for (let at = 0; at < before.length; at += 1) {
    const word = before[at] ?? '';
    if (word.startsWith('-')) {
      const option = [...command.options, ...program.options].find(({ names }) => names.includes(word));
      if (option === undefined || option.takes === '') continue;
      const values = option.takes.endsWith('...') ? 2 : 1; // the two dates of --between
      if (at + values >= before.length) return { command, given, option: option.takes };
      at += values;
      continue;
    }
    const next = command.commands.find(({ name }) => name === word);
    if (next === undefined) given.push(word);
    else command = next;
  }
  return { command, given, option: undefined };
}

/** Of what something is by its id, so far as that says it. */
function subjectOf(id: string): string | undefined {
  if (['careers', 'conflicts', 'status', 'words'].includes(id)) return id;
  if (/^p\d+\.\d+$/.test(id)) return 'tenure';
  const [, prefix = ''] = /^([a-z]+)\d+$/.exec(id) ?? [];
  if (prefix === '') return /^[a-z-]+\.[a-z.-]+$|^circa$/.test(id) ? 'assumption' : undefined;
  return { p: 'person', e: 'entry', m: 'mark', o: 'object' }[prefix] ?? 'record';
}

/** A figure of what was named, and behind it whose: `share PERSON`, `gain EDITION PERSON`. */
async function figureOffered(
  [id = '', figure, ...more]: readonly string[],
  typed: string,
  before: readonly string[],
  around: Surroundings,
  begins: (values: readonly string[], about?: string) => Beginning[],
): Promise<Beginning[]> {
  const of = subjectOf(id);
  const known = of === undefined ? [] : ((await around.figures())[of] ?? []);
  if (figure === undefined) return known.flatMap(({ name, about }) => begins([name], about));
  const takes = known.find(({ name }) => name === figure)?.takes.split(' ')[more.length] ?? '';
  const offers = takes
    .replaceAll(/[[\]]/g, '')
    .split('|')
    .map((each) => offer(each === 'ENTRY' ? 'record' : each.toLowerCase(), 'grounds', typed, before, around, begins));
  return (await Promise.all(offers)).flat();
}

/** What an argument of this name can be, of the command of that one. */
async function offer(
  name: string,
  command: string,
  typed: string,
  before: readonly string[],
  around: Surroundings,
  begins: (values: readonly string[], about?: string) => Beginning[],
): Promise<Beginning[]> {
  const { APPOINTMENT_KINDS, EVENTS, KINDS, RELATIONS } = await import('../ledger/kinds.ts');
  switch (name) {
    case 'shell':
      return begins(SHELLS);
    case 'kind':
      return begins(
        command === 'list' || command === 'export'
          ? KINDS.map(({ plural }) => plural.replaceAll(' ', '-'))
          : APPOINTMENT_KINDS,
      );
    case 'role':
      return begins((await import('../dating/mark-roles.ts')).MARK_ROLES);
    case 'event':
      return begins(EVENTS);
    case 'relation':
      return begins(RELATIONS);
    case 'service':
      return begins((await import('../services/ladder.ts')).shippedServices());
    case 'force':
      return begins(['hard', 'usual']);
    case 'weight':
      return begins(['strong', 'moderate', 'weak']);
    case 'state':
      return begins(['original', 'thought-original', 'doubtful', 'replaced', 'added']);
    case 'assumption':
    case 'name':
      return command === 'assume' || name === 'assumption'
        ? begins([...Object.keys((await import('../assumptions.ts')).DEFINITIONS), 'horizon'])
        : [];
    default:
      return fromLedger(name, typed, before, around);
  }
}

async function fromLedger(
  name: string,
  typed: string,
  before: readonly string[],
  around: Surroundings,
): Promise<Beginning[]> {
  const beginnings = await import('../ledger/find-beginnings.ts');
  const { kindNamed } = await import('../ledger/kinds.ts');
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
  const { findLedger, openLedger } = await import('../ledger/open.ts');
  const at = before.indexOf('--ledger');
  const given = at < 0 ? undefined : before[at + 1];
  try {
    const db = openLedger(findLedger(given, around.environment['HELDBY_LEDGER'], around.workingFolder), 'read');
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
