import { actsInOrder, filesOf, type Replacement, replacedBy } from '../ledger/act-contents.ts';
import type { Kind } from '../ledger/kind.ts';
import { KINDS } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { lastActId } from '../ledger/undo.ts';
import { recordReader, type WholeRecord } from '../ledger/whole-records.ts';
import { exportOrder } from './export.ts';
import { growingKeys } from './export-keys.ts';

/** A line of a history: an act, or something that the act before it recorded, corrected or withdrew. */
export type HistoryLine = { readonly type: string } & Readonly<Record<string, unknown>>;

/**
 * The whole history, act by act: who, when, with which command and why, what each recorded first, what it corrected
 * (field by field, with the value as it then stood) and what it withdrew; also acts that were undone. Read into an empty
 * ledger it makes the same acts with the same numbers; their seals are made anew, because they hash the rows of a file.
 */
export function* historyLines(db: Db, asOf: number | undefined): Iterable<HistoryLine> {
  const read = recordReader(db);
  const keys = growingKeys();
  const order = exportOrder();
  for (const act of actsInOrder(db, asOf ?? lastActId(db))) {
    const { id, ...head } = act;
    const files = filesOf(db, id);
    yield { type: 'act', act: id, ...head, ...(files.length === 0 ? {} : { files }) };
    const later = new Map<string, WholeRecord>();
    for (const record of read.ofAct(id, order)) {
      if (record.row === record.id) yield keys.first(record);
      else later.set(`${tableOf(record)} ${record.row}`, record);
    }
    for (const replacement of replacedBy(db, id)) yield* correction(replacement, later, read, keys);
  }
}

const tableOf = ({ kind }: WholeRecord): string => KINDS.find((each) => each.kind === kind)?.table ?? '';

function* correction(
  { table, target, successor, why }: Replacement,
  later: ReadonlyMap<string, WholeRecord>,
  read: ReturnType<typeof recordReader>,
  keys: ReturnType<typeof growingKeys>,
): Iterable<HistoryLine> {
  const kind = KINDS.find((each) => each.table === table);
  const before = kind && read.version(kind, target);
  if (kind === undefined || before === undefined) return;
  const record = keys.naming(kind, before.id);
  if (successor === null) {
    yield { type: 'withdrawal', record, ...(why === null ? {} : { why }) };
    return;
  }
  const after = later.get(`${table} ${successor}`);
  if (after === undefined) return;
  for (const { name, type } of changedFields(kind, before, after)) {
    const said = keys.fields(kind, after);
    const value = type === 'name' ? nameParts(said, name) : (said[name] ?? null);
    const printed = said[`${name}AsPrinted`];
    yield {
      type: 'amendment',
      record,
      field: name,
      value,
      ...(printed === undefined ? {} : { asPrinted: printed }),
      ...(why === null ? {} : { why }),
    };
  }
}

const PARTS = ['surname', 'forenames', 'honours', 'suffix'];

/** Fields of which a correction says something else; the parts of a name and the service of a rank belong to theirs. */
const changedFields = (kind: Kind, before: WholeRecord, after: WholeRecord) =>
  kind.fields.filter(({ name, type }) => {
    const names = [
      name,
      `${name}AsPrinted`,
      ...(type === 'name' ? PARTS : []),
      ...(type === 'rank' ? ['service'] : []),
    ];
    return names.some((each) => JSON.stringify(before.fields[each]) !== JSON.stringify(after.fields[each]));
  });

/** A name with its parts as they were told apart, so that reading it again cannot take it otherwise. */
const nameParts = (said: Readonly<Record<string, unknown>>, name: string): Readonly<Record<string, unknown>> => ({
  printed: said[name],
  ...Object.fromEntries(PARTS.map((part) => [part, said[part] ?? null])),
});
