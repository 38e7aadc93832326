import type { RecordId } from './evidence.ts';

const isDigit = (code: number): boolean => code >= 48 && code <= 57;

const textOrder = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Ids in the order in which the ledger shows them: by kind, then by number, so that `e9` stands before `e10`. */
export function compareIds(a: RecordId, b: RecordId): number {
  if (a === b) return 0;
  let at = 0;
  for (; at < a.length && at < b.length; at++) {
    const inA = isDigit(a.charCodeAt(at));
    if (inA !== isDigit(b.charCodeAt(at))) return inA ? -1 : 1;
    if (inA) return a.length - b.length || textOrder(a, b);
    if (a.charCodeAt(at) !== b.charCodeAt(at)) return textOrder(a, b);
  }
  return a.length - b.length;
}

/** The same records in the order of their ids; the list itself where it is in that order already. */
export function inOrder<R extends { readonly id: RecordId }>(records: readonly R[]): readonly R[] {
  for (let at = 1; at < records.length; at++) {
    if (compareIds((records[at - 1] as R).id, (records[at] as R).id) > 0) {
      return [...records].sort((a, b) => compareIds(a.id, b.id));
    }
  }
  return records;
}
