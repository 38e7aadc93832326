import { HeldbyError } from '../errors.ts';
import WORDS from './column-words.json' with { type: 'json' };
import type { ListField } from './list-fields.ts';

/** A column taken for a field by what its header says. */
export type Guess = { readonly field: ListField; readonly column: string };

/**
 * Which of the headers that stand for no field yet are likely to be which field that has no column yet. Taken only where
 * nothing else can be meant; whoever records by it tells it.
 * @throws HeldbyError INPUT_FILE where two columns may be one field.
 */
export function guessColumns(headers: readonly string[], wanted: readonly ListField[]): readonly Guess[] {
  const guesses = wanted.flatMap((field): Guess[] => {
    const words: readonly string[] = WORDS.fields[field];
    const fitting = headers.filter((header) => words.includes(inPlainWords(header)));
    const [column] = fitting;
    if (fitting.length > 1)
      throw new HeldbyError(
        'INPUT_FILE',
        `The columns ${fitting.map((header) => `"${header}"`).join(' and ')} may both stand for ${field}.`,
        `Say which one it is: --map ${field}=COLUMN; or none: --map ${field}=`,
        `line 1, column ${fitting[1]}`,
      );
    return column === undefined ? [] : [{ field, column }];
  });
  // Forenames alone are read with a surname only; a name as printed has its own.
  const hasSurname = !wanted.includes('surname') || guesses.some(({ field }) => field === 'surname');
  return guesses.filter(({ field }) => field !== 'forenames' || hasSurname);
}

/** `Surname & Initials`, `Page no.`, `Officer’s name`, `Iſſue` in small letters, without points and possessives. */
const inPlainWords = (header: string): string =>
  header
    .replaceAll('ſ', 's')
    .toLowerCase()
    .replaceAll(/['’]s\b/g, '')
    .replaceAll('&', ' and ')
    .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

/**
 * The guess as the options that say the same, and how to say otherwise.
 * @param keptAs under which name it is kept for the next time, if it is.
 */
export function guessInWords(guesses: readonly Guess[], keptAs: string | undefined): readonly string[] {
  if (guesses.length === 0) return [];
  const taken = guesses.map(({ field, column }) => `"${column}" for ${field}`);
  const [{ field, column }] = guesses as readonly [Guess, ...Guess[]];
  const keep =
    keptAs === undefined
      ? `To keep them under a name for the next time: --mapping NAME --map "${field}=${column}"`
      : `Kept as ${keptAs} for the next time.`;
  return [
    `Columns guessed by their headers: ${taken.join(', ')}. Otherwise: --map FIELD=COLUMN, or --map FIELD= for none. ${keep}`,
  ];
}
