import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Database } from 'better-sqlite3';
import { copyBeforeFormat } from './before-upgrade.ts';

/** The number of the last file in migrations/; a test holds the two together. */
export const LATEST_MIGRATION = 3;

type Migration = { readonly number: number; readonly sql: string };

/**
 * Brings a ledger to the present format, one numbered file after another, all in one transaction with their number. Of a
 * ledger that holds anything a copy is made first, while nobody else can write.
 * @returns the name of that copy, if one was made.
 */
export function migrate(db: Database, folder?: string): string | undefined {
  const latest = folder === undefined ? LATEST_MIGRATION : (migrations(folder).at(-1)?.number ?? 0);
  const version = () => db.pragma('user_version', { simple: true }) as number;
  if (version() >= latest) return undefined;
  return db
    .transaction(() => {
      // Asked again inside: another program may have been quicker.
      const before = version();
      if (before >= latest) return undefined;
      const copy = before === 0 || db.memory ? undefined : copyBeforeFormat(db.name, latest);
      for (const { number, sql } of migrations(folder)) if (number > before) db.exec(sql);
      db.pragma(`user_version = ${latest}`);
      return copy;
    })
    .immediate();
}

/** The migrations in their order, as text. */
export function migrations(folder: string = migrationsFolder()): readonly Migration[] {
  return readdirSync(folder)
    .filter((name) => /^\d{4}-.*\.sql$/.test(name))
    .sort()
    .map((name) => ({ number: Number(name.slice(0, 4)), sql: readFileSync(join(folder, name), 'utf8') }));
}

/** Beside package.json, however deep the running file lies below it. */
function migrationsFolder(): string {
  for (let folder = import.meta.dirname; dirname(folder) !== folder; folder = dirname(folder)) {
    if (existsSync(join(folder, 'package.json'))) return join(folder, 'migrations');
  }
  throw new Error('migrations/ is missing from the installation');
}
