import { createHash } from 'node:crypto';
import { closeSync, fstatSync, openSync, readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { basename, resolve } from 'node:path';
import { HeldbyError } from '../errors.ts';
import { withIndexesLast } from '../ledger/indexes-last.ts';
import { findKind } from '../ledger/kinds.ts';
import type { Recording } from '../ledger/recording.ts';
import { addSourceFile, anySourceFile, knownSourceFile } from '../ledger/source-files.ts';
import { FAULT_COLUMN } from './accept-good-faults.ts';
import { type CodedList, readCodedList } from './coded-list.ts';
import { canCodeInThread, codeInThread } from './coding-thread.ts';
import { type Guess, guessInWords } from './column-guess.ts';
import { hashedSource } from './hashed-source.ts';
import { type DifferingLine, importList } from './import-list.ts';
import { importRecords } from './import-records.ts';
import type { ListField } from './list-fields.ts';
import type { Pictures } from './pictures.ts';

export type FileOptions = {
  readonly mapping: ReadonlyMap<ListField, string>;
  readonly series: string | undefined;
  readonly service: string | undefined;
  readonly format: string | undefined;
  readonly leaveDiffering?: boolean;
  /** The name under which the columns are kept for the next time. */
  readonly keptAs?: string | undefined;
  /** No copies of pictures are kept. */
  readonly dryRun?: boolean;
  /** The file as UTF-8 text, where it was something else, or only a part of it is to be recorded. */
  readonly content?: Content;
  /** Told what is being done, as one waits for a long list. */
  readonly progress?: (doing: string) => void;
};

export type Content = {
  readonly bytes: Buffer;
  /** Of the file itself; it is known by that again. Undefined where not all of it is recorded. */
  readonly sha256: string | undefined;
  /** How it was read: the same file may hold several sheets. */
  readonly how: string;
};

export type FileImport = {
  readonly file: string;
  /** How many of each kind were recorded, by the plural that lists use. */
  readonly added: Readonly<Record<string, number>>;
  readonly known: number;
  /** Entries recorded without saying whose they are. */
  readonly unplaced: number;
  /** Lines that one thing alone tells from a recorded one; they were not recorded. */
  readonly differing: readonly DifferingLine[];
  /** This very file was imported before, in the same way. */
  readonly knownFile: boolean;
  readonly notes: readonly string[];
  /** Columns taken for a field by what their headers say. */
  readonly guessed: readonly Guess[];
};

/**
 * Records a file: CSV entries, or JSON Lines. The file's hash is kept, so that the same file is known again.
 * @throws HeldbyError INPUT_FILE, REFERENCE
 */
export function importFile(into: Recording, file: string, workingFolder: string, options: FileOptions): FileImport {
  const name = isStandardInput(file) ? 'standard input' : basename(file);
  const format = formatOf(file, options.format);
  const path = isStandardInput(file) ? 0 : resolve(workingFolder, file);
  const signature = JSON.stringify([
    options.content?.how ?? format,
    options.series ?? null,
    options.service ?? null,
    ...[...options.mapping].sort(),
    ...(Object.keys(into.dates).length === 0 ? [] : [into.dates]),
  ]);
  if (options.content !== undefined)
    return importContent(into, name, format, path, options.content, options, signature);
  if (format === 'csv') {
    const descriptor = openFile(path, file);
    try {
      // A file is read twice where it may be known: once for its hash alone, and then for what it says.
      if (
        typeof path === 'string' &&
        fstatSync(descriptor).isFile() && // a pipe can be read once only
        anySourceFile(into.db) &&
        knownSourceFile(into.db, hashOf(path, file), signature)
      ) {
        return { file: name, added: {}, known: 0, unplaced: 0, differing: [], knownFile: true, notes: [], guessed: [] };
      }
      const isLong = isLongList(path, descriptor);
      const recorded = (): FileImport => {
        if (isLong) options.progress?.(`Reading ${name}`);
        const { list, sha256 } = codedList(into, path, descriptor, isLong, options.mapping);
        return recordList(into, name, list, sha256, options, signature);
      };
      return isLong ? withIndexesLast(into.db, FILLED_BY_LISTS, recorded) : recorded();
    } finally {
      if (descriptor !== 0) closeSync(descriptor);
    }
  }
  const bytes = readAll(path, file);
  const text = bytes.toString('utf8');
  if (text.includes('\ufffd')) refuseEncoding(bytes, text);
  const pictures = { file: typeof path === 'string' ? path : undefined, keep: options.dryRun !== true };
  return recordRecords(into, name, text, createHash('sha256').update(bytes).digest('hex'), signature, pictures);
}

/** The same for a text that was made of the file. */
function importContent(
  into: Recording,
  name: string,
  format: 'csv' | 'jsonl',
  path: string | 0,
  { bytes, sha256 }: Content,
  options: FileOptions,
  signature: string,
): FileImport {
  if (sha256 !== undefined && anySourceFile(into.db) && knownSourceFile(into.db, sha256, signature))
    return { file: name, added: {}, known: 0, unplaced: 0, differing: [], knownFile: true, notes: [], guessed: [] };
  if (format === 'jsonl') {
    const pictures = { file: path === 0 ? undefined : path, keep: options.dryRun !== true };
    return recordRecords(into, name, bytes.toString('utf8'), sha256, signature, pictures);
  }
  let at = 0;
  const list = readCodedList((buffer) => {
    const got = bytes.copy(buffer, 0, at);
    at += got;
    return got;
  }, options.mapping);
  return recordList(into, name, list, sha256, options, signature);
}

function recordList(
  into: Recording,
  name: string,
  list: CodedList,
  sha256: string | undefined,
  options: FileOptions,
  signature: string,
): FileImport {
  if (list.count >= LONG_LIST_LINES) options.progress?.(`Recording ${list.count} lines`);
  const result = importList(into, list, options);
  if (
    sha256 !== undefined &&
    !(options.leaveDiffering && result.differing.length > 0) &&
    result.entries + result.editions + result.people > 0
  )
    addSourceFile(into, { name, sha256, options: signature });
  // A list of rejected lines comes back with the column that says what was wrong.
  const ignored = list.ignored.filter((column) => column !== FAULT_COLUMN);
  const unused = ignored.length > 0 ? [`Columns not used: ${ignored.join(', ')}.`] : [];
  return {
    file: name,
    added: { editions: result.editions, people: result.people, entries: result.entries },
    known: result.known,
    unplaced: result.unplaced,
    differing: result.differing,
    knownFile: false,
    notes: [...guessInWords(list.guessed, options.keptAs), ...result.notes, ...rankNotes(into), ...unused],
    guessed: list.guessed,
  };
}

/** So many ranks are told of which there is something to say. */
const RANKS_TOLD = 10;

function rankNotes({ words }: Recording): readonly string[] {
  const notes = words.rankNotes();
  const more = notes.length - RANKS_TOLD;
  return [
    ...notes.slice(0, RANKS_TOLD),
    ...(more > 0 ? [`… and ${more} more ranks of which there is something to say.`] : []),
  ];
}

function recordRecords(
  into: Recording,
  name: string,
  text: string,
  sha256: string | undefined,
  signature: string,
  pictures: Pictures,
): FileImport {
  const { added, known, unplaced, notes } = importRecords(into, text, pictures);
  if (sha256 !== undefined && added.size > 0) addSourceFile(into, { name, sha256, options: signature });
  return {
    file: name,
    added: Object.fromEntries([...added].map(([type, count]) => [pluralOf(type), count])),
    known,
    unplaced,
    differing: [],
    knownFile: false,
    notes: [...notes, ...(added.size === 0 ? [] : rankNotes(into))],
    guessed: [],
  };
}

/** Where standard input is a socket, it cannot be opened by its name. */
export const isStandardInput = (file: string): boolean => file === '-' || file === '/dev/stdin';

const pluralOf = (type: string): string => findKind(type)?.plural ?? `${type}s`;

export function formatOf(file: string, given: string | undefined): 'csv' | 'jsonl' {
  const ending = (given ?? /\.([a-z]+)$/i.exec(file)?.[1] ?? '').toLowerCase();
  if (['csv', 'tsv', 'txt', 'xlsx'].includes(ending)) return 'csv';
  if (ending === 'jsonl' || ending === 'ndjson') return 'jsonl';
  throw new HeldbyError(
    'USAGE',
    `It is not clear from its name what ${file} holds.`,
    'If it is a file, say --format csv, --format xlsx or --format jsonl.',
  );
}

function openFile(path: string | number, given: string): number {
  if (typeof path === 'number') return path;
  let descriptor: number;
  try {
    descriptor = openSync(path, 'r');
  } catch (error) {
    const missing = error instanceof Error && 'code' in error && error.code === 'ENOENT';
    throw new HeldbyError(
      'INPUT_FILE',
      missing ? `There is no file ${given}.` : `${given} cannot be read.`,
      missing ? 'Look at the name and the folder.' : 'Look at the rights of the file.',
      given,
    );
  }
  if (fstatSync(descriptor).isDirectory()) {
    closeSync(descriptor);
    throw new HeldbyError('INPUT_FILE', `${given} is a folder.`, 'Name a file in it.', given);
  }
  return descriptor;
}

/** A list of so many bytes is coded in a thread of its own; starting one takes longer than to read a shorter one. */
const LONG_LIST_BYTES = 8 << 20;
/** From so many lines on it is told what is being done. */
const LONG_LIST_LINES = 50_000;
/** Tables that a long list fills, beside that of the entries, which is written in its order. */
const FILLED_BY_LISTS = ['printed_name', 'date_expression', 'person'];

const isLongList = (path: string | number, descriptor: number): path is string =>
  typeof path === 'string' && fstatSync(descriptor).size >= LONG_LIST_BYTES;

function codedList(
  into: Recording,
  path: string | number,
  descriptor: number,
  isLong: boolean,
  mapping: ReadonlyMap<ListField, string>,
): { list: CodedList; sha256: string } {
  if (isLong && typeof path === 'string' && availableParallelism() > 1 && canCodeInThread())
    return codeInThread(path, mapping, (field, texts) => readAhead(into, field, texts));
  const source = hashedSource(descriptor);
  const list = readCodedList(source.read, mapping);
  return { list, sha256: source.hash() };
}

/** Looks words up before their rows are known; what is wrong with one is told later, with its line. */
function readAhead({ words }: Recording, field: ListField, texts: readonly string[]): void {
  for (const text of texts) {
    try {
      if (field === 'name') words.name(text);
      else if (field === 'dated') words.date(text);
      else words.corps(text);
    } catch (error) {
      if (!(error instanceof HeldbyError)) throw error;
    }
  }
}

const HASH_BUFFER_BYTES = 1 << 20;

function hashOf(path: string, given: string): string {
  const descriptor = openFile(path, given);
  const source = hashedSource(descriptor);
  const buffer = Buffer.allocUnsafe(HASH_BUFFER_BYTES);
  while (source.read(buffer) > 0);
  closeSync(descriptor);
  return source.hash();
}

/** Standard input can be read once only, and whoever looks what it is leaves it for whoever records it. */
let standardInput: Buffer | undefined;

export function readAll(path: string | number, given: string): Buffer {
  if (path === 0) {
    standardInput ??= readFileSync(0);
    return standardInput;
  }
  const descriptor = openFile(path, given);
  try {
    return readFileSync(descriptor);
  } finally {
    closeSync(descriptor);
  }
}

function refuseEncoding(bytes: Buffer, text: string): void {
  if (Buffer.compare(Buffer.from(text, 'utf8'), bytes) === 0) return;
  const line = text.slice(0, text.indexOf('\ufffd')).split('\n').length;
  throw new HeldbyError(
    'INPUT_FILE',
    `Line ${line} is not UTF-8 text.`,
    'Save the file as UTF-8 and import that; nothing was recorded.',
    `line ${line}`,
  );
}
