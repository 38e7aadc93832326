import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { LIST_FIELDS, type ListField } from '../../intake/coded-list.ts';
import { type FileImport, importFile } from '../../intake/import-file.ts';
import { findKind } from '../../ledger/kinds.ts';
import { type Context, recordingIn } from '../context.ts';
import { example, optionsOf, printJson, recordingOptions } from '../options.ts';
import { type RecordingOptions, recordAct } from '../record-command.ts';

type ImportOptions = RecordingOptions & {
  readonly map?: string[];
  readonly series?: string;
  readonly service?: string;
  readonly format?: string;
};

const collect = (value: string, before: string[] | undefined): string[] => [...(before ?? []), value];

export function register(program: Command, context: Context): void {
  const command = program
    .command('import')
    .description(
      'record a file of list entries (CSV) or of records of any kind (JSON Lines): all of it, or nothing; a file that is known records nothing new',
    )
    .argument('<file>', 'NAME.csv, NAME.jsonl, or - for standard input')
    .option('--map <field=column>', 'which column of the CSV is which field; may be given again', collect as never)
    .option('--series <series>', 'the list that the entries are from, where the file has no column for it')
    .option('--service <service>', 'the service of a list that is made')
    .option('--format <format>', 'csv or jsonl, where the name does not tell');
  recordingOptions(command)
    .addHelpText(
      'after',
      `\nFields of a CSV: ${LIST_FIELDS.join(', ')}.${example('heldby import lists.csv', 'heldby import roster.csv --series "Roster" --map person=person_id --map rank=office', 'heldby import records.jsonl --dry-run')}`,
    )
    .action((file: string) =>
      recordingIn(context, optionsOf<ImportOptions>(command), (db) => {
        const options = optionsOf<ImportOptions>(command);
        const mapping = new Map((options.map ?? []).map(mapped));
        const { result, act } = recordAct(db, context, options, (into) =>
          importFile(into, file, context.workingFolder, {
            mapping,
            series: options.series,
            service: options.service,
            format: options.format,
          }),
        );
        if (options.json) {
          printJson(context, {
            act: options.dryRun ? null : (act?.id ?? null),
            ...(options.dryRun ? { dryRun: true } : {}),
            ...result,
          });
          return;
        }
        for (const note of result.notes) context.note(note);
        const said = inWords(result);
        if (result.knownFile)
          context.out(`Nothing new to record: ${result.file} is recorded already, with all that it holds`);
        else if (act === undefined) context.out(`Nothing new to record: ${said}`);
        else context.out(options.dryRun ? `Would be recorded: ${said}` : `Recorded in act ${act.id}: ${said}`);
      }),
    );
}

function mapped(pair: string): [ListField, string] {
  const at = pair.indexOf('=');
  const field = pair.slice(0, Math.max(at, 0)).trim() as ListField;
  if (at < 1 || !LIST_FIELDS.includes(field))
    throw new HeldbyError(
      'USAGE',
      `--map ${pair} is not understood.`,
      `Write --map FIELD=COLUMN; fields: ${LIST_FIELDS.join(', ')}.`,
    );
  return [field, pair.slice(at + 1).trim()];
}

function inWords({ added, known, file }: FileImport): string {
  const parts = Object.entries(added)
    .filter(([, count]) => count > 0)
    .map(([plural, count]) => `${count} ${count === 1 ? singular(plural) : plural}`);
  if (known > 0) parts.push(`${known} known already`);
  return `${file}: ${parts.join(', ') || 'nothing in it'}`;
}

const singular = (plural: string): string => findKind(plural)?.called.replace(/^an? /, '') ?? plural;
