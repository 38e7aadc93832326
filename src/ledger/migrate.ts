import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Database } from 'better-sqlite3';

/** The number of the last file in migrations/; a test holds the two together. */
export const LATEST_MIGRATION = 1;

/** Brings a ledger to the present format, one numbered file after another, each in one transaction with its number. */
export function migrate(db: Database): void {
  const version = () => db.pragma('user_version', { simple: true }) as number;
  if (version() >= LATEST_MIGRATION) return;
  for (const { number, sql } of migrations()) {
    db.transaction(() => {
      // Asked again inside: another program may have been quicker.
      if (number <= version()) return;
      db.exec(sql);
      db.pragma(`user_version = ${number}`);
    }).immediate();
  }
}

/** The migrations in their order, as text. */
export function migrations(): { number: number; sql: string }[] {
  const folder = migrationsFolder();
  return readdirSync(folder)
    .filter((name) => /^\d{4}-.*\.sql$/.test(name))
    .sort()
    .map((name) => ({ number: Number(name.slice(0, 4)), sql: readFileSync(join(folder, name), 'utf8') }));
}

/** Beside package.json, however deep the running file lies below it. */
function migrationsFolder(): string {
  for (let folder = dirname(fileURLToPath(import.meta.url)); dirname(folder) !== folder; folder = dirname(folder)) {
    if (existsSync(join(folder, 'package.json'))) return join(folder, 'migrations');
  }
  throw new Error('migrations/ is missing from the installation');
}
