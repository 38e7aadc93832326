import type { Cursor } from './cursor.ts';
import { type Flags, SURE } from './piece.ts';

const ABOUT = [
  ...['c', 'ca', 'circa', 'cca', 'circ', 'about', 'abt', 'around', 'approximately', 'approx', 'roughly'],
  ...['vers', 'environ', 'um', 'etwa', 'gegen'],
];
/** Behind a date too. */
const ABOUT_AFTER = ['circa', 'ca', 'approx', 'environ'];
const PERHAPS = [
  ...['probably', 'prob', 'possibly', 'poss', 'perhaps', 'presumably'],
  ...['probablement', 'wohl', 'vermutlich', 'wahrscheinlich'],
];

/** Words that lead up to a date and change nothing: those of letters, and of lists that say how far they go. */
const LEADS: readonly (readonly string[])[] = [
  ...[
    ['some', 'time'],
    ['sometime'],
    ['dated'],
    ['datiert'],
    ['date'],
    ['datee'],
    ['dans'],
    ['in'],
    ['on'],
    ['during'],
    ['as', 'at'],
    ['as', 'of'],
    ['list', 'of'],
  ],
  ...[
    ['corrected', 'up', 'to'],
    ['corrected', 'to'],
    ['corr', 'to'],
    ['revised', 'to'],
    ['complete', 'to'],
  ],
];

/** `c.`, `probably`, `?` before a date, in any order; words that change nothing (`in`, `dated`) are passed over. */
export function readFlags(cursor: Cursor): Flags {
  let { approximate, uncertain } = SURE;
  for (;;) {
    if (!isCenturyCode(cursor) && cursor.word(...ABOUT)) {
      approximate = true;
      cursor.sign('.');
    } else if (cursor.word(...PERHAPS) || cursor.sign('?')) uncertain = true;
    else if (cursor.sign('~')) approximate = true;
    else if (LEADS.some((phrase) => cursor.words(phrase))) continue;
    else return { approximate, uncertain };
  }
}

/** `C19` is a century; `c19` has no other meaning. */
const isCenturyCode = (cursor: Cursor): boolean =>
  cursor.peek()?.text === 'c' && cursor.peek(1)?.glued === true && /^\d{1,2}$/.test(cursor.peek(1)?.text ?? '');

/** `?`, `~`, `%`, `(?)`, `[?]`, `circa`, `or thereabouts` after a date. */
export function readFlagsAfter(cursor: Cursor): Flags {
  if (cursor.sign('?')) return { approximate: cursor.sign('~') !== undefined, uncertain: true };
  if (cursor.sign('~')) return { approximate: true, uncertain: cursor.sign('?') !== undefined };
  if (cursor.sign('%')) return { approximate: true, uncertain: true };
  if (cursor.word(...ABOUT_AFTER)) return { approximate: true, uncertain: false };
  if (cursor.words(['or', 'thereabouts']) || cursor.words(['or', 'so'])) return { approximate: true, uncertain: false };
  if (cursor.words(['(', '?', ')']) || cursor.words(['[', '?', ']'])) return { approximate: false, uncertain: true };
  return SURE;
}

export const both = (a: Flags, b: Flags): Flags => ({
  approximate: a.approximate || b.approximate,
  uncertain: a.uncertain || b.uncertain,
});
