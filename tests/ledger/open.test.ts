import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { kindNamed } from '../../src/ledger/kinds.ts';
import { LATEST_MIGRATION } from '../../src/ledger/migrate.ts';
import { closeLedger, createLedger, findLedger, inWords, openLedger } from '../../src/ledger/open.ts';
import { addRecord } from '../../src/ledger/records.ts';
import { inOneAct } from './new-ledger.ts';

let folder: string;
let ledger: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'heldby-open-'));
  ledger = join(folder, 'heldby.sqlite');
  createLedger(ledger);
});
afterEach(() => {
  chmodSync(folder, 0o700);
  rmSync(folder, { recursive: true, force: true });
});

const changed = (name: string, change: (file: string) => void): string => {
  const file = join(folder, name);
  copyFileSync(ledger, file);
  change(file);
  return file;
};
const withPragma = (pragma: string) => (file: string) => {
  const db = new Database(file);
  db.pragma(pragma);
  db.close();
};

describe('what is no ledger is refused, for asking and for recording, and left as it was', () => {
  test.each<[what: string, code: string, make: () => string]>([
    ['a folder', 'LEDGER_DAMAGED', () => folder],
    ['a text file', 'LEDGER_DAMAGED', () => changed('text', (file) => writeFileSync(file, 'name,rank\n'))],
    ['an empty file', 'LEDGER_DAMAGED', () => changed('empty', (file) => writeFileSync(file, ''))],
    ['a file of another program', 'LEDGER_DAMAGED', () => changed('other', withPragma('application_id = 1'))],
    [
      'a ledger of a newer program',
      'LEDGER_NEWER',
      () => changed('newer', withPragma(`user_version = ${LATEST_MIGRATION + 1}`)),
    ],
    ['a ledger that was cut off', 'LEDGER_DAMAGED', () => changed('short', (file) => truncateSync(file, 20_000))],
    [
      'the head of a ledger and nothing else',
      'LEDGER_DAMAGED',
      () => changed('head', (file) => truncateSync(file, 16)),
    ],
  ])('%s', (_what, code, make) => {
    const file = make();
    const bytes = () => (file === folder ? '' : readFileSync(file).toString('latin1'));
    const before = bytes();
    for (const mode of ['read', 'record'] as const)
      expect(() => openLedger(file, mode)).toThrow(
        expect.objectContaining({ code, message: expect.stringContaining(file), hint: expect.stringMatching(/\w/) }),
      );
    expect(bytes()).toBe(before);
  });

  test('a refusal leaves no file beside it', () => {
    const file = changed('newer', withPragma('user_version = 99'));
    for (const mode of ['read', 'record'] as const) expect(() => openLedger(file, mode)).toThrow();
    expect([existsSync(`${file}-wal`), existsSync(`${file}-shm`)]).toEqual([false, false]);
  });
});

describe('which ledger', () => {
  test('the one named, else that of the environment, else the nearest in or above the folder', () => {
    const inner = join(folder, 'a', 'b');
    mkdirSync(inner, { recursive: true });
    const other = changed('other.sqlite', () => {});
    expect(findLedger(undefined, undefined, inner)).toBe(ledger);
    expect(findLedger(undefined, '', inner)).toBe(ledger);
    expect(findLedger(undefined, other, inner)).toBe(other);
    expect(findLedger('../../heldby.sqlite', other, inner)).toBe(ledger);
    const nearer = join(folder, 'a', 'heldby.sqlite');
    copyFileSync(ledger, nearer);
    expect(findLedger(undefined, undefined, inner)).toBe(nearer);
  });

  test('one that is named and not there is not looked for elsewhere', () => {
    for (const [named, environment] of [
      ['no.sqlite', undefined],
      [undefined, 'no.sqlite'],
    ] as const)
      expect(() => findLedger(named, environment, folder)).toThrow(
        expect.objectContaining({ code: 'NO_LEDGER', hint: expect.stringContaining('heldby init no.sqlite') }),
      );
  });
});

describe('a new ledger', () => {
  test('is never made over a file', () =>
    expect(() => createLedger(ledger)).toThrow(expect.objectContaining({ code: 'CONFLICT' })));
  test('a pipe is none, and is not waited at', () => {
    execFileSync('mkfifo', [join(folder, 'pipe')]);
    expect(() => openLedger(join(folder, 'pipe'), 'read')).toThrow('no ordinary file');
  });
  test('needs its folder', () =>
    expect(() => createLedger(join(folder, 'no', 'x.sqlite'))).toThrow(
      expect.objectContaining({ code: 'CANNOT_WRITE' }),
    ));
  test('writes ahead, every commit on the disk, with foreign keys', () => {
    const db = openLedger(ledger, 'record');
    expect(['journal_mode', 'synchronous', 'foreign_keys'].map((name) => db.pragma(name, { simple: true }))).toEqual([
      'wal',
      2,
      1,
    ]);
    closeLedger(db);
    expect(existsSync(`${ledger}-wal`)).toBe(false);
  });
  test('opened to be asked takes nothing', () => {
    const db = openLedger(ledger, 'read');
    expect(() => db.exec("INSERT INTO act VALUES (1, '', '', '', '', '', NULL)")).toThrow('readonly');
    closeLedger(db);
  });
});

test('a question sees one state of the ledger from its first word to its last', () => {
  const asked = openLedger(ledger, 'read');
  const another = openLedger(ledger, 'record');
  const count = (): unknown => asked.prepare('SELECT count(*) FROM act').pluck().get();
  expect(count()).toBe(0);
  inOneAct(another, (into) => addRecord(into, kindNamed('service'), { name: 'lighthouses' }));
  expect(count()).toBe(0);
  closeLedger(another);
  closeLedger(asked);
  const later = openLedger(ledger, 'read');
  expect(later.prepare('SELECT count(*) FROM act').pluck().get()).toBe(1);
  closeLedger(later);
});

test('a ledger is left as one file, also when it was only asked', () => {
  const db = openLedger(ledger, 'read');
  db.prepare('SELECT count(*) FROM current_person').get();
  closeLedger(db);
  expect([existsSync(`${ledger}-wal`), existsSync(`${ledger}-shm`)]).toEqual([false, false]);
});

describe('what SQLite or the system reports is said in words', () => {
  test.each<[sqlite: string, code: string]>([
    ['SQLITE_BUSY', 'LEDGER_LOCKED'],
    ['SQLITE_BUSY_SNAPSHOT', 'LEDGER_LOCKED'],
    ['SQLITE_FULL', 'CANNOT_WRITE'],
    ['SQLITE_IOERR_WRITE', 'CANNOT_WRITE'],
    ['SQLITE_IOERR_FSYNC', 'CANNOT_WRITE'],
    ['SQLITE_READONLY', 'CANNOT_WRITE'],
    ['EROFS', 'CANNOT_WRITE'],
    ['EIO', 'CANNOT_WRITE'],
    ['ENOSPC', 'CANNOT_WRITE'],
    ['SQLITE_CANTOPEN', 'CANNOT_WRITE'],
    ['SQLITE_CORRUPT', 'LEDGER_DAMAGED'],
    ['SQLITE_NOTADB', 'LEDGER_DAMAGED'],
  ])('%s', (sqlite, code) => {
    const error = Object.assign(new Error('as SQLite puts it'), { code: sqlite });
    expect(inWords(error, 'file')).toMatchObject({ code, message: expect.not.stringContaining('as SQLite puts it') });
  });
  test('anything else is left as it is', () => {
    const error = new TypeError('a defect');
    expect(inWords(error, 'file')).toBe(error);
  });
});
