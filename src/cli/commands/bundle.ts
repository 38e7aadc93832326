import { existsSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { bundleOf } from '../../inquiry/bundle.ts';
import { actsInOrder, ledgerMark } from '../../ledger/act-contents.ts';
import { kindNamed } from '../../ledger/kinds.ts';
import { idsOf } from '../../ledger/naming.ts';
import { layPhotos, photosFolder } from '../../ledger/photos.ts';
import { resolveRef } from '../../ledger/refs.ts';
import { jsonLine } from '../../report/export-lines.ts';
import { safeJson } from '../../report/safe-text.ts';
import { writeWhole } from '../../report/write-file.ts';
import { VERSION } from '../../version.ts';
import { asking, type CommonOptions, type Context } from '../context.ts';
import { common, example, optionsOf, printJson } from '../options.ts';

type BundleOptions = CommonOptions & { readonly all?: true; readonly force?: true };

export function register(program: Command, context: Context): void {
  const command = program
    .command('bundle')
    .description(
      'write objects with everything that their answers rest on, for a colleague’s ledger: heldby import FILE brings it in there, and records nothing twice',
    )
    .argument('<object|file...>', 'the objects, and last the file, such as slope.jsonl; pictures go beside it')
    .option('--all', 'every object there is')
    .option('--force', 'replace the file if it is there');
  common(command)
    .addHelpText(
      'after',
      `\nWith an object go its marks, features, readings, pictures and attributions; whoever can be meant by its marks,\nwith entries, notices, names, kin, searches and findings who is who; the editions of their services; conditions,\nfacts, and the assumptions that were changed. Living people’s data are private: look before you send it.${example(
        'heldby bundle 214 slope.jsonl',
        'heldby bundle 214 215 216 three-lots.jsonl',
        'heldby --ledger colleague.sqlite import slope.jsonl',
      )}`,
    )
    .action((words: string[]) =>
      asking(context, optionsOf<BundleOptions>(command), (db) => {
        const options = optionsOf<BundleOptions>(command);
        const name = words.at(-1) as string;
        const named = words.slice(0, -1);
        if ((named.length === 0) !== (options.all === true))
          throw new HeldbyError(
            'USAGE',
            'Say which objects, or --all, and last the file.',
            'heldby bundle 214 slope.jsonl   or   heldby bundle --all everything.jsonl',
          );
        const target = resolve(context.workingFolder, name);
        if (existsSync(target) && options.force !== true)
          throw new HeldbyError('CONFLICT', `${name} exists already.`, 'Give another name, or --force to replace it.');
        const objects = options.all
          ? idsOf(db, 'object')
          : named.map((each) => resolveRef(db, kindNamed('object'), each));
        const { objects: keys, records } = bundleOf(db, [...new Set(objects)]);
        const hashes = records.flatMap(({ type, fields }) =>
          type === 'photo' && typeof fields['sha256'] === 'string' ? [fields['sha256']] : [],
        );
        // Pictures first: whoever has the file has them too.
        const { laid, missing } = layPhotos(db.name, target, [...new Set(hashes)]);
        const [first] = actsInOrder(db, 1);
        const head = {
          type: 'bundle',
          program: VERSION,
          ledger: first === undefined ? '' : ledgerMark(first),
          objects: keys,
        };
        writeWhole(target, [`${safeJson(head)}\n`, ...records.map(jsonLine)]);
        if (missing > 0)
          context.note(
            `${missing} of the pictures ${missing === 1 ? 'is' : 'are'} missing beside the ledger: heldby verify names them.`,
          );
        const counts = { objects: keys.length, records: records.length, pictures: laid };
        if (options.json) printJson(context, { file: name, ...counts });
        else {
          const folder =
            laid > 0
              ? `, and ${laid} ${laid === 1 ? 'picture' : 'pictures'} in ${basename(photosFolder(name))}: send both`
              : '';
          context.out(
            `Wrote ${name}: ${keys.length} ${keys.length === 1 ? 'object' : 'objects'}, ${records.length} records in all${folder}`,
          );
        }
      }),
    );
}
