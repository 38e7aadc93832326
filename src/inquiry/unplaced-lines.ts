import { linesOfNobody } from '../ledger/entries.ts';
import { forenameBits, readForenames } from '../names/forenames.ts';
import type { MarkQuestion } from './mark-question.ts';

/** Lines of the lists whose name agrees with a mark, but which are nobody's yet, so that they were not weighed. */
export type UnplacedLines = {
  readonly count: number;
  /** The first of them, the nearest names before others. */
  readonly entries: readonly string[];
};

/** Who reads the answer needs to see that there are some, and where to look; `careers` shows them all. */
const MOST_NAMED = 20;

/** A line counts where its surname is within the limit of the reading and its forenames do not contradict it. */
export function unplacedLines({ db, sought, assumptions }: MarkQuestion): UnplacedLines {
  const asked = sought.readings?.map((one) => one.sought) ?? [sought];
  const surnames = new Set(asked.flatMap(({ surnameBits }) => [...(surnameBits?.keys() ?? [])]));
  if (surnames.size === 0) return { count: 0, entries: [] };
  const contradict = assumptions.values['agree.forenames.contradict'];
  const found = linesOfNobody(db, [...surnames]).flatMap(({ id, surname, forenames }) => {
    const read = readForenames(forenames ?? '');
    const bits = asked.flatMap(({ surnameBits, forenames: written }) => {
      const far = surnameBits?.get(surname);
      const other = forenameBits(written, read, assumptions);
      return far === undefined || other >= contradict ? [] : [far + other];
    });
    return bits.length === 0 ? [] : [{ id, bits: Math.min(...bits) }];
  });
  found.sort((a, b) => a.bits - b.bits || a.id - b.id);
  return { count: found.length, entries: found.slice(0, MOST_NAMED).map(({ id }) => `e${id}`) };
}
