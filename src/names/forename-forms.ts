import data from './forename-forms.json' with { type: 'json' };

const SHORT: Readonly<Record<string, readonly string[]>> = data.short;
const LATIN: Readonly<Record<string, string>> = data.latin;
const SPELT: Readonly<Record<string, string>> = data.spelt;

const own = <Value>(table: Readonly<Record<string, Value>>, word: string): Value | undefined =>
  Object.hasOwn(table, word) ? table[word] : undefined;

/** Whether the word is a customary shortening of a forename, `wm`. */
export const isShortForename = (folded: string): boolean => own(SHORT, folded) !== undefined;

/**
 * Every forename that a folded word can stand for, the word itself included: `jno` is John, `gulielmus` William.
 * @example meantForenames('lawr') // ['lawr', 'laurence']
 */
export function meantForenames(folded: string): readonly string[] {
  const latin = own(LATIN, folded);
  const meant = [folded, ...(own(SHORT, folded) ?? []), ...(latin === undefined ? [] : [latin])];
  return [...new Set(meant.map((name) => own(SPELT, name) ?? name))];
}

let shortened: Map<string, string[]> | undefined;

/** The customary shortenings of a forename: `john` has `jno`. */
export function shortForms(name: string): readonly string[] {
  if (shortened === undefined) {
    shortened = new Map();
    for (const [short, names] of Object.entries(SHORT))
      for (const meant of names) shortened.set(meant, [...(shortened.get(meant) ?? []), short]);
  }
  return shortened.get(name) ?? [];
}

let known: ReadonlySet<string> | undefined;

/** Every forename, shortening and Latin form that the table has; many forenames it has not. */
export function knownForenames(): readonly string[] {
  return [...knownSet()];
}

export const isKnownForename = (folded: string): boolean => knownSet().has(folded);

function knownSet(): ReadonlySet<string> {
  known ??= new Set([
    ...Object.keys(SHORT),
    ...Object.values(SHORT).flat(),
    ...Object.entries(LATIN).flat(),
    ...Object.entries(SPELT).flat(),
  ]);
  return known;
}
