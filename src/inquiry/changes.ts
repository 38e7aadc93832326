import { type ChangedRecord, changedRecords } from '../ledger/changed-rows.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord, type ShownRecord } from '../ledger/reading-records.ts';
import { type ActRow, actsNewestFirst } from '../ledger/undo.ts';
import { calledRecord } from './records.ts';

/** What became of a record between two states of the ledger. */
export type RecordChange = {
  readonly id: string;
  readonly type: string;
  readonly called: string;
  readonly change: 'added' | 'gone' | 'changed';
  /** The fields that differ, as texts; null: it said nothing of it. */
  readonly fields: readonly { readonly field: string; readonly before: string | null; readonly after: string | null }[];
};

export type ActSummary = Pick<ActRow, 'id' | 'at' | 'who' | 'command' | 'why'>;

/** A state of the ledger: a connection that sees it as it stood after an act. */
export type LedgerState = { readonly db: Db; readonly act: number };

/** The acts between two states, the earliest first, and every record that differs. */
export function recordChanges(
  before: LedgerState,
  after: LedgerState,
): { acts: ActSummary[]; records: RecordChange[] } {
  const low = Math.min(before.act, after.act);
  const high = Math.max(before.act, after.act);
  const acts = actsNewestFirst(after.db, Number.MAX_SAFE_INTEGER)
    .filter(({ id }) => id > low && id <= high)
    .map(({ id, at, who, command, why }) => ({ id, at, who, command, why }))
    .reverse();
  const records = changedRecords(after.db, low, high).flatMap((each) => recordChange(before, after, each));
  return { acts, records };
}

function recordChange(before: LedgerState, after: LedgerState, { kind, id }: ChangedRecord): RecordChange[] {
  const then = readRecord(before.db, kind, id);
  const now = readRecord(after.db, kind, id);
  const known = now ?? then;
  if (known === undefined) return [];
  const fields = changedFields(then, now);
  if (then !== undefined && now !== undefined && fields.length === 0) return [];
  return [
    {
      id: known.id,
      type: kind.kind,
      called: calledRecord(now === undefined ? before.db : after.db, kind, known),
      change: then === undefined ? 'added' : now === undefined ? 'gone' : 'changed',
      fields: then === undefined || now === undefined ? [] : fields,
    },
  ];
}

function changedFields(then: ShownRecord | undefined, now: ShownRecord | undefined): RecordChange['fields'] {
  const names = new Set([...Object.keys(then?.fields ?? {}), ...Object.keys(now?.fields ?? {})]);
  return [...names].flatMap((field) => {
    const before = said(then?.fields[field]);
    const after = said(now?.fields[field]);
    return before === after ? [] : [{ field, before, after }];
  });
}

const said = (value: unknown): string | null =>
  value === undefined || value === null ? null : Array.isArray(value) ? value.join('; ') : String(value);
