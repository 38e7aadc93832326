import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { assumptionList } from '../../inquiry/assumptions.ts';
import { checkedAssumption } from '../../ledger/assumed.ts';
import { kindNamed } from '../../ledger/kinds.ts';
import { addRecord } from '../../ledger/records.ts';
import { asking, type Context, recordingIn, widthOf } from '../context.ts';
import { example, optionsOf, printCsv, printJson, recordingOptions } from '../options.ts';
import { acknowledge, type RecordingOptions, recordAct } from '../record-command.ts';
import { wrapped } from '../text.ts';

type AssumeOptions = RecordingOptions & { readonly csv?: true };

export function register(program: Command, context: Context): void {
  const assume = program
    .command('assume')
    .description('change an assumption that the arithmetic uses, or list them all with value, default, unit and source')
    .argument('[name]', 'the assumption')
    .argument('[value]', 'its new value')
    .option('--estimate <name>', 'reckon it from the ledger: name.frequency, tenure.mean, tenure.mean.RANK')
    .option('--csv', 'print the list as CSV');
  recordingOptions(assume)
    .addHelpText(
      'after',
      example(
        'heldby assume',
        'heldby assume circa 10 --why "house rule for furniture"',
        'heldby assume in-post.captain 320 --why "counted in the list of 1836"',
        'heldby assume --estimate tenure.mean',
      ),
    )
    .action(async (name: string | undefined, value: string | undefined) => {
      const options = optionsOf<AssumeOptions & { readonly estimate?: string }>(assume);
      if (options.estimate !== undefined) {
        await estimated(context, options, options.estimate, name);
        return;
      }
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

/** Reckons an assumption from the ledger, and records what it comes to as one act. */
async function estimated(
  context: Context,
  options: RecordingOptions,
  wanted: string,
  beside: string | undefined,
): Promise<void> {
  if (beside !== undefined)
    throw new HeldbyError('USAGE', `Both ${wanted} and ${beside} are named.`, 'Write: heldby assume --estimate NAME');
  const { estimatesOf } = await import('../../inquiry/estimates.ts');
  await recordingIn(context, options, (db) => {
    const estimates = estimatesOf(db, wanted);
    const { act } = recordAct(db, context, options, (into) => {
      for (const { name, value, was, from } of estimates) {
        if (value === was) continue;
        const why = `reckoned from ${from} of this ledger${options.why === undefined ? '' : `: ${options.why}`}`;
        addRecord(into, kindNamed('assumption'), { name, value: checkedAssumption(name, value), why });
      }
    });
    if (options.json) {
      printJson(context, {
        act: options.dryRun ? null : (act?.id ?? null),
        ...(options.dryRun ? { dryRun: true } : {}),
        estimates,
      });
      return;
    }
    for (const { name, value, was, from } of estimates)
      context.out(`${name} = ${value}${value === was ? ', as before' : ` (was ${was})`}, from ${from}`);
    if (act === undefined) context.note('Nothing new to record.');
    else context.note(options.dryRun ? 'Nothing was recorded.' : `Recorded in act ${act.id}; undo takes it back.`);
  });
}

function list(
  context: Context,
  options: AssumeOptions,
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
  if (options.csv) {
    printCsv(context, ['name', 'value', 'default', 'unit', 'meaning', 'source', 'act', 'why'], shown);
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
