import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { recordChanges } from '../../inquiry/changes.ts';
import { lastActId } from '../../ledger/undo.ts';
import { actInWords, recordChangeInWords } from '../../report/changes.ts';
import { defaultStyle } from '../../report/style.ts';
import { wordsOf } from '../../report/words.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { bulleted, changedLots, lotLines } from '../lot-changes.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';

type ChangesOptions = CommonOptions & { readonly records?: true };

export function register(program: Command, context: Context): void {
  const command = program
    .command('changes')
    .description('what differs between two states of the ledger: acts, records, and how each lot reads')
    .argument('<act>', 'the state after this act')
    .argument('[act]', 'against the state after this one; the last unless you say')
    .option('--records', 'acts and records only, not the lots');
  common(command)
    .addHelpText('after', example('heldby changes 12 15', 'heldby changes 12'))
    .action((first: string, second: string | undefined) => {
      const options = optionsOf<ChangesOptions>(command);
      if (options.asOf !== undefined)
        throw new HeldbyError('USAGE', 'Two acts are named, so --as-of has no place.', 'Leave out --as-of.');
      return asking(context, { ...options, asOf: String(actNumber(first)) }, (before) => {
        const last = second === undefined ? lastActId(before) : actNumber(second);
        return asking(context, { ...options, asOf: String(last) }, (after) => {
          const states = [
            { db: before, act: actNumber(first) },
            { db: after, act: last },
          ] as const;
          const { acts, records } = recordChanges(...states);
          const style = defaultStyle();
          const lots = options.records ? [] : changedLots(...states, undefined, style);
          if (options.json) {
            printAnswer(context, after, { from: actNumber(first), to: last, acts, records, lots });
            return;
          }
          const words = wordsOf(style);
          const { strong } = context.style;
          const width = widthOf(context);
          const section = (title: string, lines: readonly string[]): string[] =>
            lines.length === 0 ? [] : ['', strong(title), ...lines.flatMap((line) => bulleted(line, width))];
          const lines = [
            strong(words.say('changes.title', { from: String(actNumber(first)), to: String(last) })),
            ...section(
              words.say('changes.acts'),
              acts.map((act) => actInWords(act, words)),
            ),
            ...section(
              words.say('changes.records'),
              records.map((record) => recordChangeInWords(record, words)),
            ),
            ...(options.records
              ? []
              : ['', strong(words.say('changes.lots')), ...lotLines(lots, words, width, strong)]),
          ];
          context.out(lines.join('\n'));
        });
      });
    });
}
