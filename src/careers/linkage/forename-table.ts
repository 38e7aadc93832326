import { HeldbyError } from '../../errors.ts';
import { compile } from '../../names/compiled-pattern.ts';
import { type Forename, forenamesAgree, readForenames } from '../../names/forenames.ts';
import { HALF_BITS } from '../../names/letter-costs.ts';
import { letterCost } from '../../names/letter-rows.ts';
import { type Pattern, patternFrom } from '../../names/pattern.ts';

/** Levels in the order of the field `forenames`; NOTHING where one side gives no forenames. */
export const AGREE = 0;
export const AGREE_SO_FAR = 1;
export const FEW_LETTERS = 2;
export const ONE_DIFFERS = 3;
export const DIFFER = 4;
export const NOTHING = 5;

/** Bits between two spellings of one name at most; see the letter costs of the names. */
export const FEW_LETTERS_BITS = 12;

/**
 * How two forms of forenames compare, and how often a stranger's would compare as well: the product over the places at
 * which both give something of the share of people in the ledger whose forename there is the same, as far as the
 * shorter form tells.
 */
export type ForenameTable = {
  level(a: number, b: number): number;
  /** log2 of the chance that a stranger agrees with both as closely; 0 where the level does not agree. */
  log2Chance(a: number, b: number): number;
  /** The letter with which the first forename begins, 0 to 25; 26 where there is none or it may be one of several. */
  readonly initial: Uint8Array;
  /** False where the first forenames certainly differ. */
  mayAgree(a: number, b: number): boolean;
  /** For each form log2 of the chance that a stranger agrees with it as closely as can be. */
  readonly log2Rarest: Float64Array;
  /** The fuller of two forms that agree, else the one that more entries have. */
  fuller(a: number, b: number): number;
};

type Form = { readonly names: readonly Forename[]; readonly keys: readonly string[]; readonly fullness: number };

/** @param uses for each form the number of entries that have it. */
export function forenameTable(texts: readonly string[], uses: Int32Array): ForenameTable {
  const forms = texts.map(formOf);
  const shares = shareTables(forms, uses);
  const levels: number[] = [];
  const chances: number[] = [];
  const places = new Map<number, number>();
  const at = (a: number, b: number): number => {
    const key = a < b ? a * texts.length + b : b * texts.length + a;
    const known = places.get(key);
    if (known !== undefined) return known;
    const one = forms[a] as Form;
    const other = forms[b] as Form;
    const level = a === b ? (one.names.length === 0 ? NOTHING : AGREE) : levelOf(one, other);
    levels.push(level);
    chances.push(level <= AGREE_SO_FAR ? shares.log2Chance(one, other) : 0);
    places.set(key, levels.length - 1);
    return levels.length - 1;
  };
  const fullness = Float64Array.from(forms, (form) => form.fullness);
  const initials = Int32Array.from(forms, initialsOf);
  return {
    level: (a, b) => levels[at(a, b)] as number,
    log2Chance: (a, b) => chances[at(a, b)] as number,
    initial: Uint8Array.from(initials, (bits) =>
      bits !== 0 && (bits & (bits - 1)) === 0 ? 31 - Math.clz32(bits) : ANY,
    ),
    mayAgree: (a, b) => ((initials[a] as number) & (initials[b] as number)) !== 0,
    log2Rarest: Float64Array.from(forms, (form) => shares.log2Chance(form, form)),
    fuller: (a, b) => {
      if (a === b) return a;
      const level = levels[at(a, b)] as number;
      const [x, y] = level <= AGREE_SO_FAR || level === NOTHING ? [fullness[a], fullness[b]] : [uses[a], uses[b]];
      return (y as number) > (x as number) ? b : a;
    },
  };
}

const FULLNESS = { full: 4, short: 3, damaged: 2, initial: 1, lost: 0 } as const;

function formOf(text: string): Form {
  const names = readSafely(text);
  return {
    names,
    keys: names.map(({ names: meant, letters }) => meant.at(-1) ?? letters),
    fullness: names.reduce((sum, { kind }) => sum + FULLNESS[kind], 0),
  };
}

/** A name that a list prints with a lone bracket is no transcription. */
function readSafely(text: string): readonly Forename[] {
  try {
    return readForenames(text);
  } catch (error) {
    if (!(error instanceof HeldbyError)) throw error;
    return readForenames(text.replace(/[^\p{L}\p{N}\s.-]/gu, ' '));
  }
}

const ANY = 26;
const ANY_INITIAL = 0x7fffffff;

/** The letters with which the first forename can begin, a bit for each. */
function initialsOf({ names: [first] }: Form): number {
  if (first === undefined || first.names.length === 0) return ANY_INITIAL;
  let bits = 0;
  for (const name of first.names) {
    const letter = initialOf(name).charCodeAt(0) - 97;
    if (!(letter >= 0 && letter < 26)) return ANY_INITIAL;
    bits |= 1 << letter;
  }
  return bits;
}

const initialOf = (key: string): string => (key.startsWith('i') ? 'j' : key.charAt(0));
const isWhole = ({ kind }: Forename): boolean => kind === 'full' || kind === 'short';

/** Shares of initials and of whole names, at the first place and at all later ones. */
function shareTables(forms: readonly Form[], uses: Int32Array) {
  const counts = [0, 1].map(() => ({
    initials: new Map<string, number>(),
    names: new Map<string, number>(),
    initialSum: 0,
    nameSum: 0,
  }));
  for (const [number, form] of forms.entries()) {
    const times = uses[number] as number;
    for (const [place, name] of form.names.entries()) {
      const count = counts[Math.min(place, 1)];
      const key = form.keys[place] ?? '';
      if (count === undefined || key === '') continue;
      const initial = initialOf(key);
      count.initials.set(initial, (count.initials.get(initial) ?? 0) + times);
      count.initialSum += times;
      if (!isWhole(name)) continue;
      count.names.set(key, (count.names.get(key) ?? 0) + times);
      count.nameSum += times;
    }
  }
  const log2Chance = (a: Form, b: Form): number => {
    let sum = 0;
    for (let place = 0; place < Math.min(a.names.length, b.names.length); place++) {
      const count = counts[Math.min(place, 1)];
      const key = a.keys[place] ?? '';
      const [one, other] = [a.names[place], b.names[place]];
      if (count === undefined || one === undefined || other === undefined || key === '' || b.keys[place] === '')
        continue;
      const whole = isWhole(one) && isWhole(other);
      const times = whole ? count.names.get(key) : count.initials.get(initialOf(key));
      sum += Math.log2(Math.max(times ?? 1, 1) / Math.max(whole ? count.nameSum : count.initialSum, 1));
    }
    return sum;
  };
  return { log2Chance };
}

/**
 * 1. All agree. 2. All agree as far as both go. 3. One of several is another initial, or one differs by a few letters.
 * 4. One of several differs; or the one form has only later forenames of the other. 5. Any other.
 */
function levelOf(a: Form, b: Form): number {
  if (a.names.length === 0 || b.names.length === 0) return NOTHING;
  const common = Math.min(a.names.length, b.names.length);
  let differing = 0;
  let where = 0;
  for (let place = 0; place < common; place++) {
    if (forenamesAgree(a.names[place] as Forename, b.names[place] as Forename)) continue;
    differing++;
    where = place;
  }
  if (differing === 0) return a.names.length === b.names.length ? AGREE : AGREE_SO_FAR;
  const [one, other] = [a.names[where] as Forename, b.names[where] as Forename];
  if (differing === 1 && isWhole(one) && isWhole(other) && areNear(one, other)) return FEW_LETTERS;
  if (differing === 1 && common > 1) return isWhole(one) && isWhole(other) ? ONE_DIFFERS : FEW_LETTERS;
  return areLater(a.names, b.names) || areLater(b.names, a.names) ? ONE_DIFFERS : DIFFER;
}

/** "Peter" or "P." for a man who is elsewhere "Julian Peter". */
const areLater = (few: readonly Forename[], many: readonly Forename[]): boolean =>
  few.length < many.length &&
  many.slice(1).some((_, from) =>
    few.every((name, at) => {
      const other = many[from + 1 + at];
      return other !== undefined && forenamesAgree(name, other);
    }),
  );

function areNear(a: Forename, b: Forename): boolean {
  if (Math.abs(a.letters.length - b.letters.length) > 1) return false;
  const limit = FEW_LETTERS_BITS * HALF_BITS;
  return letterCost(compile(patternOnce(a.letters)), b.letters, limit) <= limit;
}

const patterns = new Map<string, Pattern>();

function patternOnce(letters: string): Pattern {
  const known = patterns.get(letters) ?? patternFrom(letters);
  patterns.set(letters, known);
  return known;
}
