import { createHash } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readSync,
  renameSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { HeldbyError } from '../errors.ts';
import { clearUnfinished, takeAway, unfinishedName } from '../unfinished.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

/** A picture as it is recorded: its name when it was given, and what its bytes are. */
export type Photo = { readonly file: string; readonly sha256: string; readonly bytes: number };

type Finding = { readonly what: string; readonly where: string };

const BUFFER_BYTES = 1 << 20;

/** Pictures lie beside the ledger, each under the hash of its bytes: moved together they are found again. */
export const photosFolder = (ledger: string): string => `${ledger}.photos`;

/** `ab/cdef…` in that folder. */
export const photoPath = (ledger: string, sha256: string): string =>
  join(photosFolder(ledger), sha256.slice(0, 2), sha256.slice(2));

/**
 * Keeps a copy of a picture beside the ledger; one that is there already is kept once. The copy is whole and on the disk
 * before its name stands, so that an interruption leaves nothing under it.
 * @throws HeldbyError INPUT_FILE for what cannot be read, CANNOT_WRITE where no copy can be kept.
 */
export function keepPhoto(ledger: string, source: string): Photo {
  const photo = describePhoto(source);
  const kept = photoPath(ledger, photo.sha256);
  if (existsSync(kept) && describePhoto(kept).sha256 === photo.sha256) return photo;
  const waiting = unfinishedName(kept);
  try {
    mkdirSync(dirname(kept), { recursive: true });
    clearUnfinished(dirname(kept));
    takeAway(waiting);
    const copied = copyHashed(source, waiting);
    if (copied !== photo.sha256)
      throw new HeldbyError(
        'INPUT_FILE',
        `${photo.file} changed while it was read.`,
        'Wait until it is finished, and add it again.',
      );
    renameSync(waiting, kept);
  } catch (error) {
    takeAway(waiting);
    if (error instanceof HeldbyError) throw error;
    throw new HeldbyError(
      'CANNOT_WRITE',
      `No copy of ${/^[0-9a-f]{62}$/.test(photo.file) ? 'a picture' : photo.file} can be kept in ${photosFolder(ledger)}.`,
      'Look at the rights of that folder, and at the space on the disk; nothing was recorded.',
    );
  }
  return photo;
}

/** Whether a whole copy of a picture lies beside the ledger. */
export function hasPhoto(ledger: string, sha256: string): boolean {
  const kept = photoPath(ledger, sha256);
  return existsSync(kept) && statSync(kept).size > 0 && hashOf(kept) === sha256;
}

/**
 * Lays copies of pictures beside a file, as they lie beside the ledger; what is there already stays.
 * @returns how many the ledger has no copy of.
 * @throws HeldbyError CANNOT_WRITE
 */
export function layPhotos(
  ledger: string,
  target: string,
  hashes: readonly string[],
): { laid: number; missing: number } {
  let laid = 0;
  for (const sha256 of hashes) {
    if (!hasPhoto(ledger, sha256)) continue;
    keepPhoto(target, photoPath(ledger, sha256));
    laid += 1;
  }
  return { laid, missing: hashes.length - laid };
}

/** What the bytes of a file are. @throws HeldbyError INPUT_FILE */
export function describePhoto(source: string): Photo {
  const name = basename(source);
  let bytes: number;
  try {
    const stat = statSync(source);
    if (!stat.isFile()) throw new HeldbyError('INPUT_FILE', `${name} is a folder.`, 'Name the picture itself.');
    bytes = stat.size;
  } catch (error) {
    if (error instanceof HeldbyError) throw error;
    throw new HeldbyError('INPUT_FILE', `There is no file ${source}.`, 'Look at the name and the folder.');
  }
  if (bytes === 0)
    throw new HeldbyError('INPUT_FILE', `${name} is empty.`, 'Look whether it was saved or copied whole.');
  return { file: name, sha256: hashOf(source), bytes };
}

function hashOf(file: string): string {
  const hash = createHash('sha256');
  eachPiece(file, (piece) => hash.update(piece));
  return hash.digest('hex');
}

function copyHashed(source: string, target: string): string {
  const hash = createHash('sha256');
  const out = openSync(target, 'wx');
  try {
    eachPiece(source, (piece) => {
      hash.update(piece);
      for (let at = 0; at < piece.length; ) at += writeSync(out, piece, at);
    });
    fsyncSync(out);
  } finally {
    closeSync(out);
  }
  return hash.digest('hex');
}

function eachPiece(file: string, take: (piece: Buffer) => void): void {
  const buffer = Buffer.allocUnsafe(BUFFER_BYTES);
  const descriptor = openSync(file, 'r');
  try {
    for (;;) {
      const got = readSync(descriptor, buffer, 0, buffer.length, null);
      if (got === 0) return;
      take(buffer.subarray(0, got));
    }
  } finally {
    closeSync(descriptor);
  }
}

type PhotoRow = { id: number; of: string; file: string; sha256: string | null; bytes: number | null };

/** Pictures of a mark or an object (`m3`, `o1`), in the order of recording. */
export const photosOf = (db: Db, of: string): PhotoRow[] =>
  prepared(db, 'SELECT id, of, file, sha256, bytes FROM current_photo WHERE of = ? ORDER BY id').all(of) as PhotoRow[];

/** Size and hash of the picture that has this key. */
export const photoOfKey = (db: Db, key: string): { sha256: string; bytes: number } | undefined =>
  prepared(db, 'SELECT sha256, bytes FROM current_photo WHERE key = ? AND sha256 IS NOT NULL').get(key) as
    | { sha256: string; bytes: number }
    | undefined;

/** Hashes of all pictures of which a copy was kept, each once. */
export const photoHashes = (db: Db): string[] =>
  prepared(db, 'SELECT DISTINCT sha256 FROM photo WHERE sha256 IS NOT NULL ORDER BY sha256', 'pluck').all() as string[];

/** Pictures of which the copy is missing, or no longer what it was. A ledger in memory has none. */
export function photoFindings(db: Db): Finding[] {
  if (db.memory) return [];
  const rows = prepared(
    db,
    `SELECT min(p.id) AS id, p.of, p.file, p.sha256, p.bytes FROM photo AS p
        WHERE p.sha256 IS NOT NULL AND NOT EXISTS (SELECT 1 FROM void_act AS v WHERE v.act_id = p.act_id) GROUP BY p.sha256 ORDER BY 1`,
  ).all() as (PhotoRow & { sha256: string })[];
  return rows.flatMap(({ id, of, file, sha256, bytes }) => {
    const path = photoPath(db.name, sha256);
    const where = `ph${id}, ${file} of ${of}`;
    const short = join(basename(photosFolder(db.name)), sha256.slice(0, 2), sha256.slice(2));
    const again = `add the file again: heldby photo add ${of} ${/^[\w.-]+$/.test(file) ? file : `"${file}"`}`;
    if (!existsSync(path)) return [{ what: `the picture is missing: ${short}; ${again}`, where }];
    const changed = (bytes !== null && statSync(path).size !== bytes) || hashOf(path) !== sha256;
    return changed ? [{ what: `the picture is not what it was: ${short}; ${again}`, where }] : [];
  });
}
