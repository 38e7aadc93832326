import type { Command } from 'commander';
import { type Assumptions, DEFAULTS } from '../../assumptions.ts';
import { HeldbyError } from '../../errors.ts';
import { compareNames, type NamesCompared } from '../../inquiry/compare-names.ts';
import { assumptionsOf } from '../../ledger/assumed.ts';
import { asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
import { shown, table, wrapped } from '../text.ts';

export function register(program: Command, context: Context): void {
  const usage = example('heldby names compare "Ferr[..]d" Farrand');
  const names = program.command('names').description('how names agree').addHelpText('after', usage);
  const compare = names
    .command('compare')
    .description('why a surname as read fits a surname of a list, letter by letter')
    .argument('<reading>', 'the surname as read, with [.] for a lost letter')
    .argument('<name>', 'the surname that a list has');
  common(compare)
    .addHelpText('after', usage)
    .action(async (reading: string, name: string) => {
      const options = optionsOf<CommonOptions>(compare);
      const compared = compareNames(reading, name, await assumptionsThere(context, options));
      if (options.json) printJson(context, compared);
      else context.out(inWords(compared, context));
    });
}

/** Those of the ledger; where there is none, as they are shipped. */
async function assumptionsThere(context: Context, options: CommonOptions): Promise<Assumptions> {
  try {
    return await asking(context, options, assumptionsOf);
  } catch (error) {
    if (error instanceof HeldbyError && error.code === 'NO_LEDGER' && options.ledger === undefined) return DEFAULTS;
    throw error;
  }
}

const bits = (count: number): string => `${count} ${count === 1 ? 'bit' : 'bits'}`;

function inWords({ reading, name, bits: all, limit, within, steps }: NamesCompared, context: Context): string {
  const { strong, faint, good, doubtful } = context.style;
  const verdict = within
    ? `within the ${bits(limit)} that this reading allows`
    : `beyond the ${bits(limit)} that this reading allows: no candidate`;
  const head = wrapped(`“${reading}” and ${name}: ${bits(all)}, ${verdict}`, widthOf(context)).map(shown);
  const rows = steps.map((step) =>
    [step.reading || '–', step.name || '–', step.bits.toString(), step.reason].map(shown),
  );
  const [titles, ...lines] = table([['read', 'name', 'bits', ''], ...rows], { right: [2] });
  return [
    ...head.map((line) => strong((within ? good : doubtful)(line))),
    '',
    faint(titles ?? ''),
    ...lines.map((line, at) => (steps[at]?.bits === 0 ? faint(line) : line)),
  ].join('\n');
}
