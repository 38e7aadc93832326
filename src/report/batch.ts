import { join } from 'node:path';
import { fileNames } from './file-names.ts';
import { makeFolder, writeIfChanged } from './write-file.ts';

/** A lot of a batch. */
export type BatchLot = { readonly ref: string; readonly bytes: () => Uint8Array };

export type BatchResult = { readonly written: readonly string[]; readonly unchanged: number };

/**
 * Writes one file a lot, and then the index: all of them are made before the first is written. Each is put in its place
 * whole or not at all; a file that says the same already is left alone, with its date.
 */
export function writeBatch(
  folder: string,
  ending: string,
  lots: readonly BatchLot[],
  index: (files: readonly string[]) => readonly { readonly name: string; readonly bytes: Uint8Array }[],
): BatchResult {
  const names = fileNames(lots.map(({ ref }) => ref)).map((name) => `${name}.${ending}`);
  const files = [...lots.map(({ bytes }, place) => ({ name: names[place] ?? '', bytes: bytes() })), ...index(names)];
  makeFolder(folder);
  const written = files.filter(({ name, bytes }) => writeIfChanged(join(folder, name), bytes)).map(({ name }) => name);
  return { written, unchanged: files.length - written.length };
}
