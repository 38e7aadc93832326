import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { KINDS, kindNamed, parseId } from '../../ledger/kinds.ts';
import type { Db } from '../../ledger/open.ts';
import type { Recording } from '../../ledger/recording.ts';
import { addRecord, amendRecord, withdrawRecord } from '../../ledger/records.ts';
import { idOfKey, resolveUnmistakably } from '../../ledger/refs.ts';
import { actsNewestFirst, lastStandingAct, undoAct } from '../../ledger/undo.ts';
import { actNumber, type Context, recordingIn, widthOf } from '../context.ts';
import { dateOptions } from '../date-options.ts';
import { example, optionsOf, printJson, recordingOptions } from '../options.ts';
import { acknowledge, type RecordingOptions, recordAct } from '../record-command.ts';
import { runs } from '../runs.ts';
import { shown, wrapped } from '../text.ts';

export function register(program: Command, context: Context): void {
  const amend = program
    .command('amend')
    .description('correct one field of a record; the old version is kept')
    .argument('<record>', RECORD)
    .argument('<field>', 'which field')
    .argument('<value>', 'what it should say; "" for nothing');
  recordingOptions(dateOptions(amend))
    .addHelpText(
      'after',
      example(
        'heldby amend e410 page 214 --why "misread: 214, not 241"',
        'heldby amend e410 dated "5 May 1835" --why misread --dry-run   (and what would change)',
        'heldby amend e402-e408,e411 person p9 --why "his cousin of the same name"',
      ),
    )
    .action((words: string, field: string, value: string) =>
      recordingIn(context, optionsOf<RecordingOptions>(amend), (db) => {
        const options = reasoned(optionsOf<RecordingOptions>(amend));
        const change = { [field]: value === '' ? null : value };
        return correct(db, context, options, recordsNamed(db, words), (into, { kind, row, id }) => {
          amendRecord({ ...into, asListsWrite: true }, kind, row, change, options.why);
          return id;
        });
      }),
    );

  const withdraw = program
    .command('withdraw')
    .description('take a record out of what is current; it is kept in the journal')
    .argument('<record>', RECORD);
  recordingOptions(withdraw)
    .addHelpText('after', example('heldby withdraw q3 --why "wrong volume"'))
    .action((words: string) =>
      recordingIn(context, optionsOf<RecordingOptions>(withdraw), (db) => {
        const options = reasoned(optionsOf<RecordingOptions>(withdraw));
        return correct(db, context, options, recordsNamed(db, words), (into, { kind, row, id }) => {
          withdrawRecord(into, kind, row, options.why);
          return id;
        });
      }),
    );

  const aside = program
    .command('set-aside')
    .description('keep a record, but let nothing be computed from it')
    .argument('<record>', RECORD);
  recordingOptions(aside)
    .addHelpText('after', example('heldby set-aside e410 --why "the clerk slid a line: the date is his neighbour’s"'))
    .action((words: string) =>
      recordingIn(context, optionsOf<RecordingOptions>(aside), (db) => {
        const options = reasoned(optionsOf<RecordingOptions>(aside));
        return correct(db, context, options, recordsNamed(db, words), (into, { id }) =>
          addRecord(into, kindNamed('setAside'), { record: id, why: options.why }),
        );
      }),
    );

  const undo = program
    .command('undo')
    .description('take back the last act, or the one named, if nothing later rests on it')
    .argument('[act]', 'its number, from heldby history');
  recordingOptions(undo)
    .addHelpText('after', example('heldby undo', 'heldby undo 12'))
    .action((words: string | undefined) =>
      recordingIn(context, optionsOf<RecordingOptions>(undo), (db) => {
        const options = optionsOf<RecordingOptions>(undo);
        let target = 0;
        // The last act is looked for while nobody else can add one, or undo it.
        const find = (): number => {
          target = words === undefined ? lastStandingAct(db) : actNumber(words);
          return target;
        };
        const { act } = recordAct(db, context, options, ({ act }) => undoAct(db, act, target), find);
        if (options.json) {
          acknowledge(context, options, act, `act ${target}`);
          return;
        }
        const done = actsNewestFirst(db, 1, target)[0]?.command ?? '';
        const lines = wrapped(shown(done), widthOf(context) - 2).map((line) => `  ${line}`);
        const said = options.dryRun ? `Act ${target} can be undone:` : `Act ${target} is undone, by act ${act?.id}:`;
        context.out([said, ...lines].join('\n'));
        if (!options.dryRun) context.note(`To bring it back: heldby undo ${act?.id}`);
      }),
    );
}

/** Corrects records in one act; a trial says besides what would change, and what would not. */
async function correct(
  db: Db,
  context: Context,
  options: RecordingOptions,
  records: readonly RecordNamed[],
  one: (into: Recording, record: RecordNamed) => string,
): Promise<void> {
  const done = (into: Recording): string[] => records.map((record) => one(into, record));
  if (!options.dryRun) {
    const { result, act } = recordAct(db, context, options, done);
    if (options.json && result.length > 1) printJson(context, { id: result[0], ids: result, act: act?.id ?? null });
    else acknowledge(context, options, act, runs(result, undefined, RUNS_NAMED));
    if (act !== undefined && !options.json && act.id > 1)
      context.note(`What it changes: heldby changes ${act.id - 1} ${act.id}   (all of it back: heldby undo ${act.id})`);
    return;
  }
  const [{ effectOf }, { effectInLines }] = await Promise.all([
    import('../../inquiry/effect.ts'),
    import('../effect-words.ts'),
  ]);
  const { result, act } = recordAct(db, context, options, (into) =>
    effectOf(
      db,
      records.map(({ id }) => id),
      () => {
        const made = done(into);
        into.act.flush();
        return made;
      },
    ),
  );
  const { result: made, effect } = result;
  if (options.json)
    printJson(context, { dryRun: true, id: made[0], ...(made.length > 1 ? { ids: made } : {}), effect });
  else {
    acknowledge(context, options, act, runs(made, undefined, RUNS_NAMED));
    context.out(effectInLines(effect, context).join('\n'));
  }
}

const RECORD = 'its id or key; several at once as e402-e408,e411';

/** Records of one kind by their numbers, with a hyphen or a dash between the first and last of a row. */
const SEVERAL = /^([a-z]{1,2})\d{1,12}(?:[-–]\1\d{1,12})?(?:, *\1\d{1,12}(?:[-–]\1\d{1,12})?)*$/;

/** Rows of records that are named once they are recorded. */
const RUNS_NAMED = 50;

/** So many records are corrected in one go. */
const MOST_AT_ONCE = 1000;

type RecordNamed = NonNullable<ReturnType<typeof parseId>> & { readonly id: string };

function recordsNamed(db: Db, words: string): RecordNamed[] {
  const prefix = SEVERAL.exec(words)?.[1];
  if (prefix === undefined || !/[-–,]/.test(words) || KINDS.some((kind) => idOfKey(db, kind, words) !== undefined))
    return [recordNamed(db, words)];
  const ids = words.split(',').flatMap((part) => {
    const [first = 0, last = first] = [...part.matchAll(/\d+/g)].map(([digits]) => Number(digits));
    if (last < first || last - first >= MOST_AT_ONCE)
      throw new HeldbyError(
        'USAGE',
        `${part.trim()} is no row of records.`,
        'Write the first before the last: e402-e408',
      );
    return Array.from({ length: last - first + 1 }, (_, at) => `${prefix}${first + at}`);
  });
  return [...new Set(ids)].map((id) => recordNamed(db, id));
}

function recordNamed(db: Db, words: string): RecordNamed {
  const id = resolveUnmistakably(db, words);
  const parsed = parseId(id);
  if (!parsed) throw new HeldbyError('REFERENCE', `There is no record ${words}.`, 'Use an id such as p12, m3, e410.');
  return { ...parsed, id };
}

function reasoned(options: RecordingOptions): RecordingOptions & { readonly why: string } {
  if (options.why === undefined || options.why.trim() === '')
    throw new HeldbyError('VALUE', 'A correction needs its reason.', 'Give --why TEXT.', 'why');
  return { ...options, why: options.why };
}
