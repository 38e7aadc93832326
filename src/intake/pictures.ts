import { existsSync, realpathSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { HeldbyError } from '../errors.ts';
import type { Db } from '../ledger/open.ts';
import { describePhoto, hasPhoto, keepPhoto, photoOfKey, photoPath } from '../ledger/photos.ts';
import type { Draft } from '../ledger/recording.ts';

/** Where the pictures that the lines of a file name are looked for, and whether they are to be copied. */
export type Pictures = { readonly file: string | undefined; readonly keep: boolean };

/** What is said of a picture that no copy was kept of. */
export type PictureNote = (note: string) => void;

/**
 * A photo line with the size and hash of its picture, of which a copy is kept beside the ledger. It is looked for in the
 * folder FILE.photos, where an export lays it by its hash, and by its name in the folder of the file or below. One that
 * is not there is recorded as the line says, and told, unless a copy was kept when the line came before.
 * @throws HeldbyError INPUT_FILE where a picture is there, and is not the one that the line tells of.
 */
export function withPicture(
  db: Db,
  draft: Draft,
  { file, keep }: Pictures,
  note: PictureNote,
  key: string | null = null,
): Draft {
  const name = typeof draft['file'] === 'string' ? draft['file'].trim() : '';
  const said = typeof draft['sha256'] === 'string' ? draft['sha256'] : undefined;
  if (name === '' || db.memory) return draft;
  if (said !== undefined && hasPhoto(db.name, said)) return draft;
  const found = file === undefined ? undefined : pictureAt(file, name, said);
  if (found === undefined) {
    const kept = said === undefined && key !== null ? photoOfKey(db, key) : undefined;
    if (kept !== undefined) return { ...draft, ...kept };
    note(
      `The picture ${name} does not lie beside the file: no copy of it is kept.${said === undefined ? '' : ' Import the file again with it there.'}`,
    );
    return draft;
  }
  const there = describePhoto(found);
  if (said !== undefined && there.sha256 !== said)
    throw new HeldbyError(
      'INPUT_FILE',
      `The picture ${name} is not the one that was recorded: its hash is another.`,
      'Get the picture again from whoever sent the file.',
      'file',
    );
  if (keep) keepPhoto(db.name, found);
  return { ...draft, sha256: there.sha256, bytes: there.bytes };
}

/** Only what lies in the folder of the file or below it: a line of somebody else’s cannot reach for anything else. */
function pictureAt(file: string, name: string, sha256: string | undefined): string | undefined {
  const places = [
    ...(sha256 !== undefined && /^[0-9a-f]{64}$/.test(sha256) ? [photoPath(file, sha256)] : []),
    resolve(dirname(file), name),
    join(dirname(file), basename(name)),
  ];
  const folder = realpathSync(dirname(file));
  return places.find((place) => {
    if (!existsSync(place)) return false;
    const inside = relative(folder, realpathSync(place));
    return inside !== '' && inside !== '..' && !inside.startsWith(`..${sep}`) && !isAbsolute(inside);
  });
}
