import { fold } from '../services/fold.ts';
import { endsWithoutSpace, hasSmall, isCapital, keyOf } from './characters.ts';
import { isKnownForename, isShortForename } from './forename-forms.ts';
import { splitForenames } from './forenames.ts';
import { isParticle, startsSurname } from './name-forms.ts';
import data from './name-words.json' with { type: 'json' };

/** A name as a list or a title-page prints it, taken apart; every part is as printed. */
export type PersonName = {
  readonly printed: string;
  /** With its particles; empty where the text holds none. */
  readonly surname: string;
  readonly forenames: readonly string[];
  /** Titles and honours in the order of the text: `Sir`, `Hon.`, `Earl of`, `K.C.B.`, `Esq.` */
  readonly titles: readonly string[];
  /** What tells namesakes apart: `jun.`, `(2)`, `3rd`. */
  readonly suffix: string | undefined;
};

type WordSets = Readonly<
  Record<
    'titles' | 'peerage' | 'forenamesToo' | 'honours' | 'suffixes' | 'numbers' | 'ranks' | 'beforeRank' | 'anotherName',
    ReadonlySet<string>
  >
>;
let sets: WordSets | undefined;

function words(): WordSets {
  sets ??= {
    titles: new Set(data.titles),
    peerage: new Set(data.peerage),
    forenamesToo: new Set(data['titles that are forenames too']),
    honours: new Set(data.honours),
    suffixes: new Set(data.suffixes),
    numbers: new Set(data.numbers),
    ranks: new Set(data.ranks),
    beforeRank: new Set(data['before a rank']),
    anotherName: new Set(data['another name']),
  };
  return sets;
}

/** Whether a word is a title that stands before a name. */
export const isTitle = (word: string): boolean => words().titles.has(keyOf(word)) || words().peerage.has(keyOf(word));
const isRank = (word: string): boolean => words().ranks.has(keyOf(word));
export const isHonour = (word: string): boolean => words().honours.has(keyOf(word));
const isSuffix = (word: string): boolean => words().suffixes.has(keyOf(word));

/** `J.`, `J.P.`, `J`, `JP`: capitals that stand for forenames. */
export function isInitials(word: string): boolean {
  const letters = [...word.replace(/[.-]/g, '')];
  if (letters.length === 0 || !letters.every(isCapital)) return false;
  const areParted = [...word].every(
    (char, at, chars) => !isCapital(char) || at === 0 || chars[at - 1] === '.' || chars[at - 1] === '-',
  );
  if (areParted && (letters.length === 1 || word.includes('.'))) return true;
  return (
    !/[.-]./.test(word) &&
    letters.length <= 3 &&
    !letters.some((letter) => 'AEIOUY'.includes(letter)) &&
    !isShortForename(keyOf(word))
  );
}

/** Two letters or more, all capitals. */
const isCapitals = (word: string): boolean => {
  const name = word.replace(/^(?:Mc|Mac|de|van|von|d['’])/, '');
  return [...word].filter(isCapital).length > 1 && !hasSmall(name);
};

/**
 * Takes a printed name apart. It never fails: what it cannot place is part of the surname.
 * 1. `Ferrand, Julian Peter`: what stands before the first comma is the surname. 2. `J. P. Ferrand`: the last word is, with
 * the particles before it. 3. `FERRAND Julian` or `Julian FERRAND`: words in capitals are, where others are not.
 * 4. `Ferrand J. P.`: so is a word before nothing but initials. 5. Titles in front, honours and suffixes behind, and parts
 * between commas that hold nothing else, belong to none of them; a suffix may stand between surname and forenames.
 * 6. `Tour, Wm. de la`: particles behind the forenames belong to the surname. 7. `Emma Ferrand, née Holt`: another name, with
 * the word before it, is no part of this one. 8. `Capt. J. Ferrand`: a rank in front is a title.
 * A peerage title and a name by marriage are names of their own: `Lord Holt` and `Arthur, Lord Holt` have the surname `Holt`.
 */
export function readName(text: string): PersonName {
  const found: Found = { titles: [], suffix: undefined };
  const { plain, bracketed } = withoutBrackets(tidy(text), found);
  const parts = plain
    .split(',')
    .map((part, index) =>
      withoutAnotherName(
        part.split(' ').filter((word) => word !== ''),
        index,
        found,
      ),
    )
    .filter((part) => part.length > 0);
  const [first = [], ...rest] =
    asPeer(parts, found) ?? parts.filter((part, at) => at === 0 || !isBeside(part, parts, found));
  const apart = rest.length > 0 ? [...rest.flat()] : first.length === 1 ? bracketed : [];
  if (found.bracketed !== undefined && apart !== bracketed) found.titles.push(found.bracketed);
  const name = apart.length > 0 ? surnameFirst(first, apart, found) : inOrder(first, found);
  return {
    printed: text,
    surname: name.surname.join(' '),
    forenames: name.forenames.flatMap(splitForenames),
    titles: found.titles.sort((a, b) => text.indexOf(a) - text.indexOf(b)),
    suffix: found.suffix?.replace('\u00a0', ' '),
  };
}

type Found = { titles: string[]; suffix: string | undefined; bracketed?: string };
type Split = { readonly surname: readonly string[]; readonly forenames: readonly string[] };

/** `J.P.Ferrand` as `J.P. Ferrand`. */
const parted = (text: string): string => {
  const ends = new Set(endsWithoutSpace(text));
  return ends.size === 0
    ? text
    : text
        .split('')
        .map((unit, at) => (ends.has(at) ? ` ${unit}` : unit))
        .join('');
};

/** Without the signs that lists set beside a name and spaces that belong to no word; `the elder` is one word. */
const tidy = (text: string): string =>
  parted(text.normalize('NFC'))
    .replace(/[*†‡§¶]/g, ' ')
    .replace(/\s*([-‐‑])\s*/g, '$1')
    .replace(/\b([OMD])['’‘]\s+(?=\S)/g, "$1'")
    .replace(/\b(the|ye) (?=(?:elder|younger)\b)/gi, '$1\u00a0')
    .replace(/[^\S\u00a0]+/g, ' ')
    .replace(/[;:]\s*$/, '')
    .trim();

/** `(2)` and `(jun.)` are suffixes; `Ferrand (Julian Peter)` has its forenames in brackets. */
function withoutBrackets(text: string, found: Found): { plain: string; bracketed: readonly string[] } {
  let bracketed: readonly string[] = [];
  const plain = text.replace(/\(([^()]*)\)/g, (whole, inner: string) => {
    if (words().numbers.has(inner.trim())) found.suffix = whole;
    else if (isSuffix(inner)) found.suffix = inner.trim();
    else if (words().anotherName.has(keyOf(inner.trim().split(' ')[0] ?? ''))) found.titles.push(whole);
    else {
      bracketed = inner.split(' ').filter((word) => word !== '');
      found.bracketed = whole;
    }
    return ' ';
  });
  return { plain, bracketed };
}

/** Notes a name that another word brings in, `née Holt`, `alias Wrenn`: it begins a part, or follows a name. */
function withoutAnotherName(part: readonly string[], index: number, found: Found): readonly string[] {
  const isAnother = (word: string): boolean =>
    words().anotherName.has(keyOf(word)) && (!isCapital(word.charAt(0)) || ['nee', 'alias'].includes(keyOf(word)));
  const at = part.findIndex((word, place) => (place > 0 || index > 0) && place < part.length - 1 && isAnother(word));
  if (at < 0) return part;
  found.titles.push(part.slice(at).join(' '));
  return part.slice(0, at);
}

/** `John, Earl of Rathlow`, `Arthur, Lord Holt, K.B.`: forenames and a title; but `Holt, Lord Arthur` has the surname first. */
function asPeer(parts: readonly (readonly string[])[], found: Found): (readonly string[])[] | undefined {
  const [first = [], second = [], ...others] = parts;
  const isForename = (word: string): boolean => isInitials(word) || isKnownForename(keyOf(word));
  const from = keyOf(second[0] ?? '') === 'the' ? 1 : 0;
  const start = takesPeer(second[from] ?? '') ? from + (PEERAGE_JOINTS.has(second[from + 1] ?? '') ? 2 : 1) : 0;
  const name = second.slice(start);
  if (start === 0 || name.length === 0 || first.length === 0 || !first.every(isForename) || isForename(name[0] ?? ''))
    return undefined;
  if (!others.every((part) => isBeside(part, parts, found))) return undefined;
  found.titles.push(second.slice(0, start).join(' '));
  return [[...first, ...name]];
}

const takesPeer = (word: string): boolean => words().peerage.has(keyOf(word)) || ['lord', 'lady'].includes(keyOf(word));

/** A part between commas that is no part of the name proper; it is noted. */
function isBeside(part: readonly string[], parts: readonly (readonly string[])[], found: Found): boolean {
  if (part.every(isSuffix) || isSuffix(part.join(' '))) {
    found.suffix = part.join(' ');
    return true;
  }
  const lone = part.every(isBesideWord);
  // "Ferrand, C. B." has initials there; "J. Ferrand, C.B." and "Ferrand, Julian, C.B." have an honour.
  const initials = part.every(isInitials) && !part.every(isLongHonour);
  const forenamesElsewhere =
    (parts[0]?.length ?? 0) > 1 ||
    parts.some((other, index) => index > 0 && other !== part && !other.every(isBesideWord));
  const isPeerage = forenamesElsewhere && words().peerage.has(keyOf(part[0] ?? '')) && part[1] === 'of';
  if ((lone && !(initials && !forenamesElsewhere)) || part[0] === 'of' || isPeerage) {
    found.titles.push(part.join(' '));
    return true;
  }
  return false;
}

const isBesideWord = (word: string): boolean =>
  isHonour(word) || isSuffix(word) || isRank(word) || (isTitle(word) && !words().forenamesToo.has(keyOf(word)));

/** `K.C.B.`: three letters or more are an honour sooner than initials. */
const isLongHonour = (word: string): boolean => isHonour(word) && keyOf(word).length > 2;

/** Moves titles from the front and honours and suffixes from the end, as long as a word that can be a name is left. */
function trimmed(given: readonly string[], found: Found): readonly string[] {
  let start = 0;
  let end = given.length;
  const isName = (word: string): boolean =>
    !isInitials(word) && keyOf(word) !== '' && !(isHonour(word) && word.includes('.'));
  while (start < end - 1 && isTitleAt(given, start, end - start === 2) && given.slice(start + 1, end).some(isName))
    start = takeTitle(given, start, found);
  const behind: string[] = [];
  while (end > start + 1 && given.slice(start, end - 1).some(isName)) {
    const last = given[end - 1] ?? '';
    if (isSuffix(last)) found.suffix = last;
    else if (isHonour(last)) behind.unshift(last);
    else break;
    end--;
  }
  found.titles.push(...behind);
  return given.slice(start, end);
}

/**
 * Whether a title or a rank stands there; "Earl" and the like are a forename too, unless "of" follows, or the surname
 * alone; "Major" is, unless a rank, initials or the surname alone follow.
 */
function isTitleAt(given: readonly string[], at: number, beforeSurname: boolean): boolean {
  const key = keyOf(given[at] ?? '');
  const next = given[at + 1] ?? '';
  if (isStyleAt(given, at)) return true;
  if (key === 'he') return isTitle(next); // "H.E. Sir J. Ferrand"
  if (isRank(key) || (words().beforeRank.has(key) && isRank(next))) return true;
  if (data['ranks that are forenames too'].includes(key)) return beforeSurname || isInitials(next);
  if (['le', 'la', 'der', 'die'].includes(key)) return isTitle(next) && given.length > at + 2;
  if (!words().forenamesToo.has(key)) return isTitle(key);
  const before = keyOf(given[at - 1] ?? '');
  return (
    PEERAGE_JOINTS.has(given[at + 1] ?? '') || before === 'most' || before === 'the' || (beforeSurname && isTitle(key))
  );
}

/** `Earl of Rathlow`, `Marquis de Granvelle`. */
const PEERAGE_JOINTS = new Set(['of', 'de', 'du', 'des', 'von', 'zu']);

const WHOSE = ['his', 'her', 'your'];

/** `His Grace`, `Her Royal Highness`; "Grace" by itself is a forename. */
function isStyleAt(given: readonly string[], at: number): boolean {
  const [before = '', key = '', next = ''] = [at - 1, at, at + 1].map((place) => keyOf(given[place] ?? ''));
  if (WHOSE.includes(key)) return data.styles.includes(next);
  return data.styles.includes(key) && (WHOSE.includes(before) || data.styles.includes(before));
}

/** Notes the title, with the "of" of a peerage; where the words go on. */
function takeTitle(given: readonly string[], at: number, found: Found): number {
  const word = given[at] ?? '';
  const withOf = given[at + 1] === 'of' && words().peerage.has(keyOf(word));
  found.titles.push(withOf ? `${word} of` : word);
  return at + (withOf ? 2 : 1);
}

function surnameFirst(before: readonly string[], after: readonly string[], found: Found): Split {
  const surname = trimmed(before, found);
  // Behind a comma no surname need be left, so initials and honours are told apart by the honour alone.
  let start = 0;
  let end = after.length;
  while (start < end && isTitleAt(after, start, false)) start = takeTitle(after, start, found);
  while (end > start + 1 && (isSuffix(after[end - 1] ?? '') || isHonour(after[end - 1] ?? ''))) {
    const last = after[--end] ?? '';
    if (isSuffix(last)) found.suffix = last;
    else found.titles.push(last);
  }
  let particles = end;
  const leads = (word: string): boolean => isParticle(fold(word).replace(/\.$/, '')) && !isInitials(word); // "J D" are two forenames
  while (particles > start && leads(after[particles - 1] ?? '')) particles--;
  return { surname: [...after.slice(particles, end), ...surname], forenames: after.slice(start, particles) };
}

function inOrder(given: readonly string[], found: Found): Split {
  const name = trimmed(given, found);
  const capitals = name.map((word) => isCapitals(word) && !isInitials(word));
  const from = capitals.indexOf(true);
  if (from >= 0 && name.some((word, index) => !capitals[index] && hasSmall(word) && !isParticle(fold(word)))) {
    const last = capitals.lastIndexOf(true) + 1;
    const start = withParticles(name, from);
    return { surname: name.slice(start, last), forenames: [...name.slice(0, start), ...name.slice(last)] };
  }
  const [first = '', ...others] = name;
  if (others.length > 0 && !isInitials(first) && others.every(isInitials))
    return { surname: [first], forenames: others };
  const start = withParticles(name, name.length - 1);
  return { surname: name.slice(start), forenames: name.slice(0, Math.max(start, 0)) };
}

/** Where the surname begins whose last part begins at `at`. */
function withParticles(name: readonly string[], at: number): number {
  let start = at;
  const leads = (word: string): boolean => startsSurname(fold(word).replace(/\.$/, '')) || word === 'v.'; // von, small
  while (start > 0 && leads(name[start - 1] ?? '')) start--;
  return Math.max(start, 0);
}
