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

/**
 * A month by name, also contracted as clerks did (`Feb.y`, `Sept:r`, `Sep'r`), or by number with an ending (`7ber`,
 * `Xbris`), not by bare number.
 */
export function readMonth(cursor: Cursor): number | undefined {
  return cursor.attempt(() => {
    const contraction = contracted(cursor);
    if (contraction !== undefined) return contraction;
    const named = cursor.take((token) => token.kind === 'word' && monthWords().has(nameOf(token.text)));
    if (named !== undefined) return monthWords().get(nameOf(named.text));
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

/** Without the apostrophe of a contraction, and without the `d'` of `16 d'août`. */
const nameOf = (word: string): string => word.replace(/^d'/, '').replaceAll("'", '');

/** `Feb.y`: the last letters stand above the line or behind a point. Nothing is read on the way to finding none. */
function contracted(cursor: Cursor): number | undefined {
  const length = cursor.peek(1)?.text === ':' ? 3 : 2;
  const [head, tail] = [cursor.peek(), cursor.peek(length - 1)];
  const isGlued = cursor.peek(1)?.glued === true && tail?.glued === true;
  if (head?.kind !== 'word' || tail?.kind !== 'word' || !isGlued || head.text.length < 2) return undefined;
  const month = monthWords().get(head.text + tail.text);
  for (let taken = 0; month !== undefined && taken < length; taken++) cursor.take(() => true);
  return month;
}

function romanMonth(word: string): number | undefined {
  const ending = endings.find((one) => word.endsWith(one));
  const count = ending === undefined ? undefined : romanValue(word.slice(0, -ending.length));
  return count === undefined ? undefined : numbered(count);
}
