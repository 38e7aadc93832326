import data from './particles.json' with { type: 'json' };
import type { Pattern, Unit } from './pattern.ts';

/**
 * How a folded name may stand in a reading.
 * 1. `whole`: as it is. 2. `respelt`: with its particle joined or left out, or Mc, Mac, M', St and Saint brought to one
 * spelling. 3. `element`: one element of a compound name. 4. `respelt element`: both.
 */
export const FORM_KINDS = ['whole', 'respelt', 'element', 'respelt element'] as const;
export type FormKind = (typeof FORM_KINDS)[number];
export type NameForm = { readonly text: string; readonly kind: FormKind };

/** Stand for the units of a pattern that are no letters, so that names and patterns are respelt by the same rules. */
const LOST = '\u0001';
const RUN = '\u0002';

/** Few names have anything to respell: this looks at the rest once. */
const MAY_DIFFER = /[ '-]|^mc|^saint/;
const MIDST = /[ '-]/;

type WordSets = { readonly particles: ReadonlySet<string>; readonly glued: ReadonlySet<string> };
let sets: WordSets | undefined;

function wordSets(): WordSets {
  sets ??= {
    particles: new Set(data.particles),
    glued: new Set([...data.particles, ...data.prefixes]),
  };
  return sets;
}

/** Every form of a folded name, the whole one first, none twice. */
export function nameForms(folded: string): readonly NameForm[] {
  const forms: NameForm[] = [{ text: folded, kind: 'whole' }];
  if (!MAY_DIFFER.test(folded)) return forms;
  const add = (text: string, kind: FormKind): void => {
    if (text !== '' && !forms.some((form) => form.text === text)) forms.push({ text, kind });
  };
  for (const edit of respellings(folded)) add(applied(edit, folded), 'respelt');
  const elements = elementsOf(folded);
  if (elements.length < 2) return forms;
  for (const element of elements) add(element, 'element');
  for (const element of elements)
    for (const edit of respellings(element)) add(applied(edit, element), 'respelt element');
  return forms;
}

/** The respellings of a pattern, without the pattern itself. Only what is read whole is respelt. */
export function respeltPatterns(pattern: Pattern): readonly Pattern[] {
  const text = pattern.map(standIn).join('');
  if (!MAY_DIFFER.test(text)) return [];
  const seen = new Set([text]);
  const patterns: Pattern[] = [];
  for (const edit of respellings(text)) {
    const respelt = applied(edit, text);
    if (respelt === '' || seen.has(respelt)) continue;
    seen.add(respelt);
    patterns.push(
      edit.flatMap((part): Unit[] => {
        if (typeof part === 'string') return [{ kind: 'letter', letter: part, dotted: false }];
        const unit = pattern[part];
        return unit === undefined ? [] : [unit];
      }),
    );
  }
  return patterns;
}

function standIn(unit: Unit): string {
  if (unit.kind === 'letter') return unit.letter;
  if (unit.kind === 'separator') return unit.sign;
  return unit.kind === 'lost' ? LOST : RUN;
}

/** A respelling: places of the text that are kept, and letters put in. */
type Edit = readonly (number | string)[];

const applied = (edit: Edit, text: string): string =>
  edit.map((part) => (typeof part === 'string' ? part : text.charAt(part))).join('');

const from = (start: number, text: string): number[] => Array.from(text.slice(start), (_char, index) => start + index);

/** The particle joined; the particle left out; one spelling of Mc and Saint; both of the last. */
function respellings(text: string): readonly Edit[] {
  const rest = startBehindParticles(text);
  const edits: Edit[] = [];
  if (rest > 0) {
    edits.push(from(0, text).filter((at) => at >= rest || !MIDST.test(text.charAt(at))));
    edits.push(from(rest, text));
  }
  edits.push(oneSpelling(text, 0));
  if (rest > 0) edits.push(oneSpelling(text, rest));
  return edits;
}

/** Where the name begins behind its particles; 0 where it has none, or consists of nothing else. */
function startBehindParticles(text: string): number {
  let start = 0;
  for (;;) {
    const end = wordEnd(text, start, MIDST);
    if (end >= text.length || !wordSets().particles.has(text.slice(start, end))) return start;
    start = end + 1;
  }
}

function wordEnd(text: string, start: number, separators: RegExp): number {
  let end = start;
  while (end < text.length && !separators.test(text.charAt(end))) end++;
  return end;
}

/**
 * 1. Mc, Mac and M' are `mac`, joined to what follows. 2. St, Ste, Saint and Sainte are `st`, joined to what follows;
 * a name that merely begins with St keeps its letters.
 */
function oneSpelling(text: string, start: number): Edit {
  const edit: (number | string)[] = [];
  for (let at = start; at < text.length; at++) {
    const begins = at === start || MIDST.test(text.charAt(at - 1));
    const length = begins ? prefixLength(text, at) : 0;
    if (length === 0) edit.push(at);
    else {
      if (text.charAt(at) === 'm') edit.push(at, 'a', 'c');
      else edit.push(at, 't');
      at += length - 1;
    }
  }
  return edit;
}

/** How much of the text a Mc or a Saint takes here, its separator included; 0 where none stands here. */
function prefixLength(text: string, at: number): number {
  const match = /^(?:m'|mc[ '-]?|mac[ '-]|(?:ste?|sainte?)[ '-]|saint)(?=[^ '-])/.exec(text.slice(at));
  return match?.[0].length ?? 0;
}

/** The elements of a compound name, each with its particles; one alone where the name is not compound. */
export function elementsOf(folded: string): readonly string[] {
  const elements: string[] = [];
  let start = 0;
  for (let at = 0; at <= folded.length; at = wordEnd(folded, at, /[ -]/) + 1) {
    const end = wordEnd(folded, at, /[ -]/);
    if (end < folded.length && wordSets().glued.has(folded.slice(at, end))) continue;
    if (end > start) elements.push(folded.slice(start, end));
    start = end + 1;
  }
  return elements;
}

/** Whether a folded word is a particle: `de`, `van`. */
export const isParticle = (word: string): boolean => wordSets().particles.has(word);

/** Whether a folded word in front of a surname belongs to it: a particle, Mc, Fitz, St; a lone M or O is an initial. */
export const startsSurname = (word: string): boolean => wordSets().glued.has(word) && word.length > 1;
