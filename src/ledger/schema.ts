import { createHash } from 'node:crypto';
import type { Database } from 'better-sqlite3';
import { HeldbyError } from '../errors.ts';

/** What the tables, views, indexes and triggers of each format hash to; a test makes them anew from the migrations. */
const FORMATS: Readonly<Record<number, string>> = {
  1: 'be4e002a847ac1e7dabcfee96ea4c5008b9beeae1df41c20a36127a91e9b76f8',
};

/** SHA-256 over everything that the file declares, but what SQLite keeps for itself. */
function schemaMark(db: Database): string {
  const rows = db
    .prepare(
      "SELECT type, name, tbl_name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY type, name",
    )
    .raw()
    .all();
  return createHash('sha256').update(JSON.stringify(rows)).digest('hex');
}

/** Whether the file declares anything but what the migrations of its format did. */
export function isForeignSchema(db: Database): boolean {
  const wanted = FORMATS[db.pragma('user_version', { simple: true }) as number];
  return wanted !== undefined && schemaMark(db) !== wanted;
}

/**
 * Nothing that somebody else put into a ledger is run: a trigger, a view or a column that no migration made is refused.
 * @throws HeldbyError LEDGER_DAMAGED
 */
export function refuseForeignSchema(db: Database, file: string): void {
  if (!isForeignSchema(db)) return;
  throw new HeldbyError(
    'LEDGER_DAMAGED',
    `${file} holds tables, views or triggers other than heldby made: it was changed by another program.`,
    'Nothing of it was run. Go back to a backup, or ask whoever sent it for heldby export --all --acts.',
  );
}
