import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { LAUNCHER, type Place, type Ran } from '../cli/heldby.ts';

const { HELDBY_LEDGER: _ledger, ...environment } = process.env;
const env = { ...environment, HELDBY_WHO: 'tester' };

function runBy(
  place: Place,
  program: string,
  before: readonly string[],
  words: readonly string[],
  stdout: 'pipe' | number = 'pipe',
): Ran {
  const {
    status,
    stdout: out,
    stderr: err,
  } = spawnSync(program, [...before, process.execPath, LAUNCHER, ...words], {
    cwd: place.folder,
    env,
    encoding: 'utf8',
    stdio: ['ignore', stdout, 'pipe'],
  });
  return { status, out: out ?? '', err };
}

/**
 * Runs the command where no file can grow beyond so many KiB: to SQLite a write that fails, as on a full disk. A limit of
 * the process works everywhere and for everybody, where a small file system of one's own needs an administrator.
 */
export const withoutRoom = (place: Place, kib: number, ...words: string[]): Ran =>
  runBy(place, 'bash', ['-c', `ulimit -f ${kib}; exec "$@"`, 'bash'], words);

/**
 * Runs the command as somebody whom the rights of files bind. An administrator may write what is read-only, so one who
 * runs these tests gives that power up first (setpriv, of util-linux); anybody else needs nothing.
 */
export const boundByRights = (place: Place, ...words: string[]): Ran =>
  process.getuid?.() === 0
    ? runBy(place, 'setpriv', ['--bounding-set', '-dac_override,-dac_read_search'], words)
    : runBy(place, 'env', [], words);

/** Runs the command with its answer going to an open file. */
export const answeringTo = (place: Place, descriptor: number, ...words: string[]): Ran =>
  runBy(place, 'env', [], words, descriptor);

export type Running = {
  readonly child: ChildProcess;
  readonly ended: Promise<Ran & { readonly signal: NodeJS.Signals | null }>;
};

/** Starts the command and leaves it running. */
export function started(place: Place, ...words: string[]): Running {
  const child = spawn(process.execPath, [LAUNCHER, ...words], { cwd: place.folder, env });
  const text = { out: '', err: '' };
  child.stdout.setEncoding('utf8').on('data', (piece: string) => (text.out += piece));
  child.stderr.setEncoding('utf8').on('data', (piece: string) => (text.err += piece));
  child.stdin.on('error', () => {}); // the command may be gone before it has read all
  const ended = new Promise<Ran & { signal: NodeJS.Signals | null }>((resolve) =>
    child.on('close', (status, signal) => resolve({ status, signal, ...text })),
  );
  return { child, ended };
}

export const wait = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

/** A list of so many entries, each of a person of their own. */
export function writeList(place: Place, name: string, entries: number): string {
  const ranks = ['Ensign', 'Lieut.', 'Captain'];
  const letters = 'abcdefghijklmnopqrstuvwxyz';
  const surname = (i: number) => `F${[...String(i % 3001)].map((digit) => letters[Number(digit)]).join('')}rand`;
  const lines = Array.from(
    { length: entries },
    (_, i) =>
      `Annual List,${1800 + (i % 40)},${1800 + (i % 40)},q${i},J. ${surname(i)},${ranks[i % 3]},2nd Fencibles,16 May 1799,${i % 400}`,
  );
  writeFileSync(place.path(name), `series,edition,as_at,person,name,rank,corps,dated,page\n${lines.join('\n')}\n`);
  return name;
}

/** Takes files out of the place, whether they are there or not. */
export function discard(place: Place, ...names: string[]): void {
  for (const name of names) rmSync(place.path(name), { recursive: true, force: true });
}
