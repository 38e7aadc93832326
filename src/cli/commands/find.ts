import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type FindAnswer, findWords } from '../../inquiry/find.ts';
import { withKeys } from '../../inquiry/keys.ts';
import { kindNamed } from '../../ledger/kinds.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer, printCsv } from '../options.ts';
import { fitted, padded, shown, widthOfText } from '../text.ts';

const LISTED = 20;

export function register(program: Command, context: Context): void {
  const find = program
    .command('find')
    .description(
      'everything in which these words are written, or something near them: people, entries, objects, marks, notices …',
    )
    .argument('<words...>', 'names, references, places, wordings; a damaged reading such as Ferr[..]d will do')
    .option('--limit <number>', `how many to list (${LISTED} unless you say another)`)
    .option('--csv', 'print CSV');
  common(find)
    .addHelpText('after', example('heldby find ferand', 'heldby find "Ferr[..]d" 1834', 'heldby find writing slope'))
    .action((words: string[]) => {
      const options = optionsOf<CommonOptions & { readonly limit?: string; readonly csv?: true }>(find);
      return asking(context, options, (db) => {
        const limit = options.limit === undefined ? LISTED : Number(options.limit);
        if (!Number.isInteger(limit) || limit < 1)
          throw new HeldbyError(
            'USAGE',
            `"${options.limit}" is no number of records.`,
            'Give a whole number, such as --limit 50.',
          );
        const answer = findWords(db, words.join(' '), limit);
        if (options.json)
          printAnswer(context, db, {
            ...answer,
            about: aboutAnswer(db, options.asOf === undefined ? undefined : actNumber(options.asOf)),
          });
        else if (options.csv) printCsv(context, ['id', 'key', 'type', 'called', 'bits'], withKeys(db, answer.results));
        else tell(answer, context);
      });
    });
}

function tell({ words, total, more, results }: FindAnswer, context: Context): void {
  if (results.length === 0) {
    context.out(`Nothing like “${shown(words)}” is recorded.`);
    return;
  }
  const kinds = results.map(({ type }) => kindNamed(type as 'person').called.replace(/^an? /, ''));
  const [idWidth, kindWidth] = [Math.max(...results.map(({ id }) => id.length)), Math.max(...kinds.map(widthOfText))];
  const width = widthOf(context) - idWidth - kindWidth - 4;
  context.out(
    results
      .map(({ id, called, bits }, at) => {
        const line = fitted(shown(called), width);
        return `${context.style.strong(padded(id, idWidth))}  ${context.style.faint(padded(kinds[at] ?? '', kindWidth))}  ${bits > 0 ? context.style.faint(line) : line}`;
      })
      .join('\n'),
  );
  if (total > results.length || more)
    context.note(`${results.length} of ${total}${more ? ' or more' : ''}, the nearest first; --limit N shows more.`);
}
