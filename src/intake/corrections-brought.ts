import type { Differences } from '../ledger/differences.ts';
import type { Field, Kind } from '../ledger/kind.ts';
import { idsOf } from '../ledger/naming.ts';
import type { Draft, Recording } from '../ledger/recording.ts';
import { currentRow, hasSaid } from '../ledger/records.ts';
import type { Cells } from './foreign-lines.ts';

/** What the record here said itself before it was corrected is no difference. */
export const sinceCorrected = (
  into: Recording,
  kind: Kind,
  id: number,
  draft: Draft,
  found: Differences,
): Differences => ({
  ...found,
  otherwise: found.otherwise.filter((field) => !hasSaid(into, kind, id, changeOf([field], draft, {}))),
});

const NAME_PARTS = ['surname', 'forenames', 'honours', 'suffix'];

/** The part of a draft that says these fields. */
export function changeOf(fields: readonly Field[], draft: Draft, current: Cells): Draft {
  const change: Record<string, unknown> = {};
  for (const field of fields) {
    const names = [
      field.name,
      ...(field.type === 'name' ? NAME_PARTS : []),
      ...(field.type === 'date' ? [`${field.name}AsPrinted`] : []),
      ...(field.type === 'rank' ? ['service'] : []),
    ];
    for (const name of names) if (draft[name] !== undefined) change[name] = draft[name];
    const mine = current[field.column];
    if (field.type === 'texts' && typeof mine === 'string')
      change[field.name] = [...new Set([...(JSON.parse(mine) as string[]), ...(draft[field.name] as string[])])];
  }
  return change;
}

/** Another object of the same reference gets a reference of its own. */
export function withFreeReference({ db }: Recording, kind: Kind, draft: Draft): Draft {
  if (kind.kind !== 'object') return draft;
  const refs = new Set(idsOf(db, 'object').map((id) => String(currentRow(db, kind, id)?.['ref'])));
  let number = 2;
  while (refs.has(`${draft['ref']}-${number}`)) number += 1;
  return { ...draft, ref: `${draft['ref']}-${number}` };
}
