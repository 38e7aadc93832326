import { lstatSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { clearUnfinished } from '../unfinished.ts';
import { newSet, putInPlace } from './file-set.ts';
import { inWords, makeFolder } from './write-file.ts';

export type BatchFile = { readonly name: string; readonly bytes: Uint8Array };

export type BatchResult = {
  readonly written: readonly string[];
  readonly unchanged: number;
  /** Files of a run before this one that was cut short while it put them in place: put there now, before anything else. */
  readonly finished: readonly string[];
};

/**
 * Writes the files of a batch as they come, so that no more than one is held at a time. Only when the last has been made
 * are they put in their places, those that came last the last. A file that says the same already is left alone, with its
 * date. Where one cannot be made, the folder stays as it was.
 */
export function writeBatch(folder: string, files: Iterable<BatchFile>): BatchResult {
  makeFolder(folder);
  const finished = putInPlace(folder);
  clearUnfinished(folder);
  const set = newSet(folder);
  const written: string[] = [];
  let unchanged = 0;
  try {
    for (const { name, bytes } of files) {
      if (saysTheSame(join(folder, name), bytes)) {
        unchanged += 1;
        continue;
      }
      set.add(name, bytes);
      written.push(name);
    }
    set.complete();
  } catch (error) {
    set.drop();
    throw error;
  }
  putInPlace(folder);
  return { written, unchanged, finished };
}

function saysTheSame(path: string, bytes: Uint8Array): boolean {
  const isFile = lstatSync(path, { throwIfNoEntry: false })?.isFile() === true;
  return isFile && inWords(path, () => readFileSync(path)).equals(bytes);
}
