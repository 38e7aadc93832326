import { closeSync, existsSync, fsyncSync, openSync, renameSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { clearUnfinished, takeAway, unfinishedName } from '../unfinished.ts';

/**
 * Copies a ledger as it stands beside itself, before it is brought to another format: `FILE.before-format-N`, or with a
 * number behind it where an earlier copy stands there. Whole and on the disk before its name stands. Whoever calls keeps
 * the ledger from being written meanwhile.
 * @returns the name of the copy.
 */
export function copyBeforeFormat(file: string, format: number): string {
  const copy = freeName(`${file}.before-format-${format}`);
  clearUnfinished(dirname(file));
  const part = unfinishedName(copy);
  // A reader of its own: the connection that holds the ledger is inside a transaction, which cannot copy.
  const reader = new Database(file, { readonly: true });
  try {
    reader.prepare('VACUUM INTO ?').run(part);
    const written = openSync(part, 'r+');
    fsyncSync(written);
    closeSync(written);
    renameSync(part, copy);
  } catch (error) {
    takeAway(part);
    throw error;
  } finally {
    reader.close();
  }
  return copy;
}

function freeName(name: string): string {
  for (let at = 1; ; at += 1) {
    const free = at === 1 ? name : `${name}-${at}`;
    if (!existsSync(free)) return free;
  }
}
