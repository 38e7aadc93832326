/**
 * What people recorded, made harmless for each form in which it is given. In every form it stays text: nothing in a
 * field can begin a command of a terminal, an element, a link, a formula, or turn the direction of writing.
 */

/**
 * 1. Control signs (a terminal's escapes among them); 2. signs that turn the direction of writing; 3. signs that take no
 * room; 4. ends of lines and paragraphs; 5. halves of characters and code points that are no characters.
 */
const UNSEEN_SIGNS =
  '[\\p{Cc}\\p{Cf}\\p{Cs}\\p{Zl}\\p{Zp}\\p{Default_Ignorable_Code_Point}\\p{Noncharacter_Code_Point}]';
let unseenSigns: RegExp | undefined;
/** Made when it is first needed: to make it takes longer than to print many an answer, and few texts need it. */
const unseen = (): RegExp => {
  unseenSigns ??= new RegExp(UNSEEN_SIGNS, 'gu');
  return unseenSigns;
};

/** ASCII, the letters of Latin scripts and the usual dashes and quotation marks: of these every one can be seen. */
const SEEN = /^[\x20-\x7e\xa0-\xac\xae-\u034e\u2010-\u2027\u2030-\u205e]*$/;

const SPACING = /[\t\n\v\f\r\u0085\u2028\u2029]+/g;

/** A text in one line: tabs and ends of lines are spaces, and whatever else cannot be seen is shown as its number. */
export const visible = (text: string): string =>
  SEEN.test(text)
    ? text
    : text.replaceAll(SPACING, ' ').replaceAll(unseen(), (sign) => `\\u{${(sign.codePointAt(0) ?? 0).toString(16)}}`);

/** The same for a text of several paragraphs: its own ends of lines part them. */
export const visibleParagraphs = (text: string): string[] =>
  text
    .split(/\r\n|[\n\r\u0085\u2028\u2029]/)
    .map((line) => visible(line).trim())
    .filter((line) => line !== '');

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** For the content and the quoted attributes of HTML, SVG and other XML. */
export const escapedMarkup = (text: string): string =>
  visible(text).replaceAll(/[&<>"']/g, (sign) => ENTITIES[sign] ?? sign);

/**
 * For a line of Markdown (CommonMark with tables and bare addresses).
 * 1. Signs that mean something anywhere are escaped. 2. A point after `www`, a colon before `//` and an at sign between
 * letters would make links. 3. At the start, signs that begin a list, a heading or a rule.
 */
export const escapedMarkdown = (text: string): string =>
  visible(text)
    .trim()
    .replaceAll(/[\\`*_[\]<>#|~&$^]/g, '\\$&')
    .replaceAll(/:(?=\/\/)/g, '\\:')
    .replaceAll(/(www)\./gi, '$1\\.')
    .replaceAll(/(?<=\S)@(?=\S)/g, '\\@')
    .replaceAll(/^([-+=])/g, '\\$1')
    .replaceAll(/^(\d+)([.)])/g, '$1\\$2');

/** JSON in which whatever cannot be seen stands as its number: exact for programs, harmless on a terminal. */
export const safeJson = (value: unknown, indent?: number): string =>
  JSON.stringify(value, null, indent).replaceAll(/[^\n\x20-\x7e]+/g, (signs) =>
    SEEN.test(signs) ? signs : signs.replaceAll(unseen(), unicodeEscapes),
  );

const unicodeEscapes = (sign: string): string =>
  sign
    .split('')
    .map((half) => `\\u${half.charCodeAt(0).toString(16).padStart(4, '0')}`)
    .join('');
