import data from './data/corps-words.json' with { type: 'json' };
import { fold, isAscii } from './fold.ts';
import { foldedWords } from './folded-words.ts';
import { ordinalAt } from './ordinals.ts';

/** Two or more letters, each with a point: "R.A.", "N. I."; the last may lack it. */
const initialsIn = (folded: string): RegExp =>
  isAscii(folded)
    ? /(?<![a-z\d])(?:[a-z]\.\s?)+[a-z]\.?(?![a-z\d])/g
    : /(?<![\p{L}\p{N}])(?:\p{L}\.\s?)+\p{L}\.?(?![\p{L}\p{N}])/gu;
/** "2/60th": a battalion and its regiment. */
const BATTALION = /(\d+)(?:st|nd|rd|th|d)?\/(\d+)/g;

type Words = {
  readonly abbreviations: ReadonlyMap<string, string>;
  readonly letters: ReadonlyMap<string, string>;
  readonly lettered: ReadonlySet<string>;
  readonly without: ReadonlySet<string>;
};
let tables: Words | undefined;

const tablesOnce = (): Words => {
  tables ??= {
    abbreviations: new Map(Object.entries(data.abbreviations)),
    letters: new Map(Object.entries(data.singleLetters)),
    lettered: new Set(data.letteredUnits),
    without: new Set(data.without),
  };
  return tables;
};

const isNumber = (word: string | undefined): boolean => word !== undefined && /^\d+$/.test(word);

/**
 * One key for the ways of writing the name of a corps; different corps keep different keys. Folded are
 * (1) letters, points, hyphens and the possessive s;
 * (2) ordinal numbers: `2nd`, `2d`, `II.`, `second`, `2`;
 * (3) usual abbreviations: `Fenc.`, `N.I.`, `R. Engineers`;
 * (4) words that tell nothing: regiment, the, of, and, His Majesty's, No.;
 * (5) the place of a lone number, which goes first, after a battalion: `Fencibles, 2nd`, `2/60th`.
 * A text without letters and figures has the empty key.
 * @example corpsKey('II. Regt. of Fencibles') === '2 fencibles'
 */
export function corpsKey(text: string): string {
  const { abbreviations, without } = tablesOnce();
  const words = written(text);
  const key: string[] = [];
  for (let at = 0; at < words.length; ) {
    const word = words[at] ?? '';
    const known = abbreviations.get(word) ?? letterAt(words, at);
    const number =
      known === undefined
        ? ordinalAt(
            words,
            at,
            key.every((each) => without.has(each)),
          )
        : undefined;
    if (number !== undefined) key.push(String(number.value));
    else if (known !== undefined) key.push(...known.split(' '));
    else if (word !== 'corps' || words[at + 1] !== 'of') key.push(word);
    at += number?.words ?? 1;
  }
  const telling = key.filter((word) => !without.has(word));
  return numbersFirst(telling.length > 0 ? telling : key).join(' ');
}

/** Whether two texts name one corps, as far as spelling goes. A text without letters names none. */
export const sameCorps = (a: string, b: string): boolean => corpsKey(a) !== '' && corpsKey(a) === corpsKey(b);

/**
 * Whether two keys can be of one corps: the same, or a number alone (`14th Regt.`) and a corps of that number. Which arm
 * a bare number is of nobody can tell, so that it differs from none of them.
 */
export function agreeingKeys(a: string, b: string): boolean {
  if (a === b) return a !== '';
  return (isNumber(a) && numberOf(b) === a) || (isNumber(b) && numberOf(a) === b);
}

/** The number of a corps, without that of its battalion; nothing where it has none, or several. */
function numberOf(key: string): string | undefined {
  const words = key.split(' ');
  const numbers = words.filter((word, at) => isNumber(word) && words[at + 1] !== 'battalion');
  return numbers.length === 1 ? numbers[0] : undefined;
}

function written(text: string): readonly string[] {
  const plain = fold(text).replace(/['’‘]/g, '').replace(/&/g, ' and ').replace(BATTALION, '$1 battalion $2');
  return foldedWords(
    plain.includes('.') ? plain.replace(initialsIn(plain), (letters) => `${letters.replace(/[.\s]/g, '')} `) : plain,
  );
}

/** "R. Engineers", "W. Middlesex", but not "E Troop", where the letter is the name. */
function letterAt(words: readonly string[], at: number): string | undefined {
  const { abbreviations, letters, lettered } = tablesOnce();
  const next = words[at + 1];
  if (next === undefined || lettered.has(abbreviations.get(next) ?? next)) return undefined;
  return letters.get(words[at] ?? '');
}

function numbersFirst(words: readonly string[]): readonly string[] {
  const at = words.findIndex((word, index) => isNumber(word) && words[index + 1] === 'battalion');
  const battalion = at < 0 ? [] : words.slice(at, at + 2);
  const rest = at < 0 ? words : [...words.slice(0, at), ...words.slice(at + 2)];
  const numbers = rest.filter(isNumber);
  return numbers.length === 1
    ? [...battalion, ...numbers, ...rest.filter((word) => !isNumber(word))]
    : [...battalion, ...rest];
}
