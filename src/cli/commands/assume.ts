import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { assumptionList } from '../../inquiry/assumptions.ts';
import { checkedAssumption } from '../../ledger/assumed.ts';
import { kindNamed } from '../../ledger/kinds.ts';
import { addRecord } from '../../ledger/records.ts';
import { asking, type Context, recordingIn, widthOf } from '../context.ts';
import { example, optionsOf, printJson, recordingOptions } from '../options.ts';
import { acknowledge, type RecordingOptions, recordAct } from '../record-command.ts';
import { wrapped } from '../text.ts';

export function register(program: Command, context: Context): void {
  const assume = program
    .command('assume')
    .description('change an assumption that the arithmetic uses, or list them all with value, default, unit and source')
    .argument('[name]', 'the assumption')
    .argument('[value]', 'its new value');
  recordingOptions(assume)
    .addHelpText(
      'after',
      example(
        'heldby assume',
        'heldby assume circa 10 --why "house rule for furniture"',
        'heldby assume in-post.captain 320 --why "counted in the list of 1836"',
      ),
    )
    .action(async (name: string | undefined, value: string | undefined) => {
      const options = optionsOf<RecordingOptions>(assume);
      if (name === undefined || value === undefined) {
        await asking(context, options, (db) => list(context, options, assumptionList(db), name));
        return;
      }
      await recordingIn(context, options, (db) => {
        if (options.why === undefined)
          throw new HeldbyError('VALUE', 'A changed assumption needs its reason.', 'Give --why TEXT.', 'why');
        const { result, act } = recordAct(db, context, options, (into) =>
          addRecord(into, kindNamed('assumption'), { name, value: checkedAssumption(name, value), why: options.why }),
        );
        acknowledge(context, options, act, result);
      });
    });
}

function list(
  context: Context,
  options: RecordingOptions,
  all: ReturnType<typeof assumptionList>,
  name: string | undefined,
): void {
  const shown = name === undefined ? all : all.filter((each) => each.name === name || each.name.startsWith(`${name}.`));
  if (shown.length === 0)
    throw new HeldbyError('REFERENCE', `There is no assumption "${name}".`, 'See them all: heldby assume');
  if (options.json) {
    printJson(context, { assumptions: shown });
    return;
  }
  const { strong, doubtful, faint } = context.style;
  const lines = shown.flatMap((each) => {
    const changed =
      each.value === each.default ? '' : doubtful(` (default ${each.default}; changed in act ${each.act})`);
    return [
      `${strong(each.name)} = ${each.value} ${each.unit}${changed}`,
      ...wrapped(`${each.meaning}. Source: ${each.source}.`, widthOf(context) - 4).map((line) => faint(`    ${line}`)),
    ];
  });
  context.out(lines.join('\n'));
  context.note(`${shown.length} assumptions; change one with: heldby assume NAME VALUE --why TEXT`);
}
