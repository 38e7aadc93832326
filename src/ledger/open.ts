import { closeSync, existsSync, openSync, readSync, renameSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import Database from 'better-sqlite3';
import { HeldbyError } from '../errors.ts';
import { clearUnfinished, takeAway, unfinishedName } from '../unfinished.ts';
import { LATEST_MIGRATION, migrate } from './migrate.ts';
import { refuseForeignSchema } from './schema.ts';

export type Db = Database.Database;

/** "hldb": marks the file as a ledger of this program, in the place that SQLite keeps for it. */
const APPLICATION_ID = 0x686c6462;

/** How long a second writer waits for the first before it gives up. */
export const BUSY_WAIT_MS = 5000;

/** Room for the pages of an import that are still being filled. */
const CACHE_KIB = 65_536;

const NAME_OR_MAKE = 'Name the ledger with --ledger FILE, or make one: heldby init FILE';

export const DEFAULT_NAME = 'heldby.sqlite';

/**
 * The ledger to use: the one named, else `$HELDBY_LEDGER`, else `heldby.sqlite` in the working directory or the nearest
 * folder above that has one.
 * @throws HeldbyError NO_LEDGER
 */
export function findLedger(
  named: string | undefined,
  fromEnvironment: string | undefined,
  workingFolder: string,
): string {
  const given = named ?? (fromEnvironment || undefined);
  if (given !== undefined) {
    const file = resolve(workingFolder, given);
    if (existsSync(file)) return file;
    throw new HeldbyError('NO_LEDGER', `There is no ledger ${given}.`, `Make one: heldby init ${given}`);
  }
  for (let folder = workingFolder; ; folder = dirname(folder)) {
    const file = join(folder, DEFAULT_NAME);
    if (existsSync(file)) return file;
    if (dirname(folder) === folder) break;
  }
  throw new HeldbyError(
    'NO_LEDGER',
    'There is no ledger here or in a folder above.',
    'Make one: heldby init  (or name yours with --ledger FILE or $HELDBY_LEDGER)',
  );
}

/**
 * Opens a ledger for reading, or for reading and recording. One of an older format is brought to the present one to be
 * recorded in, with a copy of it as it was beside it, and `told` of that; to be read it is left as it is.
 * @throws HeldbyError LEDGER_DAMAGED, LEDGER_OLDER, LEDGER_NEWER, LEDGER_LOCKED, CANNOT_WRITE
 */
export function openLedger(
  file: string,
  mode: 'read' | 'record' | 'verify',
  told: (sentence: string) => void = () => {},
): Db {
  refuseOtherFiles(file);
  // Also to be asked it is opened for writing, where that is allowed, and then kept from it: whoever closes a ledger last
  // takes its log away, which one who may only read cannot.
  const db = opened(file, () => new Database(file, { fileMustExist: true, timeout: BUSY_WAIT_MS }));
  try {
    return ready(db, file, mode, told);
  } catch (error) {
    db.close();
    throw inWords(error, file);
  }
}

function ready(db: Db, file: string, mode: 'read' | 'record' | 'verify', told: (sentence: string) => void): Db {
  // A question sees one state of the ledger from its first word to its last, whoever records meanwhile.
  if (mode !== 'record') db.exec('BEGIN');
  const application = db.pragma('application_id', { simple: true });
  if (application !== APPLICATION_ID) {
    throw new HeldbyError('LEDGER_DAMAGED', `${file} is an SQLite file, but not a ledger of heldby.`, NAME_OR_MAKE);
  }
  const version = db.pragma('user_version', { simple: true }) as number;
  if (version > LATEST_MIGRATION) {
    throw new HeldbyError(
      'LEDGER_NEWER',
      `${file} was made by a newer heldby (ledger format ${version}, this program knows ${LATEST_MIGRATION}).`,
      'Use the newer program; this one has changed nothing.',
    );
  }
  if (mode !== 'verify') refuseForeignSchema(db, file); // which names it as a finding
  if (mode === 'record') {
    const copy = prepareForRecording(db);
    if (copy !== undefined)
      told(
        `${file} was in ledger format ${version} and is now in format ${LATEST_MIGRATION}; as it was, it is kept in ${copy}.`,
      );
    return db;
  }
  db.pragma('query_only = ON');
  if (version < LATEST_MIGRATION)
    throw new HeldbyError(
      'LEDGER_OLDER',
      `${file} is in ledger format ${version}; this program uses format ${LATEST_MIGRATION}.`,
      `Bring it up to date; a copy of it as it is stays beside it: heldby upgrade --ledger ${/\s/.test(file) ? `"${file}"` : file}`,
    );
  return db;
}

/**
 * Makes a new, empty ledger.
 * @throws HeldbyError CONFLICT when the file exists; CANNOT_WRITE
 */
export function createLedger(file: string): void {
  if (existsSync(file))
    throw new HeldbyError(
      'CONFLICT',
      `${file} exists already.`,
      'Give another name, or use it with --ledger; heldby never overwrites a ledger.',
    );
  if (!existsSync(dirname(file)))
    throw new HeldbyError(
      'CANNOT_WRITE',
      `There is no folder ${dirname(file)}.`,
      'Make the folder first, or give another place.',
    );
  const part = unfinishedName(file);
  try {
    clearUnfinished(dirname(file));
    const made = new Database(part, { timeout: BUSY_WAIT_MS });
    try {
      made.pragma(`application_id = ${APPLICATION_ID}`);
      prepareForRecording(made);
    } finally {
      made.close();
    }
    renameSync(part, file);
  } catch (error) {
    takeAway(part);
    throw inWords(error, file);
  }
}

/**
 * Write-ahead log, every commit on the disk, foreign keys: set, and seen to be set.
 * @returns the copy that was made of a ledger of an older format.
 */
function prepareForRecording(db: Db): string | undefined {
  const wanted = [
    ['journal_mode', 'WAL', 'wal'],
    ['synchronous', 'FULL', 2], // this build of SQLite falls back to NORMAL in WAL mode, which can lose the last commits
    ['foreign_keys', 'ON', 1],
  ] as const;
  for (const [name, value, seen] of wanted) {
    // Asked first: to set what is set already would wait for whoever is writing.
    if (db.pragma(name, { simple: true }) === seen) continue;
    db.pragma(`${name} = ${value}`);
    const got = db.pragma(name, { simple: true });
    if (got !== seen)
      throw new HeldbyError(
        'CANNOT_WRITE',
        `The ledger cannot be kept safely here: SQLite reports ${name} = ${got}.`,
        'Put the ledger on an ordinary local disk.',
      );
  }
  db.pragma('trusted_schema = OFF');
  db.pragma(`cache_size = -${CACHE_KIB}`);
  // What a statement of many rows would have to take back is kept in memory, not in a file written beside every such one.
  db.pragma('temp_store = MEMORY');
  return migrate(db);
}

/** Runs on anything SQLite may throw while a ledger is opened or used, and says it in words. */
export function opened<T>(file: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw inWords(error, file);
  }
}

/** What SQLite or the system reports, as a sentence with a way out; anything else as it is. */
export function inWords(error: unknown, file: string): unknown {
  if (!(error instanceof Error) || error instanceof HeldbyError) return error;
  const code = 'code' in error ? String(error.code) : '';
  if (code.startsWith('SQLITE_BUSY') || code.startsWith('SQLITE_LOCKED')) {
    return new HeldbyError(
      'LEDGER_LOCKED',
      `${file} is being written by another program (waited ${BUSY_WAIT_MS / 1000} seconds).`,
      'Try again when that has finished; nothing was recorded.',
    );
  }
  if (code === 'SQLITE_FULL' || code === 'ENOSPC')
    return new HeldbyError(
      'CANNOT_WRITE',
      'The disk is full: nothing was recorded.',
      'Free some space and run the command again.',
    );
  if (/^(?:SQLITE_(?:READONLY|CANTOPEN|PERM)|EROFS$|EACCES$|EPERM$)/.test(code)) {
    return new HeldbyError(
      'CANNOT_WRITE',
      `${file} cannot be opened or written here.`,
      'Look at the rights of the file and of its folder (a ledger needs a folder it may write in).',
    );
  }
  // The log may hold all of it by then, and whoever opens the ledger next takes what is whole there.
  if (code === 'SQLITE_IOERR_FSYNC')
    return new HeldbyError(
      'CANNOT_WRITE',
      `The disk reported a fault as ${file} was to be kept on it: whether the last act was recorded is not certain.`,
      'Look at the disk, then at what stands in the ledger: heldby history',
    );
  if (code.startsWith('SQLITE_IOERR') || code === 'EIO')
    return new HeldbyError(
      'CANNOT_WRITE',
      `The disk reported a fault while ${file} was used: nothing was recorded.`,
      'Look at the disk and its free space, then try again.',
    );
  if (code === 'SQLITE_NOTADB' || code.startsWith('SQLITE_CORRUPT')) {
    return new HeldbyError(
      'LEDGER_DAMAGED',
      `${file} is damaged, or is no SQLite file.`,
      'Restore the last backup; keep the damaged file.',
    );
  }
  if (code.startsWith('ERR_DLOPEN') || /bindings file|NODE_MODULE_VERSION/.test(error.message)) {
    return new HeldbyError(
      'INTERNAL',
      `The SQLite module is not built for Node ${process.version}.`,
      'Run: npm rebuild better-sqlite3',
    );
  }
  return error;
}

const SQLITE_SIGNATURE = 'SQLite format 3\0';

/** SQLite would take an empty file for a new database, and say little of any other. */
function refuseOtherFiles(file: string): void {
  opened(file, () => {
    if (statSync(file).isDirectory())
      throw new HeldbyError('LEDGER_DAMAGED', `${file} is a folder, not a ledger.`, 'Name the ledger file itself.');
    // A pipe would be waited at until somebody writes into it.
    if (!statSync(file).isFile())
      throw new HeldbyError('LEDGER_DAMAGED', `${file} is no ordinary file, so it is no ledger.`, NAME_OR_MAKE);
    const head = Buffer.alloc(SQLITE_SIGNATURE.length);
    let descriptor: number;
    try {
      descriptor = openSync(file, 'r');
    } catch {
      throw new HeldbyError('CANNOT_WRITE', `${file} cannot be read.`, 'Look at the rights of the file.');
    }
    readSync(descriptor, head);
    closeSync(descriptor);
    if (head.toString('latin1') !== SQLITE_SIGNATURE) {
      throw new HeldbyError('LEDGER_DAMAGED', `${file} is no SQLite file, so it is no ledger.`, NAME_OR_MAKE);
    }
  });
}

/**
 * Leaves the ledger as one file: the log is written back and emptied. Best effort: another reader may hold it, and then
 * the log stays beside the ledger, which is as safe.
 */
export function closeLedger(db: Db): void {
  if (!db.open) return;
  try {
    db.pragma('busy_timeout = 0');
    if (db.inTransaction) db.exec('COMMIT');
    if (!db.readonly) db.pragma('wal_checkpoint(TRUNCATE)');
  } catch {
    // Somebody else is at it, or there is no room: what was recorded is in the log, and safe there.
  }
  db.close();
}
