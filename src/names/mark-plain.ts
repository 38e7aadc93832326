/** The words of a mark that can name somebody, and what stands beside them. */
export type PlainMark = {
  /** As long as the text: what was left out is blank. */
  readonly text: string;
  /** What was left out, as it was written. */
  readonly beside: readonly string[];
};

/** What a cataloguer says of a mark in brackets, where it bears more than words. */
const DESCRIBED =
  /[[(]\s*(?:an?\s+|the\s+)?(?:engraved\s+|painted\s+)?(?:crest|arms|coat[- ]of[- ]arms|armorial|monogram|cipher|cypher|device|badge|shield|coronet|seal|emblem)s?\b[^[\]()]*[\])]/gi;

/** "Mr. & Mrs. J. Holt", "Capt. J. and Lady Holt": whoever is told from another is not who is named. */
const SPOUSE = /(?<=[\p{L}.]\s*)(?:&|\band\b|\bet\b)\s*(?:Mrs|Mistress|Madame|Mme|Lady|Frau)\b\.?(?=\s+\p{L})/giu;

/** "E. & W.T.": the forenames of two, and the first letter of one surname. */
const SECOND_INITIAL = /(?<=(?:^|\s)\p{Lu}\.?\s*)(?:&|\band\b)\s*\p{Lu}\.(?=\s?\p{Lu}\.?\s*$)/gu;

/** Letters set apart from each other, "H o l t", "F E R R A N D"; fewer capitals than five can be initials. */
const APART =
  /(?<![\p{L}\p{N}.'’&])(?:\p{Lu}(?: \p{Ll}){2,}|\p{Lu}(?: \p{Lu}){4,})(?![\p{L}\p{N}.'’])(?! \p{L}(?: |$))/gu;

/** Signs without which none of these can stand there: patterns over all letters take long to be made ready. */
const MAY_JOIN = /&|\b(?:and|et)\b/i;
const MAY_BE_APART = /(?:^|\s)[^\s.[\](){}&,] [^\s.[\](){}&,] /;

/** Takes out of a mark what names nobody, and puts together letters that were set apart. */
export function plainMark(text: string): PlainMark {
  const beside: string[] = [];
  const blank = (found: string): string => {
    beside.push(found.trim());
    return ' '.repeat(found.length);
  };
  let plain = text.replace(DESCRIBED, blank);
  if (MAY_JOIN.test(plain)) plain = plain.replace(SPOUSE, blank).replace(SECOND_INITIAL, blank);
  if (MAY_BE_APART.test(plain)) plain = plain.replace(APART, (found) => found.replaceAll(' ', '').padEnd(found.length));
  return { text: plain, beside };
}
