import { createHash } from 'node:crypto';
import { fold } from '../services/fold.ts';
import type { Kind } from './kind.ts';

/** Fields that people know a record by, the best first. */
const TELLING = ['name', 'title', 'label', 'text', 'surname', 'event', 'outcome', 'relation', 'file', 'grade', 'value'];
const MOST_WORDS = 40;
const DIGITS = 10;

/**
 * A key made from what a record says: the kind, a few of its words, and ten hexadecimal digits of the SHA-256 of all of
 * it but what refers to its own kind, whose keys are still to be made. The same record has the same key in every ledger.
 * @param fields with the keys of what they refer to.
 */
export function contentKey(kind: Kind, fields: Readonly<Record<string, unknown>>): string {
  const own = new Set(
    kind.fields.flatMap((field) => (field.type === 'ref' && field.to === kind.kind ? field.name : [])),
  );
  const said = Object.keys(fields)
    .filter((name) => !own.has(name))
    .sort()
    .map((name) => [name, fields[name]]);
  const digest = createHash('sha256')
    .update(JSON.stringify([kind.kind, said]))
    .digest('hex')
    .slice(0, DIGITS);
  const words = TELLING.map((name) => fields[name]).find((value) => typeof value === 'string' && value !== '');
  const slug = fold(String(words ?? ''))
    .replaceAll(/[^a-z0-9]+/g, '-')
    .slice(0, MOST_WORDS)
    .replaceAll(/^-|-$/g, '');
  return [kind.kind, slug, digest].filter((part) => part !== '').join('-');
}

const LOOKS_MADE = new RegExp(`-[0-9a-f]{${DIGITS}}(?:-\\d+)?$`);

/** Whether a key is what would be made of this record, perhaps with a number behind it that tells it from its like. */
export function isContentKey(key: string, kind: Kind, fields: Readonly<Record<string, unknown>>): boolean {
  if (!LOOKS_MADE.test(key)) return false;
  const made = contentKey(kind, fields);
  return key === made || (key.startsWith(`${made}-`) && /^\d+$/.test(key.slice(made.length + 1)));
}
