import { HeldbyError } from '../errors.ts';
import { isAscii } from '../services/fold.ts';
import { startsWithWord } from './characters.ts';

const DOT_BELOW = '\u0323';

/** @throws HeldbyError READING at a place of what was typed, counted from 0. */
export const fault = (message: string, hint: string, at: number): never => {
  throw new HeldbyError('READING', message, hint, `character ${at + 1}`);
};

/** A character with the marks combined with it, at its place in the text; `dotted`: it has a dot below, and is unsure. */
export type Cluster = { readonly char: string; readonly dotted: boolean; readonly at: number };

/** The characters of a typed reading. @throws HeldbyError READING where a dot below stands under no letter. */
export function clustersOf(text: string): Cluster[] {
  const clusters: Cluster[] = [];
  if (isAscii(text)) return [...text].map((char, at) => ({ char, dotted: false, at }));
  for (const match of text.matchAll(/\P{M}\p{M}*|\p{M}+/gu)) {
    const parts = match[0].normalize('NFD');
    const char = parts.replaceAll(DOT_BELOW, '').normalize('NFC');
    const dotted = parts.includes(DOT_BELOW);
    if (dotted && !startsWithWord(char))
      fault('A dot below marks no letter.', 'Type the dot (U+0323) after its letter, or _ before it.', match.index);
    clusters.push({ char, dotted, at: match.index });
  }
  return clusters;
}
