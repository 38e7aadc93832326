import type { Kind, KindName } from '../ledger/kind.ts';
import { KINDS, kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { type RecordReader, recordReader, type WholeRecord } from '../ledger/whole-records.ts';
import { keyBook } from './export-keys.ts';

/** A record as it is written for others: known by its key, and naming other records by theirs. */
export type ExportedRecord = {
  readonly type: KindName;
  readonly key: string;
  readonly fields: Readonly<Record<string, unknown>>;
};

/** Every kind of record, what is referred to before what refers to it; what may refer to anything stands last. */
export function exportOrder(): readonly KindName[] {
  const ordered = new Set<KindName>();
  const visit = (kind: Kind): void => {
    if (ordered.has(kind.kind)) return;
    for (const field of kind.fields) {
      const to = field.type === 'ref' ? [field.to] : field.type === 'any-ref' && field.to !== 'all' ? field.to : [];
      for (const other of to) if (other !== kind.kind) visit(kindNamed(other));
    }
    ordered.add(kind.kind);
  };
  const refersToAll = (kind: Kind): boolean =>
    kind.fields.some((field) => field.type === 'any-ref' && field.to === 'all');
  for (const kind of KINDS.filter((each) => !refersToAll(each))) visit(kind);
  for (const kind of KINDS) visit(kind);
  return [...ordered];
}

/** Everything that is current of these kinds, in an order that can be read again from top to bottom. */
export function* exportedRecords(db: Db, wanted: readonly KindName[] = exportOrder()): Iterable<ExportedRecord> {
  const read = recordReader(db);
  const keys = recordKeys(read);
  const needed = withReferences(wanted);
  for (const name of exportOrder()) {
    if (!needed.has(name)) continue;
    const kind = kindNamed(name);
    for (const { record, key } of keys.assigned(kind)) {
      if (wanted.includes(name)) yield { type: name, key, fields: keys.named(kind, record) };
    }
  }
}

/** The key of each current record of these kinds, by its id. */
export function exportedKeys(db: Db, wanted: readonly KindName[]): ReadonlyMap<string, string> {
  const keys = recordKeys(recordReader(db));
  const needed = withReferences(wanted);
  const found = new Map<string, string>();
  for (const name of exportOrder()) {
    if (!needed.has(name)) continue;
    const kind = kindNamed(name);
    for (const { record, key } of keys.assigned(kind)) found.set(`${kind.prefix}${record.id}`, key);
  }
  return found;
}

/** The kinds with all that they refer to. */
function withReferences(wanted: readonly KindName[]): ReadonlySet<KindName> {
  const needed = new Set<KindName>(wanted);
  for (const name of needed) {
    for (const field of kindNamed(name).fields) {
      if (field.type === 'ref') needed.add(field.to);
      if (field.type !== 'any-ref') continue;
      for (const other of field.to === 'all' ? exportOrder() : field.to) needed.add(other);
    }
  }
  return needed;
}

/** The keys of what is current, kind by kind. */
function recordKeys(read: RecordReader) {
  const book = keyBook();
  const keptEntries = referredEntries(read);

  function* assigned(kind: Kind): Iterable<{ record: WholeRecord; key: string }> {
    const first = new Map([...read.firstOfCorrected(kind)].map((record) => [record.id, record]));
    const keyed = (record: WholeRecord): { record: WholeRecord; key: string } => ({
      record,
      key: book.make(kind, record, first.get(record.id) ?? record),
    });
    if (kind.kind !== 'entry') {
      // All keys before the first record: a mark may lie over one that was recorded later.
      const all = [...read.current(kind)].map(keyed);
      for (const { record, key } of all) book.remember(kind, record.id, key);
      yield* all;
      return;
    }
    for (const record of read.current(kind)) {
      const found = keyed(record);
      if (keptEntries.has(`e${record.id}`)) book.remember(kind, record.id, found.key);
      yield found;
    }
  }
  return { assigned, named: book.named };
}

/** Of millions of entries only the few that something refers to are remembered. */
function referredEntries(read: RecordReader): ReadonlySet<string> {
  const ids = new Set<string>();
  for (const kind of [kindNamed('link'), kindNamed('setAside')]) {
    for (const { fields } of read.current(kind)) ids.add(String(fields[kind.kind === 'link' ? 'entry' : 'record']));
  }
  return ids;
}

/** Every field that a record of this kind can be written with, in the order in which they are written. */
export const fieldNames = (type: KindName): string[] =>
  kindNamed(type).fields.flatMap((field) => {
    if (field.type === 'name') return [field.name, 'surname', 'forenames', 'honours', 'suffix'];
    if (field.type === 'date') return [field.name, `${field.name}AsPrinted`];
    return field.type === 'rank' ? [field.name, 'service'] : [field.name];
  });
