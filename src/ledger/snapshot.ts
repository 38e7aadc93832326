import type { Db } from './open.ts';

/**
 * From here on, and until it is closed, the connection sees the ledger as it is now, whatever others record meanwhile:
 * everything that is asked of it belongs to one act.
 */
export function asOfNow(db: Db): void {
  db.exec('BEGIN');
  db.prepare('SELECT max(id) FROM act').get(); // the first reading fixes what is seen
}
