import names from './name-words.json' with { type: 'json' };
import particles from './particles.json' with { type: 'json' };

const PLAIN = /^(?:(?:[A-Z][a-z]+|[A-Z]\.) )+[A-Z][a-z]{2,}$/;

let special: ReadonlySet<string> | undefined;

/** Every word that can be something else than a forename or a surname. */
function specialWords(): ReadonlySet<string> {
  special ??= new Set([
    ...names.titles,
    ...names.peerage,
    ...names.honours,
    ...names.suffixes,
    ...names.numbers,
    ...names.ranks,
    ...names['before a rank'],
    ...names['another name'],
    ...particles.particles,
    ...particles.prefixes,
  ]);
  return special;
}

/**
 * The commonest form of a name, `Julian P. Ferrand`, taken apart as `readName` would, in a small part of its time: for
 * lists of which every line has one. Undefined for any other, which `readName` has to read.
 */
export function plainName(text: string): { readonly surname: string; readonly forenames: string } | undefined {
  if (!PLAIN.test(text)) return undefined;
  const words = specialWords();
  for (const word of text.toLowerCase().split(/[ .]+/)) if (word.length > 1 && words.has(word)) return undefined;
  const last = text.lastIndexOf(' ');
  return { surname: text.slice(last + 1), forenames: text.slice(0, last) };
}
