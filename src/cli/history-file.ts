import { closeSync, openSync, readFileSync, readSync } from 'node:fs';
import { resolve } from 'node:path';
import { importHistory, isHistory } from '../intake/import-history.ts';
import type { Db } from '../ledger/open.ts';
import type { Context } from './context.ts';
import { printJson } from './options.ts';
import type { RecordingOptions } from './record-command.ts';

/** Enough to tell a history by its beginning. */
const LOOKED_AT_BYTES = 64;

/** Records a file that is a history, act by act. False, and nothing done, where it is something else. */
export function recordHistory(db: Db, file: string, options: RecordingOptions, context: Context): boolean {
  if (!/\.(?:jsonl|ndjson)$/i.test(file)) return false;
  const path = resolve(context.workingFolder, file);
  if (!isHistory(beginningOf(path))) return false;
  const { acts, records } = importHistory(db, readFileSync(path, 'utf8'), options.dryRun === true);
  if (options.json) printJson(context, { ...(options.dryRun ? { dryRun: true } : {}), acts, records });
  else
    context.out(
      `${options.dryRun ? 'Would be recorded' : 'Recorded'} again: ${acts} acts, ${records} records and corrections`,
    );
  return true;
}

/** Nothing for a file that cannot be read: whoever reads it next says what is wrong. */
function beginningOf(path: string): string {
  try {
    const descriptor = openSync(path, 'r');
    const buffer = Buffer.alloc(LOOKED_AT_BYTES);
    const got = readSync(descriptor, buffer);
    closeSync(descriptor);
    return buffer.subarray(0, got).toString('utf8');
  } catch {
    return '';
  }
}
