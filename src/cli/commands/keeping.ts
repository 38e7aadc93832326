import { existsSync, renameSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { Command } from 'commander';
import { EXIT, HeldbyError } from '../../errors.ts';
import { rebuildDerived } from '../../ledger/derived.ts';
import { LATEST_MIGRATION } from '../../ledger/migrate.ts';
import { createLedger, DEFAULT_NAME, opened } from '../../ledger/open.ts';
import { layPhotos, photoHashes } from '../../ledger/photos.ts';
import { verifyLedger } from '../../ledger/verify.ts';
import { clearUnfinished, takeAway, unfinishedName } from '../../unfinished.ts';
import { asking, type CommonOptions, type Context, recordingIn } from '../context.ts';
import { common, example, optionsOf, printJson } from '../options.ts';

export function register(program: Command, context: Context): void {
  const init = program
    .command('init')
    .description('make a new, empty ledger')
    .argument('[file]', `the ledger (${DEFAULT_NAME} unless you say another)`);
  common(init)
    .addHelpText('after', example('heldby init', 'heldby init sale-2027.sqlite'))
    .action((file: string | undefined) => {
      context.purpose('recording');
      const options = optionsOf<CommonOptions>(init);
      const name = file ?? options.ledger ?? (context.environment['HELDBY_LEDGER'] || DEFAULT_NAME);
      createLedger(resolve(context.workingFolder, name));
      if (options.json) printJson(context, { ledger: name });
      else {
        context.out(`Made the ledger ${name}`);
        context.note('Next: heldby series add "Name of the list" --service army   (or heldby import FILE)');
      }
    });

  const upgrade = program
    .command('upgrade')
    .description('bring a ledger of an earlier version up to date; a copy of it as it was is left beside it');
  common(upgrade)
    .addHelpText('after', example('heldby upgrade', 'heldby --ledger sale-2027.sqlite upgrade'))
    .action(() =>
      recordingIn(context, optionsOf<CommonOptions>(upgrade), (db) => {
        // To open it for recording has done it.
        if (optionsOf<CommonOptions>(upgrade).json) printJson(context, { ledger: db.name, format: LATEST_MIGRATION });
        else context.out(`The ledger is up to date (format ${LATEST_MIGRATION}).`);
      }),
    );

  const verify = program
    .command('verify')
    .description(
      'look the whole ledger through: SQLite’s own check, references, the hash of every act, what is worked out from the records, and the pictures',
    )
    .option('--rebuild', 'first make anew what is worked out from the records and kept beside them');
  common(verify)
    .addHelpText('after', example('heldby verify', 'heldby verify --rebuild'))
    .action(async () => {
      refuseAsOf(optionsOf<CommonOptions>(verify), 'The whole ledger is looked through');
      if (verify.opts()['rebuild'] === true)
        await recordingIn(context, optionsOf<CommonOptions>(verify), (db) => rebuildDerived(db));
      return asking(
        context,
        optionsOf<CommonOptions>(verify),
        (db) => {
          const findings = verifyLedger(db);
          if (optionsOf<CommonOptions>(verify).json) printJson(context, { sound: findings.length === 0, findings });
          else
            context.out(
              findings.length === 0
                ? 'The ledger is sound: nothing is damaged, missing or changed.'
                : findings.map(({ where, what }) => `${where}: ${what}`).join('\n'),
            );
          if (findings.length > 0) context.exitStatus(EXIT.ledger);
        },
        'verify',
      );
    });

  const backup = program
    .command('backup')
    .description('write a copy of the ledger, whole and consistent, while others may read')
    .argument('<file>', 'the copy; it must not exist yet');
  common(backup)
    .addHelpText('after', example('heldby backup ledger-2026-11-25.sqlite'))
    .action((file: string) => {
      refuseAsOf(optionsOf<CommonOptions>(backup), 'A backup is a copy of the whole ledger');
      return asking(context, optionsOf<CommonOptions>(backup), async (db) => {
        const options = optionsOf<CommonOptions>(backup);
        context.purpose('recording');
        const target = resolve(context.workingFolder, file);
        if (existsSync(target))
          throw new HeldbyError(
            'CONFLICT',
            `${file} exists already.`,
            'Give another name; heldby never overwrites a file.',
          );
        if (!existsSync(dirname(target)))
          throw new HeldbyError(
            'CANNOT_WRITE',
            `There is no folder for ${file}.`,
            'Make the folder first, or give another place.',
          );
        // Whole before its name stands, pictures first: an interruption leaves no half of a ledger under it.
        clearUnfinished(dirname(target));
        const beside = unfinishedName(target);
        const withPhotos = layPhotos(db.name, target, photoHashes(db)).laid > 0;
        try {
          await db.backup(beside);
          renameSync(beside, target);
        } catch (error) {
          takeAway(beside);
          opened(file, () => {
            throw error;
          });
        }
        if (options.json) printJson(context, { backup: file, photos: withPhotos });
        else context.out(`Copied the ledger to ${file}${withPhotos ? ', and its pictures beside it' : ''}`);
      });
    });
}

/** @throws HeldbyError USAGE */
function refuseAsOf({ asOf }: CommonOptions, why: string): void {
  if (asOf === undefined) return;
  throw new HeldbyError(
    'USAGE',
    `${why}, whatever it was before.`,
    `Leave out --as-of; the records as they stood then: heldby export --all --as-of ${asOf}`,
  );
}
