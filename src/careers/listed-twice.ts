import type { CareerEvidence, ListedEntry, RecordId } from './evidence.ts';
import { isConcurrent } from './posts.ts';
import { compareIds } from './record-order.ts';

/** An edition in which one person stands in two posts that nobody holds together. */
export type ListedTwice = { readonly edition: string; readonly entries: readonly RecordId[] };

/**
 * Editions in which entries of one person name two substantive posts of one service. A man is printed once in each: such
 * entries are likelier of two people of one name than of a misprint, above all if there are several such editions.
 */
export function listedTwice({ entries, setAside }: CareerEvidence): ListedTwice[] {
  const byEdition = new Map<string, ListedEntry[]>();
  for (const entry of entries) {
    if (isConcurrent(entry) || setAside.has(entry.id) || setAside.has(entry.edition.id)) continue;
    const key = `${entry.edition.id} ${entry.rank.service}`;
    byEdition.set(key, [...(byEdition.get(key) ?? []), entry]);
  }
  const postOf = ({ rank, corps }: ListedEntry): string => `${rank.id} ${corps?.key}`;
  return [...byEdition.values()]
    .filter((together) => new Set(together.map(postOf)).size > 1)
    .map((together) => ({
      edition: together[0]?.edition.label ?? '',
      entries: together.map(({ id }) => id).sort(compareIds),
    }));
}
