import { closeSync, fsyncSync, mkdirSync, openSync, renameSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import { HeldbyError } from '../errors.ts';
import { clearUnfinished, takeAway, unfinishedName } from '../unfinished.ts';

/** Bytes that are gathered before they are written. */
const CHUNK = 1 << 16;

/**
 * Writes a file whole or not at all: beside its place first, then put there in one step. A file of that name is
 * replaced, a link of that name too, not what it points to.
 * @throws HeldbyError CANNOT_WRITE
 */
export function writeWhole(path: string, pieces: Iterable<string | Uint8Array>): void {
  clearUnfinished(dirname(path));
  const beside = unfinishedName(path);
  inWords(path, () => {
    takeAway(beside);
    try {
      writeNew(beside, pieces);
      settle(beside);
      renameSync(beside, path);
    } catch (error) {
      takeAway(beside);
      throw error;
    }
  });
}

/** Writes a file that is not there yet. What it throws is the system's own: see `inWords`. */
export function writeNew(path: string, pieces: Iterable<string | Uint8Array>): void {
  const descriptor = openSync(path, 'wx');
  try {
    for (const bytes of gathered(pieces)) for (let at = 0; at < bytes.length; ) at += writeSync(descriptor, bytes, at);
  } finally {
    closeSync(descriptor);
  }
}

/** Waits until the disk has taken a file; a folder can only be opened to be read (`r`). */
export function settle(path: string, flags: 'r' | 'r+' = 'r+'): void {
  const descriptor = openSync(path, flags);
  try {
    fsyncSync(descriptor);
  } finally {
    closeSync(descriptor);
  }
}

/** Makes a folder with those above it, if it is not there. */
export function makeFolder(path: string): void {
  inWords(path, () => mkdirSync(path, { recursive: true }));
}

/** Text in pieces of some size, as UTF-8. */
export function* gathered(pieces: Iterable<string | Uint8Array>): Iterable<Uint8Array> {
  let text = '';
  for (const piece of pieces) {
    if (typeof piece !== 'string') {
      yield Buffer.from(text, 'utf8');
      text = '';
      yield piece;
      continue;
    }
    text += piece;
    if (text.length < CHUNK) continue;
    yield Buffer.from(text, 'utf8');
    text = '';
  }
  yield Buffer.from(text, 'utf8');
}

/** What the system throws while a file is written, as a sentence and what to do. */
export function inWords<T>(path: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    const why: Readonly<Record<string, [string, string]>> = {
      ENOSPC: ['the disk is full', 'Free some space and run the command again.'],
      ENOENT: ['there is no such folder', 'Make the folder first, or give another place.'],
      EDQUOT: ['your share of the disk is used up', 'Free some space and run the command again.'],
      EFBIG: ['a file may not be so large here', 'Give a place where it may, or less to write.'],
      EIO: ['the disk reports an error', 'Look after the disk, and give another place.'],
      EACCES: ['it is not allowed', 'Look at the rights of the folder, or give another place.'],
      EPERM: ['it is not allowed', 'Look at the rights of the folder, or give another place.'],
      EROFS: ['the disk can only be read', 'Give another place.'],
      EISDIR: ['it is a folder', 'Give the name of a file.'],
      ENOTDIR: ['a part of the path is no folder', 'Give another place.'],
      EEXIST: ['something else has that name', 'Give another place.'],
      ENAMETOOLONG: ['the name is too long', 'Give a shorter one.'],
    };
    const found = why[code];
    if (!found) throw error;
    throw new HeldbyError('CANNOT_WRITE', `${path} cannot be written: ${found[0]}.`, found[1]);
  }
}
