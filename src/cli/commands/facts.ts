import type { Command } from 'commander';
import { sourceOf } from '../../dating/fact.ts';
import { housePattern } from '../../dating/house-pattern.ts';
import { HeldbyError } from '../../errors.ts';
import { datedClue, foundIn } from '../../inquiry/clues.ts';
import { factNamed, factsLike, type ShelfFact, shelf } from '../../inquiry/shelf.ts';
import { assumptionsOf } from '../../ledger/assumed.ts';
import { houseFacts } from '../../ledger/house-facts.ts';
import { FORCES, kindNamed } from '../../ledger/kinds.ts';
import { markById } from '../../ledger/marks.ts';
import type { Draft } from '../../ledger/recording.ts';
import { resolveRef } from '../../ledger/refs.ts';
import { asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { forceInWords } from '../force-words.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { addRecordCommand } from '../record-command.ts';
import { shown, wrapped } from '../text.ts';

const WINDOW_OPTIONS = [
  { flags: '--force <force>', field: 'force', about: FORCES.join(', ') },
  { flags: '--weight <weight>', field: 'weight', about: 'strong, moderate or weak, for a usual window' },
  { flags: '--confidence <level>', field: 'confidence', about: 'high, medium or low, in the window itself' },
  { flags: '--source <citation>', field: 'source', about: 'where the window comes from' },
];

export function register(program: Command, context: Context): void {
  const feature = program.command('feature').description('traits that bear on date');
  addRecordCommand(feature, context, {
    name: 'add',
    kind: 'feature',
    summary: 'record a datable trait of an object',
    takes: [
      { argument: '<object>', field: 'object', about: 'the object' },
      { argument: '[text]', field: 'text', about: 'the trait; with --fact what the shelf calls it, unless you say' },
    ],
    options: [
      { flags: '--fact <name>', field: 'fact', about: 'a fact of the reference shelf, from which the rest is taken' },
      { flags: '--window <date>', field: 'window', about: 'when such a trait was made: 1790/1850, ../1850, from 1801' },
      { flags: '--part <part>', field: 'part', about: 'the part it is on' },
      {
        flags: '--state <state>',
        field: 'state',
        about: 'the part is original, thought-original, doubtful, replaced or added',
      },
      ...WINDOW_OPTIONS,
    ],
    shape: (given, _options, { db }) => {
      const named = given['fact'] as string | undefined;
      const draft = named === undefined ? given : fromFact(factNamed(db, named), given);
      if (draft['window'] === undefined)
        throw new HeldbyError(
          'VALUE',
          'The trait has no window.',
          'Say when such a trait was made: --window 1790/1850, or --fact NAME from the shelf (heldby fact find WORDS).',
          'window',
        );
      return draft;
    },
    example: [
      'heldby feature add 214 "hand-filed screws" --window ../1850 --weight moderate',
      'heldby feature add 214 --fact screw-hand --part "brass straps" --state original',
    ],
  });

  const fact = program.command('fact').description('the reference shelf of datable traits and wordings');
  addRecordCommand(fact, context, {
    name: 'add',
    kind: 'fact',
    summary: 'put a fact of your own on the reference shelf',
    takes: [
      { argument: '<name>', field: 'name', about: 'a short name by which it is cited, such as harbour-trust' },
      { argument: '<text>', field: 'text', about: 'what it says' },
    ],
    options: [
      { flags: '--window <date>', field: 'window', about: 'the days that it stands for', required: true },
      {
        flags: '--pattern <words>',
        field: 'pattern',
        about: 'the wording by which it is found in marks; * stands for the rest of a word',
      },
      ...WINDOW_OPTIONS,
    ],
    shape: (draft, _options, { db }) => {
      if (draft['pattern'] !== undefined) housePattern(String(draft['pattern']));
      const name = String(draft['name']);
      const other = houseFacts(db).find((each) => each.name === name);
      if (other !== undefined)
        throw new HeldbyError(
          'CONFLICT',
          `The house has a fact "${name}" already (${other.id}).`,
          `Correct that one (heldby amend ${other.id} FIELD VALUE --why …), or give this one another name.`,
          'name',
        );
      return draft;
    },
    example: [
      'heldby fact add harbour-trust "Harbour Trust of Oakhaven" --window 1827-05-01/1871 --force hard-start --pattern "Harbour Trust*" --source "Act of 1 May 1827"',
    ],
  });

  const find = fact
    .command('find')
    .description('facts of the shelf in whose name, text or note the words are found')
    .argument('[words...]', 'words, or the beginnings of words; all facts without any');
  common(find)
    .addHelpText('after', example('heldby fact find screw', 'heldby fact find district London --json'))
    .action((words: string[]) => {
      const options = optionsOf<CommonOptions>(find);
      return asking(context, options, (db) => {
        const facts = factsLike(shelf(db), words.join(' '));
        if (options.json) printAnswer(context, db, { facts: facts.map(factInAnswer) });
        else
          context.out(
            facts.flatMap((each) => factInLines(each, context)).join('\n') || 'No fact of the shelf says so.',
          );
      });
    });

  const clue = program.command('clue').description('datable wordings of marks that you confirmed');
  addRecordCommand(clue, context, {
    name: 'confirm',
    kind: 'clue',
    summary: 'confirm that a fact of the shelf dates a mark; from then on it counts for when the mark was put on',
    whyIsField: true,
    takes: [
      { argument: '<mark>', field: 'mark', about: 'the mark' },
      { argument: '<fact>', field: 'fact', about: 'the fact, as heldby clues names it' },
    ],
    options: [
      { flags: '--words <text>', field: 'text', about: 'what on the mark shows it, where heldby does not find it' },
      { flags: '--window <date>', field: 'window', about: 'another window than the one that heldby clues gives' },
      ...WINDOW_OPTIONS,
    ],
    shape: (given, _options, { db }) => {
      const row = markById(db, resolveRef(db, kindNamed('mark'), String(given['mark'])));
      const named = factNamed(db, String(given['fact']));
      const found = row === undefined ? undefined : foundIn(row.text, named);
      if (found === undefined && given['text'] === undefined)
        throw new HeldbyError(
          'VALUE',
          `“${row?.text ?? ''}” has no wording by which "${named.name}" is found.`,
          'Say what on the mark shows it: --words TEXT',
          'text',
        );
      const draft = fromFact(named, { text: found?.words, ...given });
      if (given['window'] !== undefined || found === undefined) return dated(draft);
      const { expression, force, weight } = datedClue(found, assumptionsOf(db));
      return dated({
        ...draft,
        window: expression,
        force: given['force'] ?? force,
        weight: given['weight'] ?? weight,
      });
    },
    example: [
      'heldby clue confirm m1 rms-prefix',
      'heldby clue confirm m2 duty-mark --words "sovereign’s head, facing left"',
    ],
  });
}

/** What a fact says, under what was said besides. */
function fromFact(fact: ShelfFact, given: Draft): Draft {
  const { name, text, window, force, weight, confidence } = fact;
  const said = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
  return { text, window, force, weight, confidence, source: sourceOf(fact), ...said, fact: name };
}

function dated(draft: Draft): Draft {
  if (draft['window'] === undefined)
    throw new HeldbyError('VALUE', 'Nothing dates this wording.', 'Give its days: --window DATE', 'window');
  return draft;
}

const factInAnswer = ({ pattern, ...fact }: ShelfFact) => ({ ...fact, found: pattern !== undefined });

function factInLines(fact: ShelfFact, context: Context): string[] {
  const { strong, faint } = context.style;
  const width = widthOf(context);
  const about = [
    fact.window ?? 'by the year in the words',
    forceInWords(fact.force, fact.weight),
    `confidence ${fact.confidence}`,
    ...(fact.source === '' ? [] : [sourceOf(fact)]),
    ...(fact.id === null ? [] : [`the house’s own, ${fact.id}`]),
  ];
  return [
    ...wrapped(`${strong(fact.name)}  ${shown(fact.text)}`, width),
    ...wrapped(shown(about.join('; ')), width - 4).map((line) => faint(`    ${line}`)),
    ...(fact.note === '' ? [] : wrapped(shown(fact.note), width - 4).map((line) => faint(`    ${line}`))),
  ];
}
