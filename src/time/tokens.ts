/**
 * A piece of a date expression, folded: lower case, without accents, superscripts on the line, long s as s, every dash
 * a hyphen. `at` and `end` are places in the text as given.
 */
export type Token = {
  readonly kind: 'number' | 'word' | 'sign';
  readonly text: string;
  readonly at: number;
  readonly end: number;
  /** No space stands before it. */
  readonly glued: boolean;
};

const FOLDED: Readonly<Record<string, string>> = {
  '–': '-',
  '—': '-',
  '‒': '-',
  '−': '-',
  '‐': '-',
  '‑': '-',
  '⁄': '/',
  '’': "'",
  '‘': "'",
  ʼ: "'",
  æ: 'ae',
  œ: 'oe',
  ß: 'ss',
  ↄ: 'ɔ',
  ↀ: 'm',
};

/**
 * Each folded letter with the place of the letter it comes from; no places where they are the same. A caret only lifts
 * a letter (`Sept^r`): it is dropped.
 */
function folded(source: string): { text: string; places: readonly number[] | undefined } {
  if (/^[ -\]_-~]*$/.test(source)) return { text: source.toLowerCase(), places: undefined };
  let text = '';
  const places: number[] = [];
  let at = 0;
  for (const sign of source) {
    const plain = sign === '^' ? '' : sign.normalize('NFKD').replaceAll(/\p{M}/gu, '').toLowerCase();
    const out = [...plain].map((letter) => FOLDED[letter] ?? letter).join('');
    text += out;
    for (let i = 0; i < out.length; i++) places.push(at);
    at += sign.length;
  }
  places.push(at);
  return { text, places };
}

/** Abbreviations of single letters (`O.S.`, `N. S.`) are one word without dots; a dot after a word belongs to it. */
const tokensIn = (folded: string): RegExp =>
  /^[\0-\x7f]*$/.test(folded)
    ? /(\d+)|((?:[a-z]\. ?){2,}(?![a-z]))|([a-z][a-z']*\.?)|(-+|[^\s])/g
    : /(\d+)|((?:[a-z]\. ?){2,}(?![a-z]))|([\p{L}][\p{L}']*\.?)|(-+|[^\s])/gu; // takes long to make

export function tokensOf(source: string): Token[] {
  const { text, places } = folded(source);
  const tokens: Token[] = [];
  for (const match of text.matchAll(tokensIn(text))) {
    const [whole, number, initials, word] = match;
    const trimmed = whole.trimEnd();
    const kind = number !== undefined ? 'number' : initials !== undefined || word !== undefined ? 'word' : 'sign';
    const at = places === undefined ? match.index : (places[match.index] ?? 0);
    tokens.push({
      kind,
      text: kind === 'word' ? trimmed.replaceAll(/[. ]/g, '') : trimmed.replace(/^-+$/, '-'),
      at,
      end:
        places === undefined ? match.index + trimmed.length : (places[match.index + trimmed.length] ?? source.length),
      glued: match.index > 0 && !/\s/.test(text[match.index - 1] ?? ' '),
    });
  }
  return tokens;
}

/** A text folded like its tokens, spaces kept single. */
export const foldedText = (source: string): string => folded(source.trim()).text.replaceAll(/\s+/g, ' ');
