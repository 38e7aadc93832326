import { join } from 'node:path';
import { clearUnfinished } from '../unfinished.ts';
import { makeFolder, type StagedFile, stagedIfChanged } from './write-file.ts';

export type BatchFile = { readonly name: string; readonly bytes: Uint8Array };

export type BatchResult = { readonly written: readonly string[]; readonly unchanged: number };

/**
 * Writes the files of a batch as they come, so that no more than one is held at a time. Each is written beside its place;
 * only when the last has been made are they put there, in the order in which they came, each whole. A file that says the
 * same already is left alone, with its date. Where one cannot be made, the folder stays as it was.
 */
export function writeBatch(folder: string, files: Iterable<BatchFile>): BatchResult {
  makeFolder(folder);
  clearUnfinished(folder);
  const staged: { readonly name: string; readonly file: StagedFile }[] = [];
  let unchanged = 0;
  try {
    for (const { name, bytes } of files) {
      const file = stagedIfChanged(join(folder, name), bytes);
      if (file === undefined) unchanged += 1;
      else staged.push({ name, file });
    }
    // All of them at the end: the disk has then taken most of it already, and one wait covers many files.
    for (const { file } of staged) file.settle();
  } catch (error) {
    for (const { file } of staged) file.drop();
    throw error;
  }
  for (const { file } of staged) file.place();
  return { written: staged.map(({ name }) => name), unchanged };
}
