import { contentKey, isContentKey } from '../ledger/content-key.ts';
import type { Kind, KindName } from '../ledger/kind.ts';
import { KINDS, kindNamed } from '../ledger/kinds.ts';
import type { WholeRecord } from '../ledger/whole-records.ts';

/**
 * The keys by which records are known outside this ledger: a record's own, else one made from what it said when it was
 * first recorded, so that neither its number nor a later correction changes it.
 */
export function keyBook() {
  const keyOf = new Map<string, string>();
  /** Kinds in which a key is used: a reference to a record of any kind says which is meant where there are several. */
  const kindsOf = new Map<string, Set<KindName>>();
  const taken = new Map<string, number>();

  const reference = (id: string, anyKind: KindName | undefined): string => {
    const key = keyOf.get(id) ?? id;
    const shared = anyKind !== undefined && (kindsOf.get(key)?.size ?? 0) > 1;
    return shared ? `${anyKind} ${key}` : key;
  };

  /** The fields of a record with the keys of what it refers to. */
  const named = (kind: Kind, record: WholeRecord): Record<string, unknown> => {
    const fields: Record<string, unknown> = { ...record.fields };
    for (const field of kind.fields) {
      const value = fields[field.name];
      if (typeof value !== 'string') continue;
      if (field.type === 'ref') fields[field.name] = reference(value, undefined);
      else if (field.type === 'any-ref') fields[field.name] = reference(value, kindOfId(value));
    }
    return fields;
  };

  return {
    named,
    reference,
    /** A key for a record that nobody else of its kind has. `first`: the record as it was first recorded. */
    make: (kind: Kind, { key }: WholeRecord, first: WholeRecord): string => {
      const wish = key ?? contentKey(kind, named(kind, first));
      const before = taken.get(`${kind.kind} ${wish}`) ?? 0;
      taken.set(`${kind.kind} ${wish}`, before + 1);
      return before === 0 ? wish : `${wish}-${before + 1}`;
    },
    remember: (kind: Kind, id: number, key: string): void => {
      keyOf.set(`${kind.prefix}${id}`, key);
      const kinds = kindsOf.get(key);
      if (kinds) kinds.add(kind.kind);
      else kindsOf.set(key, new Set([kind.kind]));
    },
  };
}

const kindOfId = (id: string): KindName | undefined =>
  KINDS.find(({ prefix }) => prefix === /^[a-z]+/.exec(id)?.[0])?.kind;

/** Keys of a history, which grow as its records come. */
export function growingKeys() {
  const book = keyBook();
  return {
    /** A record as it was first recorded. `ownKey`: the record's own, where the key it is written with does not tell. */
    first: (record: WholeRecord): { type: KindName; key: string } & Record<string, unknown> => {
      const kind = kindNamed(record.kind);
      const key = book.make(kind, record, record);
      const fields = book.named(kind, record);
      book.remember(kind, record.id, key);
      const told = isContentKey(key, kind, fields) ? null : key;
      return { type: record.kind, key, ...(record.key === told ? {} : { ownKey: record.key }), ...fields };
    },
    naming: (kind: Kind, id: number): string => book.reference(`${kind.prefix}${id}`, kind.kind),
    fields: (kind: Kind, record: WholeRecord) => book.named(kind, record),
  };
}
