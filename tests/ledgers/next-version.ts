import { spawn, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import * as rolldown from 'rolldown';
import { LATEST_MIGRATION } from '../../src/ledger/migrate.ts';
import type { Place, Ran } from '../cli/heldby.ts';

const ROOT = resolve(import.meta.dirname, '../..');
export const NEXT = LATEST_MIGRATION + 1;

/**
 * The program as its next version will be, with one migration more: what happens to the ledgers of today then is seen
 * before it happens. It is built once, and put into the place with the migration given.
 */
export async function nextVersion(place: Place, migration: string) {
  built ??= build();
  const home = place.path('next');
  rmSync(home, { recursive: true, force: true });
  for (const name of ['migrations', 'package.json']) cpSync(join(ROOT, name), join(home, name), { recursive: true });
  symlinkSync(join(ROOT, 'node_modules'), join(home, 'node_modules'));
  writeFileSync(join(home, 'migrations', `${String(NEXT).padStart(4, '0')}-next.sql`), migration);
  mkdirSync(join(home, 'dist'));
  writeFileSync(join(home, 'dist/heldby.cjs'), await built);
  const launcher = join(home, 'heldby.cjs');
  writeFileSync(launcher, "require('./dist/heldby.cjs').main().then(() => process.exit());");
  const environment = { ...process.env, HELDBY_LEDGER: '', HELDBY_WHO: 'tester' };
  return {
    run(...words: string[]): Ran {
      const { status, stdout, stderr } = spawnSync(process.execPath, [launcher, ...words], {
        cwd: place.folder,
        env: environment,
        encoding: 'utf8',
      });
      return { status, out: stdout, err: stderr };
    },
    start: (...words: string[]) =>
      spawn(process.execPath, [launcher, ...words], { cwd: place.folder, env: environment, stdio: 'ignore' }),
  };
}

let built: Promise<string> | undefined;

async function build(): Promise<string> {
  const { output } = await rolldown.build({
    input: { heldby: join(ROOT, 'src/cli/main.ts') },
    platform: 'node',
    external: ['better-sqlite3'],
    plugins: [
      {
        name: 'next-version',
        transform: (code, id) =>
          id.endsWith('/ledger/migrate.ts')
            ? code.replace(`MIGRATION = ${LATEST_MIGRATION};`, `MIGRATION = ${NEXT};`)
            : null,
      },
    ],
    output: { format: 'cjs', codeSplitting: false },
    write: false,
  });
  return output[0].code;
}
