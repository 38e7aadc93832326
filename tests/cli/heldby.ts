import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

export const LAUNCHER = resolve(import.meta.dirname, '../../bin/heldby.js');

export type Ran = { readonly status: number | null; readonly out: string; readonly err: string };

/** A folder of its own, and the real command run in it. */
export type Place = {
  readonly folder: string;
  readonly path: (name: string) => string;
  /** Runs the built command as a user would, without a terminal. */
  run(...words: string[]): Ran;
  with(options: { env?: Record<string, string>; input?: string | Buffer }, ...words: string[]): Ran;
  /** Runs it, expects status 0, and reads its JSON. */
  // biome-ignore lint/suspicious/noExplicitAny: answers are looked into freely
  json(...words: string[]): any;
  remove(): void;
};

export function makePlace(): Place {
  const folder = mkdtempSync(join(tmpdir(), 'heldby-test-'));
  const { HELDBY_LEDGER: _ledger, FORCE_COLOR: _force, NO_COLOR: _no, ...env } = process.env;
  const runWith: Place['with'] = (options, ...words) => {
    const { status, stdout, stderr } = spawnSync(process.execPath, [LAUNCHER, ...words], {
      cwd: folder,
      env: { ...env, HELDBY_WHO: 'tester', ...options.env },
      input: options.input ?? '',
      encoding: 'utf8',
      maxBuffer: 1 << 28,
    });
    return { status, out: stdout, err: stderr };
  };
  const run: Place['run'] = (...words) => runWith({}, ...words);
  return {
    folder,
    path: (name) => join(folder, name),
    run,
    with: runWith,
    json(...words) {
      const ran = run(...words, '--json');
      if (ran.status !== 0) throw new Error(`heldby ${words.join(' ')} ended with ${ran.status}: ${ran.err}`);
      return JSON.parse(ran.out);
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
