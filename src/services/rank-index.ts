import type { Span } from '../time/span.ts';
import type { Ladder, RankDefinition, RankForm } from './ladder.ts';
import { lettersApart } from './letters-apart.ts';
import { keyOf, meanings, type Vocabulary, vocabulary, wordsOf } from './rank-words.ts';

/** One way in which a text can name a rank. */
export type RankMatch = {
  readonly definition: RankDefinition;
  /** The title in full, letter for letter, and no other wording. */
  readonly exact: boolean;
  /** The days on which the wording had this meaning. */
  readonly used: Span;
  /** The wording is for the columns of a list only. */
  readonly columnOnly: boolean;
  /** The wording has initials only, "Q.M.", as a person's forenames may have. */
  readonly initials: boolean;
};

/** Of a longer text the rest is no rank. */
const MOST_WORDS = 8;

type RankIndex = { readonly words: Vocabulary; readonly byKey: ReadonlyMap<string, readonly RankMatch[]> };

/** Of fewer letters than this nothing can be told from a slip. */
const SHORTEST_SLIP = 3;

const indexes = new WeakMap<Ladder, RankIndex>();

/** Made once for each ladder, on first use. */
function indexOf(ladder: Ladder): RankIndex {
  const before = indexes.get(ladder);
  if (before !== undefined) return before;
  const byKey = new Map<string, RankMatch[]>();
  const further = new Set<string>();
  const add = (definition: RankDefinition, text: string, form: RankForm | undefined): void => {
    const words = wordsOf(text);
    for (const word of words) further.add(word);
    const key = words.join('');
    const match: RankMatch = {
      definition,
      exact: form === undefined,
      used: form?.used ?? definition.existed,
      columnOnly: form?.columnOnly ?? false,
      initials: words.every((word) => word.length === 1),
    };
    const there = byKey.get(key);
    if (there === undefined) byKey.set(key, [match]);
    else there.push(match);
  };
  for (const definition of ladder.ranks) {
    add(definition, definition.rank.title, undefined);
    for (const form of definition.forms) add(definition, form.text, form);
  }
  const index = { words: vocabulary(further), byKey };
  indexes.set(ladder, index);
  return index;
}

/** Every rank of the ladder that a key (see `keyOf`) can stand for, each once. */
export function matchesOf(key: string, ladder: Ladder): readonly RankMatch[] {
  const { words, byKey } = indexOf(ladder);
  const found = new Map<string, RankMatch>();
  const take = (meant: string, written: boolean): void => {
    for (const match of byKey.get(meant) ?? []) {
      const { id } = match.definition.rank;
      if (!found.has(id)) found.set(id, written ? match : { ...match, exact: false });
    }
  };
  take(key, true);
  for (const meant of meanings(key, words)) take(meant, false);
  return [...found.values()];
}

/** Titles of the ranks written most like a text, nearest first. Distances are in letters. */
export function nearestTitles(text: string, ladders: readonly Ladder[], most = 3): readonly string[] {
  const key = keyOf(text);
  const furthest = Math.max(1, Math.floor(key.length * 0.4));
  const best = new Map<string, number>();
  for (const ladder of ladders) {
    const { words, byKey } = indexOf(ladder);
    const parts = new Set(runsOf(wordsOf(text)).flatMap((run) => [run, ...meanings(run, words)]));
    const take = (matches: readonly RankMatch[], distance: number): void => {
      if (distance > furthest) return;
      for (const { definition, columnOnly, initials } of matches) {
        if (columnOnly || initials) continue;
        const { title } = definition.rank;
        best.set(title, Math.min(distance, best.get(title) ?? distance));
      }
    };
    for (const [written, matches] of byKey) {
      // A rank among other words is near; the more of the text it explains, the nearer.
      const among = parts.has(written) ? furthest * (1 - written.length / (key.length + written.length)) : Infinity;
      take(matches, Math.min(among, lettersApart(key, written)));
    }
    // An abbreviation with a slip of the pen: "Lietu." for "Lieut.".
    for (const [written, meant] of words.listed) {
      if (written.length < SHORTEST_SLIP) continue;
      const distance = lettersApart(key, written);
      for (const title of meant) take(byKey.get(title) ?? [], distance);
    }
  }
  return [...best]
    .sort(([a, far], [b, near]) => far - near || (a < b ? -1 : 1))
    .slice(0, most)
    .map(([title]) => title);
}

/** Every run of successive words, as a key. */
const runsOf = (words: readonly string[]): readonly string[] =>
  words
    .slice(0, MOST_WORDS)
    .flatMap((_, from) => words.slice(from, MOST_WORDS).map((__, more) => words.slice(from, from + more + 1).join('')));
