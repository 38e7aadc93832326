import type { Appointment } from './appointments.ts';
import type { RecordedClaim } from './claims.ts';
import { endNode, type Model, type Row, startNode, type UsedNilSearch } from './constraints.ts';
import type { NilSearch } from './evidence.ts';
import { ORIGIN } from './network.ts';
import type { Unused } from './posts.ts';

/** A nil search that no gap can hold: the printer left the name out. `against` are positive claims by their places. */
type Omission = { readonly claim: number; readonly against: readonly number[] };

export type NilFindings = {
  readonly used: readonly UsedNilSearch[];
  readonly omissions: readonly Omission[];
  readonly unused: readonly Unused[];
};

const NOTHING: NilFindings = { used: [], omissions: [], unused: [] };

/**
 * What nil searches tell, given the positive claims that are not set aside. The day x of a nil search lies where its
 * edition can stand as at, p − L <= x <= q, and outside every post of the succession: before the first, after the
 * last, or between two (end <= x, next start >= x + 1).
 *
 * 1. One gap can hold it: it is used there.
 * 2. None can: it is an omission of the printer, and not used.
 * 3. Several can: it is kept, and not used.
 * 4. Three or more omissions in a row between two listings in one post are likely to be a break of service, which is
 *    for the researcher to decide.
 */
export function placeNilSearches(model: Model, off: Uint8Array): NilFindings {
  if (model.nilSearches.length === 0) return NOTHING;
  const used: UsedNilSearch[] = [];
  const omissions: Omission[] = [];
  const unused: Unused[] = [];
  const reaches = new Map<Row, Reach>();
  model.nilSearches.forEach(({ record }, k) => {
    const claim = model.positive.length + k;
    if (off[claim] === 1) return;
    const row = model.rows.find((other) => other.service === record.service && !other.concurrent);
    if (row === undefined) {
      unused.push({
        id: record.id,
        reason: `No post in the service "${record.service}" is known that it could bound.`,
      });
      return;
    }
    let reach = reaches.get(row);
    if (reach === undefined) {
      reach = reachOf(model, row, off);
      reaches.set(row, reach);
    }
    const gaps = possibleGaps(row, reach, record);
    if (gaps.length === 1) used.push(use(row, gaps[0] as number, record, claim));
    else if (gaps.length === 0) omissions.push({ claim, against: contradicting(model, row, off, record) });
    else unused.push({ id: record.id, reason: 'It could lie in more than one gap of the succession.' });
  });
  for (const run of likelyBreaks(model, off, omissions)) unused.push(...run);
  return { used, omissions, unused };
}

const firstDay = ({ edition }: NilSearch): number => edition.asAt.span.from - edition.lagDays;
const lastDay = ({ edition }: NilSearch): number => edition.asAt.span.until - 1;

/** For each slot of a row: the first day its end can be from what goes before, the last its start from what follows. */
type Reach = { readonly end: readonly number[]; readonly start: readonly number[] };

/**
 * A gap parts a succession in two, and each part must be possible by itself. So the earliest end before a gap follows
 * from the lower bounds of the posts up to it, and the latest start after it from the upper bounds of those that
 * follow: one sweep forwards, one backwards.
 */
function reachOf({ claimed }: Model, { first, last }: Row, off: Uint8Array): Reach {
  const nodes = 2 * (last - first + 1);
  const base = startNode(first);
  const lower = new Float64Array(nodes).fill(-Infinity);
  const upper = new Float64Array(nodes).fill(Infinity);
  const leastDays = new Float64Array(last - first + 1).fill(1);
  for (let at = 0; at < claimed.w.length; at++) {
    if (off[claimed.claim[at] as number] === 1) continue;
    const x = (claimed.x[at] as number) - base;
    const y = (claimed.y[at] as number) - base;
    const w = claimed.w[at] as number;
    if (claimed.x[at] === ORIGIN) {
      if (y >= 0 && y < nodes) lower[y] = Math.max(lower[y] as number, -w);
    } else if (x < 0 || x >= nodes) continue;
    else if (claimed.y[at] === ORIGIN) upper[x] = Math.min(upper[x] as number, w);
    else if (x < y) leastDays[x / 2] = Math.max(leastDays[x / 2] as number, -w);
  }
  const end: number[] = [];
  const start: number[] = [];
  let day = -Infinity;
  for (let node = 0; node < nodes; node += 2) {
    day = Math.max(day, lower[node] as number);
    day = Math.max(day + (leastDays[node / 2] as number), lower[node + 1] as number);
    end[node / 2] = day;
  }
  day = Infinity;
  for (let node = nodes - 2; node >= 0; node -= 2) {
    day = Math.min(day, upper[node + 1] as number);
    day = Math.min(day - (leastDays[node / 2] as number), upper[node] as number);
    start[node / 2] = day;
  }
  return { end, start };
}

/** Gaps by number: 0 before the first post, k after post k, the last of them open. */
function possibleGaps({ first, last }: Row, { end, start }: Reach, record: NilSearch): number[] {
  const from = firstDay(record);
  const until = lastDay(record);
  const posts = last - first + 1;
  const gaps: number[] = [];
  if ((start[0] as number) > from) gaps.push(0);
  for (let k = 1; k < posts; k++) {
    const ended = end[k - 1] as number;
    const begins = start[k] as number;
    if (ended <= until && begins > from && ended < begins) gaps.push(k);
  }
  if ((end[posts - 1] as number) <= until) gaps.push(posts);
  return gaps;
}

function use({ first, last }: Row, gap: number, record: NilSearch, claim: number): UsedNilSearch {
  const edges: [x: number, y: number, w: number][] = [];
  const before = first + gap - 1;
  const after = first + gap;
  if (gap > 0) edges.push([endNode(before), ORIGIN, lastDay(record)]);
  if (after <= last) edges.push([ORIGIN, startNode(after), -firstDay(record) - 1]);
  const between = gap > 0 && after <= last;
  if (between) edges.push([endNode(before), startNode(after), -1]);
  return { claim, gapAfter: between ? before : undefined, edges };
}

/**
 * A minimal set of positive claims that leaves no gap for the nil search. As a rule it is the last claim that shows a
 * post begun before it and the first that shows the same post not ended after it.
 */
function contradicting(model: Model, row: Row, off: Uint8Array, record: NilSearch): readonly number[] {
  for (let slot = row.first; slot <= row.last; slot++) {
    const begun = nearestClaim(model, off, startNode(slot), ORIGIN, firstDay(record));
    const lasting = nearestClaim(model, off, ORIGIN, endNode(slot), -lastDay(record) - 1);
    if (begun >= 0 && lasting >= 0) return begun === lasting ? [begun] : [begun, lasting];
  }
  const less = off.slice();
  const order = model.positive.map((_, k) => k).filter((k) => off[k] === 0);
  const away = (k: number) => Math.abs((model.positive[k] as RecordedClaim).sourceDay - lastDay(record));
  order.sort((a, b) => away(b) - away(a));
  for (const k of order) {
    less[k] = 1;
    if (possibleGaps(row, reachOf(model, row, less), record).length > 0) less[k] = 0;
  }
  return order.filter((k) => less[k] === 0).sort((a, b) => a - b);
}

/** The claim with x − y <= w for the w nearest to `limit` and not above it; −1 if there is none. */
function nearestClaim(
  { positive, claimed }: Model,
  off: Uint8Array,
  x: number,
  y: number,
  limit: number,
  only?: 'listed',
): number {
  let best = -1;
  let nearest = -Infinity;
  for (let at = 0; at < claimed.w.length; at++) {
    const w = claimed.w[at] as number;
    if (claimed.x[at] !== x || claimed.y[at] !== y || w > limit || w <= nearest) continue;
    const claim = claimed.claim[at] as number;
    if (off[claim] === 1 || (only !== undefined && positive[claim]?.part !== only)) continue;
    best = claim;
    nearest = w;
  }
  return best;
}

function likelyBreaks(model: Model, off: Uint8Array, omissions: readonly Omission[]): Unused[][] {
  const runs = new Map<string, { slot: number; records: NilSearch[] }>();
  for (const { claim } of omissions) {
    const { record } = model.nilSearches[claim - model.positive.length] as Model['nilSearches'][number];
    const row = model.rows.find((other) => other.service === record.service && !other.concurrent);
    for (let slot = row?.first ?? 0; slot <= (row?.last ?? -1); slot++) {
      const before = nearestClaim(model, off, startNode(slot), ORIGIN, firstDay(record), 'listed');
      const after = nearestClaim(model, off, ORIGIN, endNode(slot), -lastDay(record) - 1, 'listed');
      if (before < 0 || after < 0 || before === after) continue;
      const run = runs.get(`${before} ${after}`);
      if (run === undefined) runs.set(`${before} ${after}`, { slot, records: [record] });
      else run.records.push(record);
    }
  }
  return [...runs.values()]
    .filter(({ records }) => new Set(records.map(({ edition }) => edition.id)).size >= 3)
    .map(({ slot, records }) =>
      records.map(({ id }) => ({ id, reason: breakReason(model.slots[slot], records.length) })),
    );
}

const breakReason = (post: Appointment | undefined, count: number): string =>
  `One of ${count} searches in a row that did not find the name between two listings as ${post?.rank.title ?? ''}${
    post?.corps === undefined ? '' : `, ${post.corps.name}`
  }: likely a break of service, for the researcher to decide.`;
