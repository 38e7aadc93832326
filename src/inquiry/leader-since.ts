import { standAsOf } from '../ledger/as-of.ts';
import { openLedger } from '../ledger/open.ts';
import { actsNewestFirst } from '../ledger/undo.ts';
import type { ActSummary, LedgerState } from './changes.ts';
import { lotsInOrder, reportOf } from './report.ts';

/**
 * The act with which the leader of a mark became the one that the later state has, found by halving the acts between two
 * states. Where the lead went to and fro, it is one of the acts that gave it to that person.
 * @param leader nobody where none is told, since nobody fits any more.
 * @returns null where the later state is not the later one, or the ledger is in memory only.
 */
export function leaderSince(
  before: LedgerState,
  after: LedgerState,
  lot: string,
  mark: string,
  leader: string | undefined,
): ActSummary | null {
  if (after.db.memory || before.act >= after.act) return null;
  let [without, by] = [before.act, after.act];
  while (by - without > 1) {
    const middle = Math.floor((without + by) / 2);
    if (leaderAt(after.db.name, middle, lot, mark) === leader) by = middle;
    else without = middle;
  }
  const act = actsNewestFirst(after.db, Number.MAX_SAFE_INTEGER).find(({ id }) => id === by);
  if (act === undefined) return null;
  const { id, at, who, command, why } = act;
  return { id, at, who, command, why };
}

function leaderAt(file: string, act: number, lot: string, mark: string): string | undefined {
  const db = openLedger(file, 'read');
  try {
    standAsOf(db, act);
    if (!lotsInOrder(db).includes(lot)) return undefined;
    return reportOf(db, lot, act).marks.find(({ id }) => id === mark)?.candidates?.candidates[0]?.person.id;
  } finally {
    db.close();
  }
}
