import type { UsedNilSearch } from './constraints.ts';
import { endNode } from './constraints.ts';
import type { RecordId } from './evidence.ts';
import type { SettledCareer } from './solve.ts';

/**
 * How a nil search is read, given all else that is known.
 * 1. `before`: the service had not begun. 2. `after`: it had ended. 3. `between`: it was broken between two posts.
 * 4. `printer`: no gap can hold it, so the printer left the name out. 5. `likely break`: the same of three or more in a
 * row, which may be a break of the service. 6. `undecided`: more than one gap can hold it. 7. `no post`: nothing is known
 * of the person in that service. 8. `contradicted`: it could be used, but contradicts other searches and gives way.
 */
export type NilReading = {
  readonly id: RecordId;
  readonly reading:
    | 'before'
    | 'after'
    | 'between'
    | 'printer'
    | 'likely break'
    | 'undecided'
    | 'no post'
    | 'contradicted';
  /** Places of the posts around the gap, as far as there are any. */
  readonly last: number | undefined;
  readonly next: number | undefined;
};

/** The reading of every nil search of a career. */
export function nilReadings({ model, settled }: SettledCareer): NilReading[] {
  const { findings, off } = settled;
  const { positive, nilSearches, rows } = model;
  const omitted = new Set(findings.omissions.map(({ claim }) => claim));
  const unused = new Set(findings.unused.map(({ id }) => id));
  const usedOf = new Map(findings.used.map((used) => [used.claim, used]));
  return nilSearches.map(({ record }, at): NilReading => {
    const claim = positive.length + at;
    const plain = (reading: NilReading['reading']): NilReading => ({
      id: record.id,
      reading,
      last: undefined,
      next: undefined,
    });
    if (off[claim] === 1) return plain('contradicted');
    if (omitted.has(claim)) return plain(unused.has(record.id) ? 'likely break' : 'printer');
    const used = usedOf.get(claim);
    if (used === undefined)
      return plain(
        rows.some(({ service, concurrent }) => service === record.service && !concurrent) ? 'undecided' : 'no post',
      );
    return { id: record.id, ...gapOf(used) };
  });
}

/** An end that comes before the search, a start that comes after it, or both. */
function gapOf({ gapAfter, edges }: UsedNilSearch): Pick<NilReading, 'reading' | 'last' | 'next'> {
  if (gapAfter !== undefined) return { reading: 'between', last: gapAfter, next: gapAfter + 1 };
  const [edge] = edges;
  const [x, y] = edge ?? [0, 0];
  const isEnd = x !== 0 && x % 2 === 0 && endNode(x / 2 - 1) === x;
  return isEnd
    ? { reading: 'after', last: x / 2 - 1, next: undefined }
    : { reading: 'before', last: undefined, next: (y - 1) / 2 };
}
