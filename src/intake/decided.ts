import type { Db } from '../ledger/open.ts';
import { importedFrom } from '../ledger/source-files.ts';
import type { Answer, Decision, Decisions } from './decisions.ts';

type Kept = Readonly<Record<string, { readonly answer: Answer; readonly here?: string; readonly made?: string }>>;

/** What was decided when records of a ledger were last brought in: it is not asked again. */
export function rememberedDecisions(db: Db, ledger: string): Map<string, Decision> {
  const remembered = new Map<string, Decision>();
  for (const { decisions } of importedFrom(db, ledger))
    for (const [record, { answer, here, made }] of Object.entries(decisions as Kept))
      remembered.set(record, { answer, here, made, why: undefined });
  return remembered;
}

/**
 * How a file of another ledger was imported, to be kept with its name.
 * @param idOf the id here of a record of the file.
 */
export function keptDecisions(
  ledger: string,
  decisions: Decisions,
  idOf: (record: string) => string | undefined,
): string {
  const kept: Record<string, Kept[string]> = {};
  for (const [record, { answer, here }] of [...decisions].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const made = answer === 'other' ? idOf(record) : undefined;
    kept[record] = { answer, ...(here === undefined ? {} : { here }), ...(made === undefined ? {} : { made }) };
  }
  return JSON.stringify({ ledger, decisions: kept });
}
