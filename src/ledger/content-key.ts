import { createHash } from 'node:crypto';
import { fold } from '../services/fold.ts';
import type { KindName } from './kind.ts';

/** Fields that people know a record by, the best first. */
const TELLING = ['name', 'title', 'label', 'text', 'surname', 'event', 'outcome', 'relation', 'file', 'grade', 'value'];
const MOST_WORDS = 40;
const DIGITS = 10;

/**
 * A key made from what a record says: the kind, a few of its words, and ten hexadecimal digits of the SHA-256 of all of
 * it. The same record has the same key in every ledger.
 */
export function contentKey(kind: KindName, fields: Readonly<Record<string, unknown>>): string {
  const said = Object.keys(fields)
    .sort()
    .map((name) => [name, fields[name]]);
  const digest = createHash('sha256')
    .update(JSON.stringify([kind, said]))
    .digest('hex')
    .slice(0, DIGITS);
  const words = TELLING.map((name) => fields[name]).find((value) => typeof value === 'string' && value !== '');
  const slug = fold(String(words ?? ''))
    .replaceAll(/[^a-z0-9]+/g, '-')
    .slice(0, MOST_WORDS)
    .replaceAll(/^-|-$/g, '');
  return [kind, slug, digest].filter((part) => part !== '').join('-');
}
