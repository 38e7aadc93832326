import { HeldbyError } from '../errors.ts';
import { startsWithLetter } from './characters.ts';
import data from './mark-words.json' with { type: 'json' };

/**
 * Refuses ways of writing damage that a transcription would read as something else, and tells how to write each:
 * 1. `Ho??`, `Holt?`, `H*lt`: a question mark or an asterisk that touches a letter; 2. `...lt`, `Ho…`: dots;
 * 3. `(Holt|Hult)`: readings side by side in brackets;
 * 4. `Hol--`, or a hyphen that ends the text; 5. `[illegible]`, `[struck through]`: a remark in brackets.
 * For words just typed. What a ledger holds is read as it stands, for a label may bear such a sign itself.
 * @throws HeldbyError READING, where the sign stands.
 */
export function refuseLooseSigns(text: string): void {
  for (const match of text.matchAll(/\[([^\][]+)\]/g)) {
    const words = (match[1] ?? '').toLowerCase().split(/[\s.?]+/);
    const hint = data.remarks.find(({ of }) => of.some((remark) => words.includes(remark)))?.hint;
    if (hint !== undefined) refuse(`"${match[0]}" would be read as letters that were restored.`, hint, match.index);
  }
  const either = !/[|/]/.test(text) ? null : /(?<!_)\((?=[^()]*[|/])\p{L}+[|/]\p{L}+\)/u.exec(text);
  if (either !== null)
    refuse(
      `"${either[0]}" would be read as the end of a line in a bracket.`,
      'Record each reading by itself (heldby reading add), or write F_(a/e)rrand for one letter that is a or e.',
      either.index,
    );
  // What stands in brackets or behind a backslash is left out, its place kept.
  const open = text.replace(/\\.|\[[^\]]*\]|_\([^)]*\)/gs, (inside) => '\0'.repeat(inside.length));
  for (const { pattern, message, hint } of LOOSE) {
    for (const match of open.matchAll(pattern)) {
      const [before, after] = [text.charAt(match.index - 1), text.charAt(match.index + match[0].length)];
      if (startsWithLetter(before) || startsWithLetter(after)) refuse(message(match[0]), hint, match.index);
    }
  }
}

const LOOSE: readonly {
  readonly pattern: RegExp;
  readonly message: (sign: string) => string;
  readonly hint: string;
}[] = [
  {
    pattern: /[?*]+/g,
    message: (sign) => `It is not clear what "${sign}" stands for.`,
    hint: 'Write _t for an unsure t, [.] for one lost letter, [---] for any number, or \\? for a sign on the object.',
  },
  {
    pattern: /[.·•]{2,}|…/g,
    message: (sign) => `It is not clear how much is lost at "${sign}".`,
    hint: 'Write [..] for two lost letters, [---] for any number.',
  },
  {
    pattern: /[-‐‑‒–—]{2,}|-(?=\s*$)/g,
    message: (sign) => `It is not clear how much is lost at "${sign}".`,
    hint: 'Write [---] for any number of lost letters, or | behind the hyphen where the word goes on in the next line.',
  },
];

function refuse(message: string, hint: string, at: number): never {
  throw new HeldbyError('READING', message, hint, `character ${at + 1}`);
}
