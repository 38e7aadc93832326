const UNITS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth'];
const TEENS = [
  'tenth',
  'eleventh',
  'twelfth',
  'thirteenth',
  'fourteenth',
  'fifteenth',
  'sixteenth',
  'seventeenth',
  'eighteenth',
  'nineteenth',
];
const TENS = ['twent', 'thirt', 'fort', 'fift', 'sixt', 'sevent', 'eight', 'ninet'];

/** 1 to 19 by their names, and whole tens. */
function simpleOrdinal(word: string): number | undefined {
  const unit = UNITS.indexOf(word);
  if (unit >= 0) return unit + 1;
  const teen = TEENS.indexOf(word);
  if (teen >= 0) return teen + 10;
  const ten = word.endsWith('ieth') ? TENS.indexOf(word.slice(0, -4)) : -1;
  return ten >= 0 ? (ten + 2) * 10 : undefined;
}

const ROMAN = /^(x{0,3}|xl|lx{0,3}|xc)(ix|iv|v?i{0,3})$/;
const VALUES: Readonly<Record<string, number>> = { i: 1, v: 5, x: 10, l: 50, c: 100 };

/** Up to 99 in lower-case Roman figures, written as they should be; undefined for all else. */
function roman(word: string): number | undefined {
  if (word === '' || !ROMAN.test(word)) return undefined;
  let total = 0;
  for (let at = 0; at < word.length; at++) {
    const value = VALUES[word[at] ?? ''] ?? 0;
    total += value < (VALUES[word[at + 1] ?? ''] ?? 0) ? -value : value;
  }
  return total;
}

/**
 * The ordinal number that begins at a word, with the count of words it takes. Known are, folded, (1) figures with or
 * without an ending: `2`, `2nd`, `2d`; (2) names up to the ninety-ninth: `second`, `twenty second`; (3) Roman figures
 * with or without an ending: `ii`, `iind`, but a single `i`, `v` or `x` only where `aloneToo`, for it may be an initial.
 */
export function ordinalAt(
  words: readonly string[],
  at: number,
  aloneToo: boolean,
): { value: number; words: number } | undefined {
  const word = words[at] ?? '';
  const figures = /^(\d{1,4})(?:st|nd|rd|th|d|de|e)?$/.exec(word);
  if (figures !== null) return { value: Number(figures[1]), words: 1 };
  const simple = simpleOrdinal(word);
  if (simple !== undefined) return { value: simple, words: 1 };
  const tens = TENS.findIndex((ten) => word.startsWith(`${ten}y`));
  if (tens >= 0) {
    const joined = word.slice((TENS[tens]?.length ?? 0) + 1);
    const unit = UNITS.indexOf(joined === '' ? (words[at + 1] ?? '') : joined);
    if (unit >= 0) return { value: (tens + 2) * 10 + unit + 1, words: joined === '' ? 2 : 1 };
  }
  const bare = word.replace(/(?<=[ivxlc])(?:st|nd|rd|th|d)$/, '');
  const value = bare.length > 1 || bare !== word || aloneToo ? roman(bare) : undefined;
  return value === undefined ? undefined : { value, words: 1 };
}
