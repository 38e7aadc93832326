import type { Field, Kind } from '../ledger/kind.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import type { Recording } from '../ledger/recording.ts';
import type { ForeignLine } from './foreign-lines.ts';

/** In which fields a line of the file says otherwise than the record here: `is o1, Iron kettle, but title: here …`. */
export function saysOtherwise(into: Recording, line: ForeignLine, here: string, fields: readonly Field[]): string {
  const id = Number(here.slice(line.kind.prefix.length));
  const shown = readRecord(into.db, line.kind, id)?.fields ?? {};
  const said = fields.map(
    ({ name, otherwise }) =>
      `${name}: here ${inWords(shown[name] ?? otherwise)}, in the file ${inWords(line.draft[name] ?? otherwise)}`,
  );
  return `is ${named(into.db, line.kind, id)}, but ${said.join('; ')}`;
}

export const inWords = (value: unknown): string =>
  value === undefined || value === null ? 'nothing' : `"${Array.isArray(value) ? value.join('; ') : String(value)}"`;

/** `p12, Julian Ferrand`. */
export function named(db: Db, kind: Kind, id: number): string {
  const { fields } = readRecord(db, kind, id) ?? { fields: {} as Record<string, unknown> };
  const title = ['title', 'label', 'name', 'text', 'event', 'surname'].map((name) => fields[name]).find(Boolean);
  return `${kind.prefix}${id}${title === undefined ? '' : `, ${title}`}`;
}
