import { CORPS, DATED, FIELDS, FORENAMES, RANK, SUFFIX, SURNAME } from './fields.ts';
import type { LearnedFrom } from './learn.ts';
import type { WeightTable } from './linkage.ts';
import { fieldRanges } from './weights.ts';

/** Levels whose weight depends on the value in which two lines agree. */
const BY_VALUE: ReadonlySet<number> = new Set([
  SURNAME,
  SURNAME + 1,
  SURNAME + 2,
  FORENAMES,
  FORENAMES + 1,
  SUFFIX + 1,
  RANK,
  DATED.sameRank,
  DATED.higherRank,
  DATED.otherRank,
  CORPS,
]);

/** The weights as they were estimated, for a table. */
export function weightTable({ weights, staying, seen, likelyPairs, strangerPairs }: LearnedFrom): WeightTable {
  const ranges = fieldRanges();
  return {
    rows: FIELDS.flatMap(({ name, levels }, field) =>
      levels.map((level, place) => {
        const at = (ranges[field]?.first ?? 0) + place;
        return {
          field: name,
          level: level.name,
          sameMan: weights.m[at] as number,
          twoMen: weights.u[at] as number,
          bits: weights.bits[at] as number,
          byValue: BY_VALUE.has(at),
          seen: { sameMan: seen.same[at] as number, twoMen: seen.different[at] as number },
        };
      }),
    ),
    found: staying.hazards.map((chance, of) => ({
      editions: 2 ** of,
      chance,
      seen: { found: seen.staying.found[of] ?? 0, of: seen.staying.open[of] ?? 0 },
    })),
    newShare: staying.newShare,
    sample: {
      entries: seen.lines,
      people: seen.men,
      likelyPairs,
      strangerPairs,
      later: seen.staying.entries,
      firsts: seen.staying.newMen,
    },
  };
}
