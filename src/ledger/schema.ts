import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { HeldbyError } from '../errors.ts';
import { LATEST_MIGRATION, migrations } from './migrate.ts';

/** Everything that a file declares, but what SQLite keeps for itself. */
const declaredIn = (db: Database.Database): string =>
  db
    .prepare(`
      SELECT json_group_array(json_array(type, name, tbl_name, sql)) FROM (
        SELECT type, name, tbl_name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\'
        ORDER BY type, name)`)
    .pluck()
    .get() as string;

function madeAnew(format: number): string {
  const db = new Database(':memory:');
  for (const { number, sql } of migrations()) if (number <= format) db.exec(sql);
  const declared = declaredIn(db);
  db.close();
  return declared;
}

const keptName = (format: number): string => `schema-${format}.json`;

/** Called by the build, which keeps what the present format declares beside the program: a question has no time to make it. */
export const keepSchema = (folder: string): void =>
  writeFileSync(join(folder, keptName(LATEST_MIGRATION)), madeAnew(LATEST_MIGRATION));

/** What the migrations up to a format declare. */
function declaredBy(format: number): string {
  try {
    return readFileSync(join(import.meta.dirname, keptName(format)), 'utf8');
  } catch {
    return madeAnew(format); // an older format, or the sources run as they are
  }
}

/**
 * What the file declares otherwise than the migrations of its format did, or does not declare: `trigger evil`. A file
 * without a format has no tables yet.
 */
export function foreignIn(db: Database.Database): string[] {
  const [there, made] = [declaredIn(db), declaredBy(db.pragma('user_version', { simple: true }) as number)];
  if (there === made) return [];
  const [ours, theirs] = [made, there].map((text) =>
    (JSON.parse(text) as string[][]).map((each) => JSON.stringify(each)),
  );
  const other = [
    ...(theirs ?? []).filter((each) => !ours?.includes(each)),
    ...(ours ?? []).filter((each) => !theirs?.includes(each)),
  ];
  return [...new Set(other.map((each) => (JSON.parse(each) as string[]).slice(0, 2).join(' ')))];
}

/**
 * Nothing that somebody else put into a ledger is run: a trigger, a view or a column that no migration made is refused.
 * @throws HeldbyError LEDGER_DAMAGED
 */
export function refuseForeignSchema(db: Database.Database, file: string): void {
  if (foreignIn(db).length === 0) return;
  throw new HeldbyError(
    'LEDGER_DAMAGED',
    `${file} holds tables, views or triggers other than heldby made: it was changed by another program.`,
    'Nothing of it was run. Go back to a backup, or ask whoever sent it for heldby export --all --acts.',
  );
}
