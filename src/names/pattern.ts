import type { Assumptions } from '../assumptions.ts';
import { fold } from '../services/fold.ts';
import { startsWithWord } from './characters.ts';
import { readTranscription, type Sign } from './reading.ts';

/** One unit of a name as read, in folded letters. */
export type Unit =
  | { readonly kind: 'letter'; readonly letter: string; readonly dotted: boolean; readonly also?: readonly string[] }
  | { readonly kind: 'lost'; readonly restored?: string } // exactly one letter, whatever it was
  | { readonly kind: 'run' } // any number of letters, none included
  | { readonly kind: 'separator'; readonly sign: Separator };

type Separator = ' ' | '-' | "'";

/** A name as read, for matching. No separators at the ends and never two together; never two runs together. */
export type Pattern = readonly Unit[];

const APOSTROPHE = /^['’‘ʼʻ`´]$/;
const DASH = /^[-‐‑‒–—]$/;
const PLAIN = /^[a-z]*(?:[ '-][a-z]+)*$/;

/** Which separator a folded character is: any sign that is no letter and no apostrophe or dash stands for a space. */
function separatorOf(char: string): Separator {
  if (DASH.test(char)) return '-';
  return APOSTROPHE.test(char) ? "'" : ' ';
}

/** Of several separators in a row the hyphen counts before the apostrophe, and that before the space. */
const STRENGTH: Readonly<Record<Separator, number>> = { ' ': 0, "'": 1, '-': 2 };

/**
 * The pattern of some signs of a reading. What the transcriber restored, expanded or supplied is not on the object and
 * stands for whatever letter was there; superfluous letters are left out; erased ones count as read.
 */
export function patternOf(signs: readonly Sign[]): Pattern {
  const units: Unit[] = [];
  let pending: Separator | undefined;
  const push = (unit: Unit): void => {
    if (pending !== undefined && units.length > 0) units.push({ kind: 'separator', sign: pending });
    pending = undefined;
    if (unit.kind !== 'run' || units.at(-1)?.kind !== 'run') units.push(unit);
  };
  for (const sign of signs) {
    if (sign.kind === 'lost' || sign.kind === 'run') push({ kind: sign.kind });
    else if (sign.kind === 'break') pending = sign.joins ? pending : stronger(pending, ' ');
    else if (sign.state !== 'superfluous')
      for (const char of fold(sign.char)) {
        if (!startsWithWord(char)) pending = stronger(pending, separatorOf(char));
        else
          for (const half of char.split(''))
            if (sign.state === 'read' || sign.state === 'erased') push(letterUnit(half, sign.dotted, sign.also));
            else push({ kind: 'lost', restored: half });
      }
  }
  return units;
}

const stronger = (known: Separator | undefined, sign: Separator): Separator =>
  known !== undefined && STRENGTH[known] > STRENGTH[sign] ? known : sign;

const letterUnit = (letter: string, dotted: boolean, also: readonly string[]): Unit =>
  also.length === 0
    ? { kind: 'letter', letter, dotted }
    : { kind: 'letter', letter, dotted, also: also.map((other) => fold(other)) };

/**
 * The pattern of a name typed with the signs of a transcription.
 * @throws HeldbyError READING
 */
export const patternFrom = (text: string): Pattern => patternOf(readTranscription(text).signs);

/** A name of the ledger in the letters and separators that patterns are made of: `de la tour`, `o'brien`. */
export function foldName(text: string): string {
  const letters = fold(text);
  if (PLAIN.test(letters)) return letters; // most names are
  let folded = '';
  let pending: Separator | undefined;
  for (const char of letters) {
    if (!startsWithWord(char)) pending = stronger(pending, separatorOf(char));
    else {
      if (pending !== undefined && folded !== '') folded += pending;
      pending = undefined;
      folded += char;
    }
  }
  return folded;
}

/** Letters that are seen, an unsure one counting half: the measure of how much a damaged reading says. */
export const visibleLetters = (pattern: Pattern): number =>
  pattern.reduce((sum, unit) => sum + (unit.kind === 'letter' ? (unit.dotted ? 0.5 : 1) : 0), 0);

/** Letters that are seen, unsure ones included. */
export const seenLetters = (pattern: Pattern): number =>
  pattern.reduce((sum, unit) => sum + (unit.kind === 'letter' ? 1 : 0), 0);

/** Whether something of the name is lost, restored or unsure. */
export const isDamaged = (pattern: Pattern): boolean =>
  pattern.some((unit) => unit.kind === 'lost' || unit.kind === 'run' || (unit.kind === 'letter' && unit.dotted));

/** Bits beyond which a name is no candidate for the reading. */
export const limitBits = (pattern: Pattern, { values }: Pick<Assumptions, 'values'>): number =>
  Math.min(values['agree.limit'], values['agree.limit.letter'] * seenLetters(pattern));

/** The pattern as it can be typed and read again; restored letters stand in brackets. */
export function printPattern(pattern: Pattern): string {
  const text = pattern.map(printUnit).join('');
  // A single dot behind restored letters would be the point of an abbreviation.
  return text.replaceAll('][', '').replace(/(?<=[^.[-])\.\](?=[ '-]|$)/g, '][.]');
}

function printUnit(unit: Unit): string {
  switch (unit.kind) {
    case 'letter':
      if (unit.also !== undefined) return `_(${[unit.letter, ...unit.also].join('/')})`;
      return unit.dotted ? `_${unit.letter}` : unit.letter;
    case 'lost':
      return `[${unit.restored ?? '.'}]`;
    case 'run':
      return '[---]';
    case 'separator':
      return unit.sign;
  }
}
