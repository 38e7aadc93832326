/** Letters that Unicode does not decompose: ligatures, strokes and letters that printers set in place of others. */
const LETTERS: Readonly<Record<string, string>> = {
  æ: 'ae', // ligature
  œ: 'oe', // ligature
  ß: 'ss',
  ø: 'o',
  ł: 'l',
  đ: 'd',
  ħ: 'h',
  ŧ: 't',
  ı: 'i', // dotless
  ð: 'd',
  þ: 'th',
  ꝛ: 'r', // the round r of blackletter and early hands
};

/** U+0363 to U+036F: small letters written above another one, as in "yͤ"; they are letters, not accents. */
const FIRST_LETTER_ABOVE = 0x363;
const LETTERS_ABOVE = 'aeioucdhmrtvx';

const LETTER_ABOVE = /[\u0363-\u036f]/g;
const OTHER_LETTER = /[æœßøłđħŧıðþꝛ]/g;

/**
 * Whether a text is in ASCII, as most are. A pattern over kinds of letters (`\p{L}`) takes longer to make than most questions
 * take to answer, so that it is made only for texts that are not.
 */
export const isAscii = (text: string): boolean => /^[\0-\x7f]*$/.test(text);

/**
 * The letters of a text without the ways of writing them: lower case, no accents, long s as s, ligatures as their
 * letters, superscript and subscript letters and figures as plain ones. Everything else (spaces, dots, hyphens,
 * brackets) stays. A folded text folds to itself. Signs written as combining marks, such as the dot below an unsure
 * letter, are lost: read them before folding.
 * @see Unicode Standard Annex 15, compatibility decomposition (NFKD).
 * @example fold('Capᵗ Roſſ-Zoë') === 'capt ross-zoe'
 */
export function fold(text: string): string {
  if (isAscii(text)) return text.toLowerCase();
  return text
    .normalize('NFKD')
    .toLowerCase()
    .normalize('NFKD')
    .replace(LETTER_ABOVE, (mark) => LETTERS_ABOVE.charAt(mark.charCodeAt(0) - FIRST_LETTER_ABOVE))
    .replace(/\p{M}/gu, '')
    .replace(OTHER_LETTER, (letter) => LETTERS[letter] ?? letter);
}
