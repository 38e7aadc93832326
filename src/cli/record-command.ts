import type { Command } from 'commander';
import { record, type Sealed } from '../ledger/journal.ts';
import type { KindName } from '../ledger/kind.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { type Draft, type Recording, recording } from '../ledger/recording.ts';
import { addRecord } from '../ledger/records.ts';
import { refreshSurnameIndex } from '../ledger/surname-search.ts';
import { dateOptionsOf, type GivenDateOptions } from '../time/given-options.ts';
import { type CommonOptions, type Context, originOf, recordingIn } from './context.ts';
import { dateOptions } from './date-options.ts';
import { example, optionsOf, printJson, recordingOptions } from './options.ts';
import { shown } from './text.ts';

export type RecordingOptions = CommonOptions &
  GivenDateOptions & { readonly why?: string; readonly key?: string; readonly dryRun?: true };
type Values = Readonly<Record<string, string | string[] | true | undefined>>;

/** A command that records one thing: what it is called, what it takes, and which field each part fills. */
export type RecordCommand = {
  readonly name: string;
  readonly kind: KindName;
  readonly summary: string;
  /** Arguments in their order; the field each fills. */
  readonly takes: readonly { readonly argument: string; readonly field: string; readonly about: string }[];
  readonly options?: readonly {
    readonly flags: string;
    readonly field: string;
    readonly about: string;
    readonly required?: true;
    readonly many?: true;
  }[];
  /** Options that fill no field by themselves, with what is made of them. */
  readonly more?: (command: Command) => Command;
  readonly shape?: (draft: Draft, options: Values, into: Recording) => Draft;
  /** What is worth saying about what was recorded. */
  readonly tell?: (db: Db, id: string, context: Context) => string | undefined | Promise<string | undefined>;
  readonly whyIsField?: true;
  readonly example: readonly string[];
};

const collect = (value: string, before: string[] | undefined): string[] => [...(before ?? []), value];

export function addRecordCommand(parent: Command, context: Context, spec: RecordCommand): void {
  const command = parent.command(spec.name).description(spec.summary);
  for (const { argument, about } of spec.takes) command.argument(argument, about);
  for (const { flags, about, required, many } of spec.options ?? []) {
    if (required) command.requiredOption(flags, about);
    else if (many) command.option(flags, about, collect as never);
    else command.option(flags, about);
  }
  if (parent.parent !== null && parent.commands.length === 1) parent.addHelpText('after', example(...spec.example));
  spec.more?.(command);
  if (kindNamed(spec.kind).fields.some(({ type }) => type === 'date')) dateOptions(command);
  recordingOptions(command).addHelpText('after', example(...spec.example));
  command.action(async (...given: unknown[]) => {
    const options = optionsOf<RecordingOptions & Values>(command);
    const fields: Record<string, unknown> = {};
    for (const [place, { field }] of spec.takes.entries()) fields[field] = given[place];
    for (const { flags, field } of spec.options ?? []) {
      const value = options[optionName(flags)];
      if (value !== undefined) fields[field] = value;
    }
    if (spec.whyIsField && options.why !== undefined) fields['why'] = options.why;
    await recordingIn(context, options, async (db) => {
      const { result, act } = recordAct(db, context, options, (into) => {
        const draft = spec.shape ? spec.shape(fields, options, into) : fields;
        return addRecord({ ...into, asListsWrite: true }, kindNamed(spec.kind), draft, options.key ?? null);
      });
      if (!options.json) {
        const told = options.dryRun ? undefined : await spec.tell?.(db, result, context);
        if (told !== undefined) context.note(told);
      }
      acknowledge(context, options, act, result);
    });
  });
}

/** So many dates are told that were kept in other words than those written. */
const DATES_NAMED = 10;

/** Records one act with the command as it was given. */
export function recordAct<T>(
  db: Db,
  context: Context,
  options: RecordingOptions,
  work: (into: Recording) => T,
  undoes?: () => number,
): { result: T; act: Sealed | undefined } {
  const dates = dateOptionsOf(options);
  const notes: string[] = [];
  const recorded = record(
    db,
    originOf(context, options.why),
    (act) => {
      const into = recording(db, act, dates);
      const result = work(into);
      const meant = into.words.meantDates();
      for (const { written, words } of meant.slice(0, DATES_NAMED))
        notes.push(`“${shown(written)}” is kept as ${shown(words).replace(/\.$/, '')}.`);
      if (meant.length > DATES_NAMED) notes.push(`… and ${meant.length - DATES_NAMED} more dates`);
      return result;
    },
    { ...(options.dryRun ? { dryRun: true } : {}), ...(undoes === undefined ? {} : { undoes }) },
  );
  if (!options.json) for (const note of notes) context.note(note);
  refreshSurnameIndex(db);
  return recorded;
}

/** The new id and act; the id stands last. */
export function acknowledge(context: Context, options: RecordingOptions, act: Sealed | undefined, id: string): void {
  if (options.json) {
    printJson(context, options.dryRun ? { dryRun: true, id } : { id, act: act?.id ?? null });
    return;
  }
  if (act === undefined) context.out(`Nothing new to record: ${id}`);
  else context.out(options.dryRun ? `Would be recorded as ${id}` : `Recorded in act ${act.id}: ${id}`);
}

/** `--as-at <date>` is `asAt` among the options. */
const optionName = (flags: string): string =>
  (/--([a-z-]+)/.exec(flags)?.[1] ?? '').replaceAll(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
