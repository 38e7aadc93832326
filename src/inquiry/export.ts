import { contentKey } from '../ledger/content-key.ts';
import { KINDS, type Kind, type KindName, kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { type RecordReader, recordReader, type WholeRecord } from '../ledger/whole-records.ts';

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

/**
 * The keys by which records are known outside this ledger: a record's own, else one made from what it said when it was
 * first recorded, so that neither its number nor a later correction changes it.
 */
function recordKeys(read: RecordReader) {
  const keyOf = new Map<string, string>();
  /** Kinds in which a key is used: a reference to a record of any kind says which is meant where there are several. */
  const kindsOf = new Map<string, Set<KindName>>();
  const keptEntries = referredEntries(read);

  const reference = (id: string, anyKind: KindName | undefined): string => {
    const key = keyOf.get(id) ?? id;
    const shared = anyKind !== undefined && (kindsOf.get(key)?.size ?? 0) > 1;
    return shared ? `${anyKind} ${key}` : key;
  };

  const named = (kind: Kind, record: WholeRecord, without?: KindName): Record<string, unknown> => {
    const fields: Record<string, unknown> = { ...record.fields };
    for (const field of kind.fields) {
      const value = fields[field.name];
      if (typeof value !== 'string') continue;
      if (field.type === 'ref') {
        if (field.to === without) delete fields[field.name];
        else fields[field.name] = reference(value, undefined);
      } else if (field.type === 'any-ref') fields[field.name] = reference(value, kindOfId(value));
    }
    return fields;
  };

  const remember = (kind: Kind, record: WholeRecord, key: string): void => {
    keyOf.set(`${kind.prefix}${record.id}`, key);
    const kinds = kindsOf.get(key);
    if (kinds) kinds.add(kind.kind);
    else kindsOf.set(key, new Set([kind.kind]));
  };

  function* assigned(kind: Kind): Iterable<{ record: WholeRecord; key: string }> {
    const first = new Map([...read.firstOfCorrected(kind)].map((record) => [record.id, record]));
    const taken = new Map<string, number>();
    const keyed = (record: WholeRecord): { record: WholeRecord; key: string } => {
      const wish = record.key ?? contentKey(kind.kind, named(kind, first.get(record.id) ?? record, kind.kind));
      const before = taken.get(wish) ?? 0;
      taken.set(wish, before + 1);
      return { record, key: before === 0 ? wish : `${wish}-${before + 1}` };
    };
    if (kind.kind !== 'entry') {
      // All keys before the first record: a mark may lie over one that was recorded later.
      const all = [...read.current(kind)].map(keyed);
      for (const { record, key } of all) remember(kind, record, key);
      yield* all;
      return;
    }
    for (const record of read.current(kind)) {
      const found = keyed(record);
      if (keptEntries.has(`e${record.id}`)) remember(kind, record, found.key);
      yield found;
    }
  }
  return { assigned, named: (kind: Kind, record: WholeRecord) => named(kind, record) };
}

/** Of millions of entries only the few that something refers to are remembered. */
function referredEntries(read: RecordReader): ReadonlySet<string> {
  const ids = new Set<string>();
  for (const kind of [kindNamed('link'), kindNamed('setAside')]) {
    for (const { fields } of read.current(kind)) ids.add(String(fields[kind.kind === 'link' ? 'entry' : 'record']));
  }
  return ids;
}

const kindOfId = (id: string): KindName | undefined =>
  KINDS.find(({ prefix }) => prefix === /^[a-z]+/.exec(id)?.[0])?.kind;

/** Every field that a record of this kind can be written with, in the order in which they are written. */
export const fieldNames = (type: KindName): string[] =>
  kindNamed(type).fields.flatMap((field) => {
    if (field.type === 'name') return [field.name, 'surname', 'forenames', 'honours', 'suffix'];
    if (field.type === 'date') return [field.name, `${field.name}AsPrinted`];
    return field.type === 'rank' ? [field.name, 'service'] : [field.name];
  });
