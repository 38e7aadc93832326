import type { ListEntry } from './entries.ts';
import { compareTexts } from './numbered.ts';

/**
 * Places of the entries in the order of edition, then of the wording, and only between lines that say the same in that of
 * their ids: so the order in which entries were recorded decides nothing.
 */
export function inOrderOfTime(entries: readonly ListEntry[], stepOf: Int32Array): Int32Array {
  const distinct = [...new Set(entries.map(({ surname }) => surname))].sort();
  const numbers = new Map(distinct.map((surname, number) => [surname, number]));
  const surname = Int32Array.from(entries, (entry) => numbers.get(entry.surname) as number);
  const step = Int32Array.from(entries, (entry) => stepOf[entry.edition] as number);
  const bySurname = countingOrder(
    surname,
    Int32Array.from(entries, (_, at) => at),
    distinct.length,
  );
  const order = countingOrder(step, bySurname, stepOf.length);
  let from = 0;
  for (let until = 1; until <= order.length; until++) {
    const [first, next] = [order[from] as number, order[until]];
    if (next !== undefined && step[next] === step[first] && surname[next] === surname[first]) continue;
    if (until - from > 1)
      order.subarray(from, until).sort((a, b) => compareLines(entries[a] as ListEntry, entries[b] as ListEntry));
    from = until;
  }
  return order;
}

/** The same places in the order of their numbers, equal ones as they stood. */
function countingOrder(numbers: Int32Array, places: Int32Array, count: number): Int32Array {
  const next = new Int32Array(count + 1);
  for (const number of numbers) next[number + 1] = (next[number + 1] as number) + 1;
  for (let at = 0; at < count; at++) next[at + 1] = (next[at + 1] as number) + (next[at] as number);
  const ordered = new Int32Array(places.length);
  for (const place of places) {
    const number = numbers[place] as number;
    ordered[next[number] as number] = place;
    next[number] = (next[number] as number) + 1;
  }
  return ordered;
}

const wordingOf = ({ forenames, suffix, kind, rank, corps, dated, seniority }: ListEntry): string =>
  [forenames, suffix, kind, rank?.id, corps?.key, dated?.span.from, dated?.span.until, seniority].join('\n');

const compareLines = (a: ListEntry, b: ListEntry): number =>
  compareTexts(wordingOf(a), wordingOf(b)) || compareTexts(a.id, b.id);
