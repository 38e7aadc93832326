import { keyReader } from '../ledger/keys.ts';
import type { Db } from '../ledger/open.ts';

/**
 * An answer with the key beside each id of a record, null where the record has none: `{id: "p12"}` becomes
 * `{id: "p12", key: "holt"}`. What has a key already, and an id that is no record's, is left as it is.
 */
export function withKeys<T>(db: Db, answer: T): T {
  const keyOf = keyReader(db);
  const keyed = (value: unknown): unknown => {
    if (Array.isArray(value)) return typeof value[0] === 'number' ? value : value.map(keyed);
    if (value === null || typeof value !== 'object') return value;
    const key = 'id' in value && !('key' in value) && typeof value.id === 'string' ? keyOf(value.id) : undefined;
    return Object.fromEntries(
      Object.entries(value).flatMap(([name, part]) =>
        name === 'id' && key !== undefined
          ? [
              [name, part],
              ['key', key],
            ]
          : [[name, keyed(part)]],
      ),
    );
  };
  return keyed(answer) as T;
}
