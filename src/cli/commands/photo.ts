import { resolve } from 'node:path';
import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { kindNamed } from '../../ledger/kinds.ts';
import { describePhoto, hasPhoto, keepPhoto, photosOf } from '../../ledger/photos.ts';
import { resolveAny } from '../../ledger/refs.ts';
import type { Context } from '../context.ts';
import { addRecordCommand } from '../record-command.ts';

export function register(program: Command, context: Context): void {
  const photo = program.command('photo').description('pictures of marks and objects');
  addRecordCommand(photo, context, {
    name: 'add',
    kind: 'photo',
    summary:
      'keep a copy of a picture beside the ledger, with its size and hash; heldby verify tells if it is lost or changed',
    takes: [
      { argument: '<mark|object>', field: 'of', about: 'what it shows: an id, a key, an object’s reference' },
      { argument: '<file>', field: 'file', about: 'the picture' },
    ],
    shape: (draft, options, into) => {
      const source = resolve(context.workingFolder, String(draft['file']));
      const of = resolveAny(into.db, String(draft['of']), [kindNamed('mark'), kindNamed('object')]);
      const there = describePhoto(source);
      const twin = photosOf(into.db, of).find(({ sha256 }) => sha256 === there.sha256);
      if (twin !== undefined) {
        const isLost = options['dryRun'] !== true && !hasPhoto(into.db.name, there.sha256);
        if (isLost) keepPhoto(into.db.name, source);
        throw new HeldbyError(
          'CONFLICT',
          `${there.file} is recorded for ${of} already (ph${twin.id})${isLost ? '; its copy beside the ledger was lost or changed, and is there again' : ''}.`,
          'Nothing else is to be done.',
          'file',
        );
      }
      return { of, ...(options['dryRun'] === true ? there : keepPhoto(into.db.name, source)) };
    },
    example: ['heldby photo add m1 flap.jpg', 'heldby photo add 214 "writing slope, front.jpg"'],
  });
}
