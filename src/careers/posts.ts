import type { Rank } from '../services/rank.ts';
import type { Attested } from './attested.ts';
import { attestedByEntry, attestedByNotice, byMiddle, statesEnd, statesStart } from './attested.ts';
import {
  type AppointmentKind,
  type CareerEvidence,
  type Corps,
  isSuccessive,
  type Notice,
  type RecordId,
} from './evidence.ts';

/** All that is recorded of one rank in one corps, whether held once or several times. */
export type Post = {
  readonly rank: Rank;
  readonly corps: Corps | undefined;
  readonly kind: AppointmentKind;
  /** Entries and notices of its start, by their middle. */
  attested: Attested[];
  /** Notices that its holder left it. */
  readonly leavings: Notice[];
};

export type Unused = { readonly id: RecordId; readonly reason: string };

/** Whether an appointment is held beside a succession and takes no part in it. */
export const isConcurrent = (post: { readonly rank: Rank; readonly kind: AppointmentKind }): boolean =>
  !isSuccessive(post.kind) || post.rank.concurrent;

const sameRank = (a: Rank, b: Rank): boolean => a.id === b.id && a.service === b.service;

/**
 * The posts of a person, each with its evidence.
 *
 * 1. Entries and notices of the same service, rank, corps and kind are about one post.
 * 2. Where the corps is not given, the post is that of the same rank and kind that is nearest in time.
 * 3. A notice of a start that names no rank but a corps is about the nearest post in that corps.
 * 4. A notice of leaving is about the post that it names; what it does not name is that of the post then held.
 * 5. Half-pay with the rank is a post of its own here, which follows the post that it keeps the rank of; so is retirement.
 * 6. A notice of leaving with a rank that is not otherwise known makes that post known.
 */
export function gatherPosts(evidence: CareerEvidence): { posts: Post[]; unused: Unused[] } {
  const posts: Post[] = [];
  const unused: Unused[] = [];
  for (const entry of evidence.entries) {
    postOf(posts, entry.rank, entry.corps, entry.kind).attested.push(attestedByEntry(entry));
  }
  for (const notice of evidence.notices) {
    if (notice.rank !== undefined && statesStart(notice.event)) {
      postOf(posts, notice.rank, notice.corps, notice.kind).attested.push(attestedByNotice(notice));
    }
  }
  const known = placeUnknownCorps(posts);
  for (const post of known) post.attested.sort(byMiddle);
  for (const notice of evidence.notices) {
    if (notice.rank === undefined && statesStart(notice.event)) placeStartWithoutRank(known, notice, unused);
  }
  for (const notice of evidence.notices) {
    if (statesEnd(notice.event)) placeLeaving(known, notice, unused);
  }
  return { posts: known, unused };
}

function postOf(posts: Post[], rank: Rank, corps: Corps | undefined, kind: AppointmentKind): Post {
  const corpsKey = corps?.key;
  for (const post of posts) {
    if (sameRank(post.rank, rank) && post.corps?.key === corpsKey && post.kind === kind) return post;
  }
  const made: Post = { rank, corps, kind, attested: [], leavings: [] };
  posts.push(made);
  return made;
}

/** Days between the middle of a record and the days for which a post is attested; 0 inside them. */
function distance(post: Post, middle: number): number {
  let before = Infinity;
  let after = Infinity;
  for (const other of post.attested) {
    if (other.middle >= middle) before = Math.min(before, other.middle - middle);
    if (other.middle <= middle) after = Math.min(after, middle - other.middle);
  }
  return before < Infinity && after < Infinity ? 0 : Math.min(before, after);
}

function firstMiddle(post: Post): number {
  let first = Infinity;
  for (const { middle } of post.attested) first = Math.min(first, middle);
  return first;
}

/** Days from a start to the first record of a post. */
const distanceToFirst = (post: Post, middle: number): number => Math.abs(firstMiddle(post) - middle);

function nearest(posts: readonly Post[], away: (post: Post) => number): Post | undefined {
  let best: Post | undefined;
  let least = Infinity;
  for (const post of posts) {
    const days = away(post);
    if (best === undefined || days < least || (days === least && olderThan(post, best))) {
      best = post;
      least = days;
    }
  }
  return best;
}

/** Decides between posts that are equally near, whatever the order in which they were met. */
function olderThan(a: Post, b: Post): boolean {
  const days = firstMiddle(a) - firstMiddle(b);
  return days < 0 || (!(days > 0) && (a.corps?.key ?? '') < (b.corps?.key ?? ''));
}

function placeUnknownCorps(posts: Post[]): Post[] {
  if (!posts.some((post) => post.corps === undefined)) return posts;
  const kept = posts.filter((post) => post.corps !== undefined);
  const known = [...kept];
  for (const vague of posts) {
    if (vague.corps !== undefined) continue;
    const rivals = known.filter((post) => sameRank(post.rank, vague.rank) && post.kind === vague.kind);
    if (rivals.length === 0) {
      kept.push(vague);
      continue;
    }
    const places = vague.attested.map(({ record, middle }) =>
      nearest(rivals, (post) => ('edition' in record ? distance(post, middle) : distanceToFirst(post, middle))),
    );
    vague.attested.forEach((item, at) => {
      places[at]?.attested.push(item);
    });
  }
  return kept;
}

function placeStartWithoutRank(posts: readonly Post[], notice: Notice, unused: Unused[]): void {
  const item = attestedByNotice(notice);
  const fitting = posts.filter(
    (post) =>
      notice.corps !== undefined &&
      post.corps?.key === notice.corps.key &&
      post.kind === notice.kind &&
      (notice.service === undefined || post.rank.service === notice.service),
  );
  const post = nearest(fitting, (one) => distanceToFirst(one, item.middle));
  if (post === undefined) {
    unused.push({
      id: notice.id,
      reason: 'The notice names no rank, and the post that it began is not otherwise known.',
    });
    return;
  }
  post.attested.push(item);
  post.attested.sort(byMiddle);
}

function placeLeaving(posts: Post[], notice: Notice, unused: Unused[]): void {
  const fitting = posts.filter((post) => isMeant(post, notice));
  const last = notice.date.span.until - 1;
  const held = heldThen(fitting, (item) => item.last < last) ?? heldThen(fitting, (item) => item.first < last);
  if (held !== undefined) held.leavings.push(notice);
  else if (notice.rank === undefined) {
    unused.push({ id: notice.id, reason: 'No post is known that was held on the day of the notice.' });
  } else {
    const post = nearest(fitting, firstMiddle) ?? postOf(posts, notice.rank, notice.corps, notice.kind);
    post.leavings.push(notice);
  }
}

function isMeant(post: Post, notice: Notice): boolean {
  const { rank, corps, service } = notice;
  if (corps !== undefined && post.corps !== undefined && post.corps.key !== corps.key) return false;
  if (rank === undefined) {
    return (service === undefined || post.rank.service === service) && !post.rank.concurrent && isLeft(post, notice);
  }
  return sameRank(post.rank, rank) && (isLeft(post, notice) || post.rank.concurrent);
}

/** Only one in post is placed on half-pay; one on half-pay can retire, resign or be dismissed as well. */
function isLeft({ kind }: Post, notice: Notice): boolean {
  if (!isSuccessive(notice.kind)) return kind === notice.kind;
  return kind === 'substantive' || (kind === 'half-pay' && notice.event !== 'half-pay');
}

/**
 * The post then held: of those that `begun` shows to have begun, the highest in the service that was attested last;
 * where no ladder tells, the one attested last.
 */
function heldThen(posts: readonly Post[], begun: (item: Attested) => boolean): Post | undefined {
  const lastMiddle = (post: Post): number => {
    let middle = Number.NaN;
    for (const item of post.attested) if (begun(item)) middle = item.middle;
    return middle;
  };
  const held = posts
    .map((post) => ({ post, middle: lastMiddle(post) }))
    .filter(({ middle }) => !Number.isNaN(middle))
    .sort((a, b) => b.middle - a.middle || (olderThan(a.post, b.post) ? -1 : 1));
  const service = held[0]?.post.rank.service;
  let best = held[0]?.post;
  for (const { post } of held) {
    if (best !== undefined && post.rank.service === service && isSenior(post.rank, best.rank)) best = post;
  }
  return best;
}

const isSenior = (a: Rank, b: Rank): boolean => a.order !== undefined && b.order !== undefined && a.order > b.order;
