import { isKnownForename } from '../names/forename-forms.ts';
import { isHonour, isInitials, isTitle } from '../names/name.ts';
import { isParticle } from '../names/name-forms.ts';
import { fold } from '../services/fold.ts';

/**
 * A name typed in small letters, as a list prints it; one that begins with a capital stays as it is, and so does
 * `ffolliott`, which has none. 1. Words get their capital, particles do not: `de la Tour`. 2. Letters typed together are
 * initials, `ferrand jp`, but not in front of a name that St. begins, `st john orr`. 3. Letters behind a whole name are an
 * honour where they can be one: `sir hew tamworth kb`. 4. A surname of several words stands before a comma:
 * `de la tour jp` is `de la Tour, J. P.`
 */
export function capitalised(name: string): string {
  if (!isTypedSmall(name)) return name;
  const typed = name.split(' ');
  const honours = honoursBehind(typed);
  const words = typed.slice(0, typed.length - honours.length);
  const whole = withComma(
    words,
    words.map((word, at) => withCapital(word, words, at)),
  );
  return [whole.replace(/,$/, ''), ...honours.map(asHonour)].join(', ');
}

const SMALL_FF = /^ff\p{Ll}/u;

function isTypedSmall(name: string): boolean {
  if (!/\p{Lu}/u.test(name)) return true;
  const [first = ''] = name.split(' ');
  return /^\p{Ll}/u.test(first) && !/\p{Lu}/u.test(first) && !isParticle(lettersOf(first)) && !SMALL_FF.test(first);
}

const lettersOf = (word: string): string => word.replace(/[,.]+$/, '');

function withCapital(word: string, words: readonly string[], at: number): string {
  const letters = lettersOf(word);
  if (letters === 'st' && beginsSaint(words, at)) return `St${word.slice(letters.length)}`;
  if (isRunOfInitials(letters))
    return `${[...letters.toUpperCase()].join('. ')}.${word.slice(letters.length).replace('.', '')}`;
  if (isParticle(letters)) return word;
  return word.replaceAll(/(?<![\p{L}'’(])\p{L}|(?<=\b[dom]['’])\p{L}/gu, (letter) => letter.toUpperCase());
}

/** `theoph st aubyn rouse`, `st aubyn rouse`, `st john`; but `st smith` and `smith st` have initials. */
function beginsSaint(words: readonly string[], at: number): boolean {
  const next = words[at + 1];
  if (next === undefined || lettersOf(next).length < 2 || isRunOfInitials(lettersOf(next))) return false;
  return at > 0 || words.length > at + 2 || isKnownForename(fold(lettersOf(next)));
}

/** Two or three letters typed together that can only be initials: `jp`, but not `wm`. */
const isRunOfInitials = (letters: string): boolean =>
  letters.length > 1 && letters.length < 4 && letters === letters.toLowerCase() && isInitials(letters.toUpperCase());

/** So many words of a name stand before an honour: of one, `ferrand cb`, the letters are the initials. */
const WORDS_BEFORE_HONOUR = 2;

function honoursBehind(words: readonly string[]): readonly string[] {
  const isOfName = (word: string): boolean => {
    const letters = lettersOf(word);
    return letters.length > 1 && !isTitle(letters) && !isHonour(letters) && !isParticle(letters);
  };
  const end = words.findLastIndex((word) => !(isHonour(lettersOf(word)) && word === word.toLowerCase())) + 1;
  const before = words.slice(0, end).filter((word) => isOfName(word) && !isRunOfInitials(lettersOf(word)));
  return before.length < WORDS_BEFORE_HONOUR ? [] : words.slice(end);
}

/** Honours that are words cut short, not letters. */
const HONOUR_WORD = /^(?:esq|gent|bar|bt|kn?t|armig|gener|equ)/;

const asHonour = (word: string): string => {
  const letters = lettersOf(word);
  return HONOUR_WORD.test(letters)
    ? `${letters.charAt(0).toUpperCase()}${letters.slice(1)}`
    : [...letters.toUpperCase()].map((letter) => `${letter}.`).join('');
};

function withComma(words: readonly string[], each: readonly string[]): string {
  const last = words.findLastIndex((word) => !isRunOfInitials(word) && word.length > 1);
  const isParted = last > 0 && last < each.length - 1 && isParticle(each[0] ?? '') && !words.join(' ').includes(',');
  return isParted ? `${each.slice(0, last + 1).join(' ')}, ${each.slice(last + 1).join(' ')}` : each.join(' ');
}
