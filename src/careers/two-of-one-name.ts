import type { CareerEvidence, ListedEntry, RecordId } from './evidence.ts';
import { linesInOrder } from './slips.ts';

/** Lines of one post with one date of rank, which are one person's whoever that is. */
export type PostLines = {
  readonly post: string;
  readonly editions: readonly string[];
  readonly entries: readonly RecordId[];
};

/**
 * The lines that would be the other's, were the person two of one name. Lines of one edition are of two people, lines of
 * one post with one date of rank of one. Posts that meet in an edition are coloured with two colours; those that do not
 * hang together with them go by their corps, if only one of the two was in it. Where that leaves a doubt nothing is given,
 * else the lines of the lesser of the two. Posts that meet no other stay where they are.
 */
export function linesOfAnother(evidence: CareerEvidence): PostLines[] {
  const posts = new Map<string, ListedEntry[]>();
  for (const line of linesInOrder(evidence).flat()) {
    const key = `${line.rank.id} ${line.corps?.key} ${line.dated?.span.from}`;
    posts.set(key, [...(posts.get(key) ?? []), line]);
  }
  const all = [...posts.values()];
  const meet = (a: readonly ListedEntry[], b: readonly ListedEntry[]): boolean =>
    a.some((line) => b.some((other) => other.edition.id === line.edition.id));
  const colour = new Map<ListedEntry[], 0 | 1>();
  const spread = (post: ListedEntry[], own: 0 | 1): boolean => {
    const known = colour.get(post);
    if (known !== undefined) return known === own;
    colour.set(post, own);
    return all.every((other) => other === post || !meet(post, other) || spread(other, own === 0 ? 1 : 0));
  };
  const meeting = all.filter((post) => all.some((other) => other !== post && meet(post, other)));
  const [first] = meeting;
  if (first === undefined || !spread(first, 0)) return [];
  for (;;) {
    const open = meeting.filter((post) => !colour.has(post));
    if (open.length === 0) break;
    const next = open.flatMap((post) => {
      const alike = new Set([...colour].flatMap(([other, own]) => (sameCorps(post, other) ? [own] : [])));
      return alike.size === 1 ? [{ post, own: [...alike][0] as 0 | 1 }] : [];
    })[0];
    if (next === undefined || !spread(next.post, next.own)) return [];
  }
  const of = (one: 0 | 1): ListedEntry[][] => all.filter((post) => colour.get(post) === one);
  const lines = (one: 0 | 1): number => of(one).reduce((sum, post) => sum + post.length, 0);
  return of(lines(1) <= lines(0) ? 1 : 0).map((post) => ({
    post: `${post[0]?.rank.title}${post[0]?.corps === undefined ? '' : `, ${post[0].corps.name}`}`,
    editions: post.map(({ edition }) => edition.label),
    entries: post.map(({ id }) => id),
  }));
}

const sameCorps = ([a]: readonly ListedEntry[], [b]: readonly ListedEntry[]): boolean =>
  a?.corps?.key === b?.corps?.key;
