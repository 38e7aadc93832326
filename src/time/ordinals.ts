import type { Cursor } from './cursor.ts';
import { romanValue } from './roman.ts';

export const ORDINAL_WORDS = [
  'first',
  'second',
  'third',
  'fourth',
  'fifth',
  'sixth',
  'seventh',
  'eighth',
  'ninth',
  'tenth',
  'eleventh',
  'twelfth',
  'thirteenth',
  'fourteenth',
  'fifteenth',
  'sixteenth',
  'seventeenth',
  'eighteenth',
  'nineteenth',
  'twentieth',
];
/** The first four in French and German, folded, as parts of centuries have them; the first twelve in Latin, as days. */
const FOREIGN: Readonly<Record<string, number>> = {
  ...{ premier: 1, premiere: 1, deuxieme: 2, seconde: 2, troisieme: 3, quatrieme: 4 },
  ...{ erste: 1, erstes: 1, ersten: 1, zweite: 2, zweites: 2, zweiten: 2, dritte: 3, drittes: 3, dritten: 3 },
  ...{ vierte: 4, viertes: 4, vierten: 4 },
  ...{ primo: 1, secundo: 2, tertio: 3, quarto: 4, quinto: 5, sexto: 6, septimo: 7, octavo: 8, nono: 9, decimo: 10 },
  ...{ undecimo: 11, duodecimo: 12 },
};
const ENDINGS = ['st', 'nd', 'rd', 'th', 'd', 'e', 'eme', 'er', 'ieme', '.'];

/** `9`, `9th`, `IX`, `ninth`, `twenty-first`: a count of up to 999. */
export function readOrdinal(cursor: Cursor): number | undefined {
  return cursor.attempt(() => {
    const number = cursor.number((value) => value > 0 && value < 1000);
    if (number !== undefined) {
      cursor.take((token) => token.glued && ENDINGS.includes(token.text));
      return Number(number.text);
    }
    return cursor.attempt(compound) ?? simple(cursor);
  });
}

function compound(cursor: Cursor): number | undefined {
  const tens = cursor.word('twenty', 'thirty');
  cursor.sign('-');
  const ones = cursor.take((token) => ORDINAL_WORDS.slice(0, 9).includes(token.text));
  return tens && ones && (tens.text === 'twenty' ? 20 : 30) + ORDINAL_WORDS.indexOf(ones.text) + 1;
}

function simple(cursor: Cursor): number | undefined {
  const word = cursor.take((token) => token.kind === 'word' && countOf(token.text) !== undefined);
  return word === undefined ? undefined : countOf(word.text);
}

function countOf(word: string): number | undefined {
  if (word === 'thirtieth') return 30;
  if (Object.hasOwn(FOREIGN, word)) return FOREIGN[word];
  const place = ORDINAL_WORDS.indexOf(word);
  if (place >= 0) return place + 1;
  if (word === 'id') return undefined; // Idus
  const roman = romanValue(word.replace(/(?<=[ivxlcdm])(?:th|d|e)$/, ''));
  return roman !== undefined && roman < 1000 ? roman : undefined;
}

/** `1st`, `22nd`, `113th`. */
export function ordinal(count: number): string {
  const ending = count % 100 > 10 && count % 100 < 14 ? 'th' : (['th', 'st', 'nd', 'rd'][count % 10] ?? 'th');
  return count + ending;
}
