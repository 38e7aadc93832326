import type { Cursor } from './cursor.ts';
import data from './month-names.json' with { type: 'json' };
import { romanValue } from './roman.ts';

let byName: Map<string, number> | undefined;

/** Every month word that is understood, with its number. */
export function monthWords(): ReadonlyMap<string, number> {
  byName ??= new Map(data.months.flatMap((names, index) => names.map((name) => [name, index + 1] as const)));
  return byName;
}

const { endings, firstNumber, firstMonth } = data.numbered;

/** `7` of `7ber` as 9: the old names count from March. */
const numbered = (count: number): number | undefined =>
  count >= firstNumber && count <= firstNumber + 3 ? count - firstNumber + firstMonth : undefined;

/** A month by name, by number with an ending (`7ber`, `Xbris`), not by bare number. */
export function readMonth(cursor: Cursor): number | undefined {
  return cursor.attempt(() => {
    const named = cursor.take((token) => token.kind === 'word' && monthWords().has(token.text));
    if (named !== undefined) return monthWords().get(named.text);
    const number = cursor.number((value) => numbered(value) !== undefined);
    if (number !== undefined) {
      const ending = cursor.take((token) => token.glued && endings.includes(token.text));
      return ending === undefined ? undefined : numbered(Number(number.text));
    }
    const roman = cursor.peek();
    const count = roman?.kind === 'word' ? romanMonth(roman.text) : undefined;
    if (count !== undefined) cursor.take(() => true);
    return count;
  });
}

function romanMonth(word: string): number | undefined {
  const ending = endings.find((one) => word.endsWith(one));
  const count = ending === undefined ? undefined : romanValue(word.slice(0, -ending.length));
  return count === undefined ? undefined : numbered(count);
}
