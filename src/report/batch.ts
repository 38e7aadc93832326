import { join } from 'node:path';
import { fileNames } from './file-names.ts';
import { makeFolder, writeIfChanged } from './write-file.ts';

/** A lot of a batch: what its file says is made when its turn comes. */
export type BatchLot = { readonly ref: string; readonly bytes: () => Uint8Array };

export type BatchResult = { readonly written: readonly string[]; readonly unchanged: number };

/**
 * Writes one file a lot and then the index, each whole or not at all; a file that says the same already is left alone,
 * with its date.
 * @param told is called before each lot, with the number of those that are done.
 */
export function writeBatch(
  folder: string,
  ending: string,
  lots: readonly BatchLot[],
  index: (files: readonly string[]) => readonly { readonly name: string; readonly bytes: Uint8Array }[],
  told: (done: number, ref: string) => void,
): BatchResult {
  makeFolder(folder);
  const names = fileNames(lots.map(({ ref }) => ref)).map((name) => `${name}.${ending}`);
  const written: string[] = [];
  let unchanged = 0;
  const write = (name: string, bytes: Uint8Array): void => {
    if (writeIfChanged(join(folder, name), bytes)) written.push(name);
    else unchanged += 1;
  };
  for (const [place, { ref, bytes }] of lots.entries()) {
    told(place, ref);
    write(names[place] ?? '', bytes());
  }
  for (const { name, bytes } of index(names)) write(name, bytes);
  return { written, unchanged };
}
