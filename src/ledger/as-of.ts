import { HeldbyError } from '../errors.ts';
import type { Db } from './open.ts';
import { lastActId } from './undo.ts';

/** The number that stands in every view for the last act that counts. */
const NO_LIMIT = '9223372036854775807';

/** From here on this connection sees the ledger as it stood after an act: its views are made again with that limit. */
export function standAsOf(db: Db, act: number): void {
  const last = lastActId(db);
  if (act > last)
    throw new HeldbyError('REFERENCE', `There is no act ${act}; the last is ${last}.`, 'See the acts: heldby history');
  const views = db.prepare("SELECT name, sql FROM main.sqlite_schema WHERE type = 'view' ORDER BY rowid").all() as {
    name: string;
    sql: string;
  }[];
  db.pragma('query_only = OFF'); // views of this connection only, in its own temporary place
  db.exec(
    views
      .map(({ sql }) => `${sql.replace(/^CREATE VIEW/, 'CREATE TEMP VIEW').replaceAll(NO_LIMIT, String(act))};`)
      .join('\n'),
  );
}
