import { type Dirent, lstatSync, mkdirSync, readdirSync, renameSync, rmdirSync } from 'node:fs';
import { join } from 'node:path';
import { HeldbyError } from '../errors.ts';
import { takeAway, unfinishedSet } from '../unfinished.ts';
import { isIndex } from './file-names.ts';
import { inWords, settle, writeNew } from './write-file.ts';

/**
 * Files that belong together, put into a folder that may hold others. No system puts several files in place in one step,
 * so they are made complete in a hidden folder within, which gets this name in one step when the disk has taken all of
 * them. From then on the set counts: whoever finds the name moves what is still in it to its place, as often as need be.
 */
const COMPLETE = '.heldby-complete';

export type FileSet = {
  add(name: string, bytes: Uint8Array): void;
  /** All of it is on the disk, and will come to its place whatever happens: `putInPlace`. */
  complete(): void;
  drop(): void;
};

/** @throws HeldbyError CANNOT_WRITE, from each of its functions. */
export function newSet(folder: string): FileSet {
  const within = join(folder, unfinishedSet());
  const drop = (): void => takeAway(within);
  const files: string[] = [];
  inWords(folder, () => {
    drop();
    mkdirSync(within);
  });
  return {
    drop,
    add(name, bytes) {
      const place = join(folder, name);
      inWords(place, () => {
        if (lstatSync(place, { throwIfNoEntry: false })?.isDirectory()) throw occupied(place);
        const path = join(within, name);
        files.push(path);
        writeNew(path, [bytes]);
      });
    },
    complete() {
      if (files.length === 0) return drop();
      inWords(folder, () => {
        // All of them at the end: the disk has then taken most of it already, and one wait covers many files.
        for (const file of files) settle(file);
        settleFolder(within);
        // What another run completed meanwhile goes first.
        do putInPlace(folder);
        while (!isDone(() => renameSync(within, join(folder, COMPLETE)), 'ENOTEMPTY', 'EEXIST'));
        settleFolder(folder);
      });
    },
  };
}

/**
 * Moves what is left of a complete set to its places, indexes last: they tell of the others. Two that do so at once help
 * each other.
 * @returns the names of the files.
 * @throws HeldbyError CANNOT_WRITE
 */
export function putInPlace(folder: string): string[] {
  const within = join(folder, COMPLETE);
  const placed: string[] = [];
  for (const name of filesOf(within)) {
    inWords(join(folder, name), () => {
      if (isDone(() => renameSync(join(within, name), join(folder, name)), 'ENOENT')) placed.push(name);
    });
  }
  inWords(within, () => {
    if (placed.length > 0) settleFolder(folder);
    isDone(() => rmdirSync(within), 'ENOENT', 'ENOTEMPTY');
  });
  return placed;
}

function filesOf(within: string): string[] {
  const there = lstatSync(within, { throwIfNoEntry: false });
  if (there === undefined) return [];
  if (!there.isDirectory()) throw occupied(within);
  const found: Dirent[] = [];
  inWords(within, () => isDone(() => found.push(...readdirSync(within, { withFileTypes: true })), 'ENOENT'));
  if (found.some((each) => !each.isFile())) throw occupied(within);
  const names = found.map(({ name }) => name).sort();
  return [...names.filter((name) => !isIndex(name)), ...names.filter(isIndex)];
}

/** Whether it could be done; not where the system says one of these. */
function isDone(work: () => void, ...expected: readonly string[]): boolean {
  try {
    work();
    return true;
  } catch (error) {
    if (error instanceof Error && 'code' in error && expected.includes(String(error.code))) return false;
    throw error;
  }
}

/** So that names last; a system that knows no such thing for folders refuses it. */
function settleFolder(path: string): void {
  try {
    settle(path, 'r');
  } catch {
    // Nothing else can be done there.
  }
}

const occupied = (path: string): HeldbyError =>
  new HeldbyError(
    'CANNOT_WRITE',
    `${path} cannot be written: something else has that name.`,
    'Move it away, or give another place.',
  );
