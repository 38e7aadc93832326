import { readdirSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

/** The longest that a name of a file may be is 255 bytes; a part of it says whose it will be. */
const NAME_KEPT = 80;

/** What a file is called until it is whole: beside its place, hidden, with the process that writes it. */
export const unfinishedName = (path: string): string =>
  join(dirname(path), `.${basename(path).slice(0, NAME_KEPT)}.${process.pid}.part`);

/** Takes away what could not be made whole, SQLite's own files beside it too; what the disk keeps, the next run takes away. */
export function takeAway(part: string): void {
  for (const end of ['', '-journal', '-wal', '-shm'])
    try {
      rmSync(part + end, { recursive: true, force: true });
    } catch {
      // Why it could not be made is said, not that it could not be taken away.
    }
}

/** What a folder of files that belong together is called until all of them are whole. */
export const unfinishedSet = (owner = process.pid): string => `.heldby.${owner}.part`;

/** Takes away what runs that were killed have left unfinished in a folder, SQLite's own files beside a copy too. */
export function clearUnfinished(folder: string): void {
  for (const { name, isFolder } of namesIn(folder)) {
    const owner = /^\..+\.(\d+)\.part(?:-journal|-wal|-shm)?$/.exec(name)?.[1];
    // Of folders only such as heldby makes for files that belong together.
    if (owner === undefined || isRunning(Number(owner)) || (isFolder && name !== unfinishedSet(Number(owner))))
      continue;
    takeAway(join(folder, name));
  }
}

/** A folder that cannot be read, or is not there, is a matter of whoever writes in it. */
function namesIn(folder: string): { readonly name: string; readonly isFolder: boolean }[] {
  try {
    return readdirSync(folder, { withFileTypes: true }).map((each) => ({
      name: each.name,
      isFolder: each.isDirectory(),
    }));
  } catch {
    return [];
  }
}

function isRunning(id: number): boolean {
  try {
    return process.kill(id, 0);
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
