import type { Assumptions } from '../assumptions.ts';
import { fold } from '../services/fold.ts';
import { isCapital, keyOf, startsWithLetter } from './characters.ts';
import { compile } from './compiled-pattern.ts';
import { isShortForename, meantForenames, shortForms } from './forename-forms.ts';
import { letterCosts } from './letter-costs.ts';
import { letterCost } from './letter-rows.ts';
import { type Pattern, patternFrom } from './pattern.ts';

/**
 * One forename, of a mark or of a person.
 * 1. `initial`: one letter. 2. `short`: begins or shortens a name (`Wm`, `Alex.`). 3. `full`. 4. `damaged`: some letters
 * are lost or unsure. 5. `lost`: no letter is seen; its place alone counts.
 */
export type Forename = {
  readonly text: string;
  readonly kind: 'initial' | 'short' | 'full' | 'damaged' | 'lost';
  /** Folded; empty where damaged or lost. */
  readonly letters: string;
  /** Every name that it can stand for, folded. */
  readonly names: readonly string[];
  readonly pattern: Pattern | undefined;
};

const SIGNS = /[[\]_<>{}()⟦⟧\\]|\u0323/u;
const OPENING = '[(<{⟦';
const CLOSING = '])>}⟧';

/** Forenames written together, parted: `J.P.` and `JP` are two, and so are those of `Jean-Pierre`. */
export function splitForenames(text: string): readonly string[] {
  const parts: string[] = [];
  let part = '';
  let depth = 0;
  const end = (): void => {
    if (part !== '') parts.push(part);
    part = '';
  };
  for (const char of text) {
    if (OPENING.includes(char)) depth++;
    if (CLOSING.includes(char)) depth--;
    if (depth === 0 && /[\s,-]/.test(char)) end();
    else {
      if (depth === 0 && part.endsWith('.') && (char === '_' || startsWithLetter(char))) end();
      part += char;
    }
  }
  end();
  return parts.flatMap(splitCapitals);
}

/** `JP`, `JHB`; not `WM`, which is William, and not `IAN`. */
function splitCapitals(part: string): readonly string[] {
  const letters = [...part.replace(/\.$/, '')];
  const areCapitals = letters.every(isCapital) && !isShortForename(fold(letters.join('')));
  const areInitials =
    letters.length === 2 || (letters.length === 3 && !letters.some((letter) => 'AEIOUY'.includes(letter)));
  return areCapitals && areInitials ? letters : [part];
}

/**
 * @param texts forenames as written, or with the signs of a transcription.
 * @throws HeldbyError READING where the signs do not close.
 */
export const readForenames = (texts: string | readonly string[]): readonly Forename[] =>
  (typeof texts === 'string' ? [texts] : texts).flatMap(splitForenames).map(readForename).filter(isSomething);

const isSomething = ({ kind, letters }: Forename): boolean => kind === 'damaged' || kind === 'lost' || letters !== '';

function readForename(text: string): Forename {
  const damaged = SIGNS.test(text.normalize('NFD')) ? patternFrom(text) : undefined;
  if (damaged !== undefined && !damaged.every((unit) => unit.kind === 'letter' && !unit.dotted)) {
    const seen = damaged.some((unit) => unit.kind === 'letter');
    return { text, kind: seen ? 'damaged' : 'lost', letters: '', names: [], pattern: damaged };
  }
  const plain = damaged?.map((unit) => (unit.kind === 'letter' ? unit.letter : '')).join('') ?? text;
  const letters = keyOf(plain.replaceAll('°', 'o'));
  if (letters.length <= 1) return { text, kind: 'initial', letters, names: [letters], pattern: undefined };
  const short = isShortForename(letters) || text.endsWith('.');
  return { text, kind: short ? 'short' : 'full', letters, names: meantForenames(letters), pattern: undefined };
}

/** I and J are one letter as an initial. */
const initialOf = (name: string): string => (name.startsWith('i') ? 'j' : name.charAt(0));

/**
 * Whether two forenames can be one: 1. a lost one agrees with any; 2. a damaged one with what fills its gaps at no cost;
 * 3. an initial with a name that it begins, I with J; 4. a shortening with a name that it begins or stands for; 5. names
 * in full with their other spellings and their Latin.
 */
export function forenamesAgree(a: Forename, b: Forename): boolean {
  if (a.kind === 'lost' || b.kind === 'lost') return true;
  if (a.kind === 'damaged') return damagedAgrees(a.pattern ?? [], b);
  if (b.kind === 'damaged') return damagedAgrees(b.pattern ?? [], a);
  if (a.kind === 'initial' || b.kind === 'initial')
    return a.names.some((name) => b.names.some((other) => initialOf(name) === initialOf(other)));
  return (
    a.names.some((name) => b.names.includes(name)) ||
    (a.kind === 'short' && b.names.some((name) => name.startsWith(a.letters))) ||
    (b.kind === 'short' && a.names.some((name) => name.startsWith(b.letters)))
  );
}

/** An unsure letter may be one that it is easily taken for; a letter that was read is held to. */
function damagedAgrees(pattern: Pattern, other: Forename): boolean {
  if (other.kind === 'damaged') return true; // two damaged readings of one forename never contradict for certain
  if (other.kind === 'initial') {
    const [first] = pattern;
    return first?.kind !== 'letter' || within([first], 'ij'.includes(other.letters) ? ['i', 'j'] : [other.letters]);
  }
  const [only] = pattern;
  const open: Pattern = pattern.length === 1 && only !== undefined ? [only, { kind: 'run' }] : pattern;
  return within(open, other.names) || within(open, other.names.flatMap(shortForms));
}

function within(pattern: Pattern, names: readonly string[]): boolean {
  const dotted = pattern.filter((unit) => unit.kind === 'letter' && unit.dotted).length;
  const limit = dotted * letterCosts('forward').step.dottedPair;
  return names.some((name) => letterCost(compile(pattern), name, limit) <= limit);
}

/**
 * Bits of disagreement between the forenames on a mark and those of a person.
 * 1. None on the mark: 0. 2. The person's are unknown: the first on the mark costs `unknown.initial` or `unknown.first`,
 * each further one `unknown.later`. 3. They agree in order, as far as the person's are known: 0, and `unknown.later` for
 * each one beyond. 4. The mark has later forenames of the person only, in their order: `agree.forenames.later`.
 * 5. They contradict: `agree.forenames.contradict`.
 */
export function forenameBits(
  mark: readonly Forename[],
  person: readonly Forename[],
  { values }: Pick<Assumptions, 'values'>,
): number {
  const [first, ...further] = mark;
  if (first === undefined) return 0;
  if (person.length === 0) return unknownFirst(first, values) + unknownLater(further, values);
  if (mark.every((forename, index) => agreesAt(forename, person[index])))
    return unknownLater(mark.slice(person.length), values);
  return areLater(mark, person.slice(1)) ? values['agree.forenames.later'] : values['agree.forenames.contradict'];
}

const agreesAt = (forename: Forename, known: Forename | undefined): boolean =>
  known === undefined || forenamesAgree(forename, known);

function unknownFirst(first: Forename, values: Assumptions['values']): number {
  if (first.kind === 'lost') return 0;
  return first.kind === 'initial' || first.pattern?.length === 1 ? values['unknown.initial'] : values['unknown.first'];
}

const unknownLater = (further: readonly Forename[], values: Assumptions['values']): number =>
  further.filter(({ kind }) => kind !== 'lost').length * values['unknown.later'];

/** Whether each of the mark's forenames is one of these, in this order. */
function areLater(mark: readonly Forename[], later: readonly Forename[]): boolean {
  let next = 0;
  for (const known of later) {
    const wanted = mark[next];
    if (wanted !== undefined && forenamesAgree(wanted, known)) next++;
  }
  return next === mark.length;
}
