import { compile } from './compiled-pattern.ts';
import data from './letter-costs.json' with { type: 'json' };
import { HALF_BITS } from './letter-costs.ts';
import { letterCost, UNREACHED } from './letter-rows.ts';
import { type FormKind, type NameForm, nameForms, respeltPatterns } from './name-forms.ts';
import { foldName, type Pattern } from './pattern.ts';

export type SurnameOptions = {
  /** Bits for a reading that has only one element of a compound name (assumption `agree.element`). */
  readonly elementBits: number;
  /** Names further away than this are not told apart: their cost is Infinity. */
  readonly limitBits?: number;
};

/** What a form of the name costs before any letter is compared; a respelt reading pays the same, once for both. */
export const formBits = (kind: FormKind, respeltReading: boolean, elementBits: number): number =>
  (respeltReading || kind === 'respelt' || kind === 'respelt element' ? data.steps.separator.bits : 0) +
  (kind === 'element' || kind === 'respelt element' ? elementBits : 0);

/** The reading itself, then its respellings. */
export function readingForms(pattern: Pattern): readonly Pattern[] {
  const known = forms.get(pattern);
  if (known !== undefined) return known;
  const made = [pattern, ...respeltPatterns(pattern)];
  forms.set(pattern, made);
  return made;
}

const forms = new WeakMap<Pattern, readonly Pattern[]>();

export type BestForm = { readonly bits: number; readonly reading: Pattern; readonly form: NameForm };

/** The pair of forms that agrees best, the plainer one where two agree alike. */
export function bestForm(pattern: Pattern, name: string, options: SurnameOptions): BestForm | undefined {
  let best: BestForm | undefined;
  let limit = options.limitBits ?? Number.POSITIVE_INFINITY;
  for (const form of nameForms(foldName(name)))
    for (const reading of readingForms(pattern)) {
      const before = formBits(form.kind, reading !== pattern, options.elementBits);
      if (before > limit) continue;
      const halfBits = letterCost(compile(reading), form.text, Math.floor((limit - before) * HALF_BITS));
      if (halfBits >= UNREACHED) continue;
      const bits = before + halfBits / HALF_BITS;
      if (best !== undefined && bits >= best.bits) continue;
      best = { bits, reading, form };
      limit = bits;
    }
  return best;
}

/**
 * Bits of disagreement between a reading and one form of a surname: the least total letter cost over all alignments, all
 * ways to fill what is lost, and all ways to write particles; Infinity beyond the limit.
 * @param name as the ledger has it.
 * @see Wagner and Fischer, "The String-to-String Correction Problem", Journal of the ACM 21 (1974); Lowrance and Wagner,
 * "An Extension of the String-to-String Correction Problem", Journal of the ACM 22 (1975), for neighbours that have
 * changed places. The costs are those of letter-costs.json.
 * @example surnameCost(patternFrom('Ferr[..]d'), 'Ferrand', { elementBits: 3 }) === 0
 */
export const surnameCost = (pattern: Pattern, name: string, options: SurnameOptions): number =>
  bestForm(pattern, name, options)?.bits ?? Number.POSITIVE_INFINITY;
