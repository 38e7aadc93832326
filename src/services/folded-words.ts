const PLAIN = /^[\0-\x7f\u2044]*$/; // with the stroke that fractions such as ½ are folded to

/**
 * The runs of letters and figures of a folded text. A pattern over all of Unicode takes longer to prepare than a short
 * command takes to run, so a text in ASCII, as most are, is split by a plain one.
 */
export const foldedWords = (folded: string): readonly string[] =>
  folded.match(PLAIN.test(folded) ? /[a-z0-9]+/g : /[\p{L}\p{N}]+/gu) ?? [];
