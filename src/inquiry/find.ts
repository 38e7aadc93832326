import { entryTexts, otherTexts, peopleHolding, peopleTexts, type RecordText } from '../ledger/find.ts';
import { KINDS, parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import { surnamesWithin } from '../ledger/surname-search.ts';
import { type Pattern, patternFrom } from '../names/pattern.ts';
import { surnameCost } from '../names/surname-cost.ts';
import { fold } from '../services/fold.ts';
import { calledRecord } from './records.ts';

export type FoundRecord = {
  readonly id: string;
  readonly type: string;
  readonly called: string;
  /** How far the words are from what is written, in bits: 0 as written, 6 what happens once in 64. */
  readonly bits: number;
};

export type FindAnswer = {
  readonly words: string;
  readonly total: number;
  /** More was there than is looked through at one time. */
  readonly more: boolean;
  readonly results: readonly FoundRecord[];
};

/** So many people, and lines of editions, of the surnames found are looked through. */
const MOST_LOOKED_AT = 2000;
/** A word that begins another is nearly as good as the whole. */
const BEGINNING_BITS = 0.5;
/** No word is compared with less than this: compound names are looked for whole. */
const ELEMENT_BITS = 3;

/** How many bits away a word may be: short words have to be as written. */
function limitBits(word: string): number {
  if (/\d/.test(word) || word.length < 4) return 0;
  if (word.length < 6) return 8;
  return word.length < 9 ? 12 : 18;
}

type Word = { readonly folded: string; readonly pattern: Pattern | undefined; readonly limit: number };

/**
 * Everything in which all the words are written, or something near them: letters that look or sound alike, doubled,
 * missing or changed about cost what they cost in the reading of a mark. The nearest come first.
 */
export function findWords(db: Db, given: string, limit: number): FindAnswer {
  const words = wordsOf(given);
  const id = parseId(given.trim());
  const named =
    id === undefined || readRecord(db, id.kind, id.row) === undefined ? [] : [{ id: given.trim(), bits: 0 }];
  const bySurname = words.map((word) =>
    word.pattern === undefined || /\d/.test(word.folded)
      ? []
      : surnamesWithin(db, word.pattern, word.limit, ELEMENT_BITS),
  );
  const surnames = [
    ...new Set(
      bySurname
        .flat()
        .sort((a, b) => a.bits - b.bits)
        .map((each) => each.id),
    ),
  ];
  const people = peopleTexts(db, surnames, MOST_LOOKED_AT);
  const entries = entryTexts(db, surnames, MOST_LOOKED_AT);
  const holding =
    people.length === 0 && words[0] !== undefined ? peopleHolding(db, words[0].folded, MOST_LOOKED_AT) : [];
  const looked = [...people, ...holding, ...entries, ...otherTexts(db)];
  const matched = words.length === 0 ? [] : looked.flatMap((record) => hit(record, words));
  const all = unique([...named, ...matched]).sort(
    (a, b) => a.bits - b.bits || kindOrder(a.id) - kindOrder(b.id) || number(a.id) - number(b.id),
  );
  return {
    words: given,
    total: all.length,
    more: people.length >= MOST_LOOKED_AT || entries.length >= MOST_LOOKED_AT,
    results: all.slice(0, limit).flatMap(({ id: found, bits }) => {
      const parsed = parseId(found);
      const record = parsed && readRecord(db, parsed.kind, parsed.row);
      return record ? [{ id: found, type: record.type, called: calledRecord(db, parsed.kind, record), bits }] : [];
    }),
  };
}

type Hit = { readonly id: string; readonly bits: number };

function unique(hits: readonly Hit[]): Hit[] {
  const least = new Map<string, number>();
  for (const { id, bits } of hits) least.set(id, Math.min(bits, least.get(id) ?? bits));
  return [...least].map(([id, bits]) => ({ id, bits }));
}

/** People first, then what is said of them, then the rest, as the kinds of records stand. */
function kindOrder(id: string): number {
  const kind = parseId(id)?.kind.kind;
  if (kind === 'person') return -3;
  if (kind === 'object' || kind === 'mark') return -2;
  return kind === 'entry' ? KINDS.length : KINDS.findIndex((each) => each.kind === kind);
}

const number = (id: string): number => parseId(id)?.row ?? 0;

/** A reading with its signs (`Ferr[..]d`) is one word; of any other text letters and figures count. */
const wordsOf = (text: string): Word[] =>
  text.split(/\s+/).flatMap((part) => {
    if (/[[\]_]/.test(part)) {
      const pattern = patternFrom(part);
      return [{ folded: fold(part), pattern, limit: limitBits('x'.repeat(pattern.length)) }];
    }
    return (fold(part).match(/[\p{L}\p{N}]+(?:['’-][\p{L}\p{N}]+)*/gu) ?? []).map((folded) => ({
      folded,
      pattern: /\p{L}/u.test(folded) ? patternFrom(folded) : undefined,
      limit: limitBits(folded),
    }));
  });

/** Records that hold hardly more than a name, whose forenames may be shortened. */
const NAMES: readonly string[] = ['person', 'name', 'entry'];

/**
 * The sum over the words of the nearest thing written; nothing where one of them is not there. A forename may stand as
 * an initial, as long as another word is there in full.
 */
function hit({ id, kind, text }: RecordText, words: readonly Word[]): Hit[] {
  const written = fold(text).match(/[\p{L}\p{N}]+(?:['’-][\p{L}\p{N}]+)*/gu) ?? [];
  const isName = NAMES.includes(kind.kind);
  let bits = 0;
  let initials = 0;
  for (const word of words) {
    let least = Number.POSITIVE_INFINITY;
    for (const each of written) {
      const cost = costOf(word, each, Math.min(least, word.limit));
      if (cost < least) least = cost;
      if (least === 0) break;
    }
    if (least === Number.POSITIVE_INFINITY && isName && written.some((each) => shortens(each, word.folded))) {
      least = SHORTENED_BITS;
      initials += 1;
    }
    if (least === Number.POSITIVE_INFINITY) return [];
    bits += least;
  }
  return initials === words.length ? [] : [{ id, bits }];
}

/** `j` or `jul` for `julian`: a little more than one letter that is wrong, for a forename in full says more than an initial. */
const SHORTENED_BITS = 8;
const shortens = (written: string, word: string): boolean =>
  written.length < 4 && word.length > 3 && /^\p{L}+$/u.test(written) && word.startsWith(written);

function costOf({ folded, pattern, limit }: Word, written: string, most: number): number {
  if (written === folded) return 0;
  if (folded.length > 1 && written.startsWith(folded)) return BEGINNING_BITS;
  if (pattern === undefined || limit === 0) return Number.POSITIVE_INFINITY;
  return surnameCost(pattern, written, { elementBits: ELEMENT_BITS, limitBits: most });
}
