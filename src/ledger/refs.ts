import { HeldbyError } from '../errors.ts';
import { fold } from '../services/fold.ts';
import { entryById } from './entries.ts';
import type { Kind } from './kind.ts';
import { KINDS, parseId } from './kinds.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

/**
 * The record that words pick out, tried in this order: 1 its id (`p7`, or `id:p7`); 2 the key it was imported with; 3 what it is called
 * (an object's reference, a series' name, an edition's label, a person's name), whole; 4 all the words, in any order,
 * within what it is called.
 * @returns the id's number.
 * @throws HeldbyError REFERENCE when nothing fits, AMBIGUOUS with the list when several records do.
 */
export function resolveRef(db: Db, kind: Kind, words: string): number {
  const found = firstFound(STAGES, (stage) => stage(db, kind, words.trim()));
  if (found.length === 1 && found[0] !== undefined) return found[0].id;
  if (found.length > 1)
    throw several(
      kind.plural,
      words,
      found.map((hit) => ({ kind, ...hit })),
    );
  throw new HeldbyError(
    'REFERENCE',
    `There is no ${kind.kind} "${words}".`,
    `${elsewhere(db, kind, words.trim())}See what there is: heldby list ${kind.plural.replaceAll(' ', '-')}`,
  );
}

/** What the words do name, where that is a record of another kind, or one that was taken back. */
function elsewhere(db: Db, kind: Kind, words: string): string {
  const id = parseId(words);
  if (id?.kind === kind) {
    const column = kind.kind === 'entry' ? 'coalesce(id, row)' : 'id';
    const was = prepared(db, `SELECT 1 FROM "${kind.table}" WHERE ${column} = ? LIMIT 1`).get(id.row) !== undefined;
    return was ? `It was withdrawn or undone: heldby history ${words}. ` : '';
  }
  const [hit] = firstFound([byId, byKey, byWholeName], (stage) =>
    KINDS.flatMap((other) => (other === kind ? [] : stage(db, other, words).map((each) => ({ other, ...each })))),
  );
  if (hit === undefined) return '';
  const found = `${hit.other.prefix}${hit.id}`;
  return `It is ${hit.other.called}${found === words ? '' : `, ${found}`}. `;
}

/** The same for a record of any of these kinds; returns the id as it is written (`m3`). */
export function resolveAny(db: Db, words: string, kinds: readonly Kind[] = KINDS): string {
  const trimmed = words.trim();
  const hits = firstFound(STAGES, (stage) =>
    kinds.flatMap((kind) => stage(db, kind, trimmed).map((hit) => ({ kind, ...hit }))),
  );
  if (hits.length === 1 && hits[0]) return `${hits[0].kind.prefix}${hits[0].id}`;
  if (hits.length > 1) throw several('records', words, hits);
  const called = kinds.length === KINDS.length ? 'record' : kinds.map((kind) => kind.kind).join(' or ');
  throw new HeldbyError(
    'REFERENCE',
    `There is no ${called} "${words}".`,
    /^p\d+\.\d+$/.test(trimmed)
      ? `${trimmed} would be a tenure, which is worked out and not recorded: heldby grounds ${trimmed}`
      : 'Look it up: heldby list KIND, or use an id such as p12, m3, e410.',
  );
}

/**
 * The same where a slip would do harm: a word that is the id of one record and the key of another is refused.
 * @throws HeldbyError AMBIGUOUS with both; `id:p7` is the record of that id.
 */
export function resolveUnmistakably(db: Db, words: string): string {
  const id = resolveAny(db, words);
  const others = KINDS.flatMap((kind) => byKey(db, kind, words.trim()).map((hit) => `${kind.prefix}${hit.id}`)).filter(
    (other) => other !== id,
  );
  if (others.length === 0) return id;
  throw new HeldbyError(
    'AMBIGUOUS',
    `"${words}" is the id of one record, and the key of another.`,
    `Name one by its id:\n${[id, ...others].map((each) => `  id:${each}`).join('\n')}`,
  );
}

/** The id of the current record of a kind that has this key. */
export function idOfKey(db: Db, kind: Kind, key: string): string | undefined {
  const column = kind.kind === 'entry' ? 'coalesce(id, row)' : 'id';
  const id = prepared(db, `SELECT ${column} FROM "current_${kind.table}" WHERE key = ?`, 'pluck').get(key);
  return id === undefined ? undefined : `${kind.prefix}${id}`;
}

type Hit = { readonly id: number; readonly called: string };
type Stage = (db: Db, kind: Kind, words: string) => Hit[];

/** What the first stage finds that finds anything: an exact key stands above any words. */
function firstFound<T>(stages: readonly Stage[], ask: (stage: Stage) => T[]): T[] {
  for (const stage of stages) {
    const found = ask(stage);
    if (found.length > 0) return found;
  }
  return [];
}

const byId: Stage = (db, kind, words) => {
  const id = parseId(words.replace(/^id:/, ''));
  return id?.kind === kind && exists(db, kind, id.row) ? [{ id: id.row, called: words }] : [];
};

const byKey: Stage = (db, kind, words) => {
  const id = kind.kind === 'entry' ? 'coalesce(id, row)' : 'id';
  return prepared(db, `SELECT DISTINCT ${id} AS id, key AS called FROM "current_${kind.table}" WHERE key = ?`).all(
    words,
  ) as Hit[];
};

const byWholeName: Stage = (db, kind, words) => {
  const naming = NAMING[kind.kind];
  if (!naming || words === '') return [];
  return prepared(db, `${naming.sql} WHERE ${naming.whole}`).all(
    ...Array(naming.whole.split('?').length - 1).fill(words),
  ) as Hit[];
};

const byWords: Stage = (db, kind, words) => {
  const naming = NAMING[kind.kind];
  const wanted = wordsOf(words);
  if (!naming || wanted.length === 0) return [];
  const hits: Hit[] = [];
  const fits = kind.kind === 'person' ? initialOrWord : (word: string, there: string): boolean => word === there;
  for (const hit of db.prepare(naming.sql).iterate() as IterableIterator<Hit>) {
    const there = wordsOf(hit.called);
    if (wanted.every((word) => there.some((each) => fits(word, each)))) hits.push(hit);
  }
  const exact = hits.filter((hit) => wordsOf(hit.called).length === wanted.length);
  return exact.length > 0 ? exact : hits;
};

const STAGES: readonly Stage[] = [byId, byKey, byWholeName, byWords];

/** "J. Ferrand" is Julian Ferrand, and the other way about. */
const initialOrWord = (word: string, there: string): boolean =>
  word === there || (there.length === 1 && word.startsWith(there)) || (word.length === 1 && there.startsWith(word));

function exists(db: Db, kind: Kind, id: number): boolean {
  if (kind.kind === 'entry') return entryById(db, id) !== undefined;
  return prepared(db, `SELECT 1 FROM "current_${kind.table}" WHERE id = ?`).get(id) !== undefined;
}

const wordsOf = (text: string): string[] =>
  text
    .split(/[\s.,;:()]+/)
    .map(fold)
    .filter((word) => word !== '');

const NAMING: Partial<Record<Kind['kind'], { sql: string; whole: string }>> = {
  series: { sql: 'SELECT id, name AS called FROM current_series', whole: 'name = ?' },
  edition: {
    sql: "SELECT e.id, s.name || ' ' || e.label AS called FROM current_edition AS e JOIN current_series AS s ON s.id = e.series_id",
    whole: "e.label = ? OR s.name || ' ' || e.label = ?",
  },
  person: {
    sql: "SELECT p.id, trim(ifnull(n.forenames, '') || ' ' || s.text) AS called FROM printed_name AS n JOIN surname AS s ON s.id = n.surname_id JOIN current_person AS p ON p.name_id = n.id",
    whole: 'n.text = ?',
  },
  object: { sql: "SELECT id, ref || ' ' || title AS called FROM current_object", whole: 'ref = ? OR title = ?' },
  mark: { sql: 'SELECT id, text AS called FROM current_mark', whole: 'text = ?' },
  corps: { sql: 'SELECT id, name AS called FROM current_corps', whole: 'name = ?' },
  fact: { sql: 'SELECT id, name AS called FROM current_fact', whole: 'name = ?' },
};

function several(plural: string, words: string, hits: readonly (Hit & { readonly kind: Kind })[]): HeldbyError {
  const list = hits.slice(0, 8).map((hit) => `  ${hit.kind.prefix}${hit.id}  ${hit.called}`);
  if (hits.length > list.length) list.push(`  … and ${hits.length - list.length} more`);
  return new HeldbyError(
    'AMBIGUOUS',
    `"${words}" fits ${hits.length} ${plural}.`,
    `Name one by its id:\n${list.join('\n')}`,
  );
}
