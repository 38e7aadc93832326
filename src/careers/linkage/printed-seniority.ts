import type { ListEntry } from './entries.ts';

/** Fewest lines of one rank, and fewest different dates of rank among them, by which the order of a list is known. */
const FEWEST_LINES = 20;
const FEWEST_DATES = 8;
/** So many of the lines in a row must not be of earlier date than the line before them. */
const IN_ORDER = 0.98;

type PrintedLine = Pick<ListEntry, 'edition' | 'rank' | 'dated' | 'kind'> & {
  /** Rises from line to line of an edition. */
  readonly line: number;
};

/**
 * The place of each line in the order of seniority of its rank, 1 the most senior; undefined where the list does not
 * stand in that order. That a list stands in it is seen by its dates of rank: those of one rank rise from line to line,
 * but for a misprint here and there. It holds for editions taken down whole only: where lines are wanting, places do not
 * compare.
 */
export function printedSeniority(
  lines: readonly PrintedLine[],
  isWhole: (edition: number) => boolean,
): (number | undefined)[] {
  const groups = new Map<string, number[]>();
  for (const [place, { edition, rank, kind }] of lines.entries()) {
    if (rank === undefined || kind !== 'substantive' || !isWhole(edition)) continue;
    const key = `${edition} ${rank.id}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [place]);
    else group.push(place);
  }
  const found: (number | undefined)[] = new Array(lines.length).fill(undefined);
  for (const group of groups.values()) {
    if (group.length < FEWEST_LINES) continue;
    group.sort((a, b) => (lines[a] as PrintedLine).line - (lines[b] as PrintedLine).line);
    if (!standsInOrder(group.flatMap((place) => lines[place]?.dated?.span.from ?? []))) continue;
    for (const [order, place] of group.entries()) found[place] = order + 1;
  }
  return found;
}

function standsInOrder(days: readonly number[]): boolean {
  if (days.length < FEWEST_LINES || new Set(days).size < FEWEST_DATES) return false;
  const rising = days.filter((day, at) => at > 0 && day >= (days[at - 1] as number)).length;
  return rising >= IN_ORDER * (days.length - 1);
}
