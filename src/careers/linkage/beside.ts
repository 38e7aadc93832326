import { bestPairs, type Edges } from './assignment.ts';
import { type Chains, from } from './chains.ts';
import { LANES } from './coded.ts';
import { CORPS, FORENAMES_FIELD, SUFFIX_FIELD, SURNAME_FIELD } from './fields.ts';
import type { Ground } from './ground.ts';
import { fieldGround } from './join-grounds.ts';
import type { Learned } from './learned.ts';
import type { JoinGround } from './linkage.ts';
import { fieldBits } from './weights.ts';
import { BOUND, NOTHING, type Worth } from './worth.ts';

/** A career of appointments held beside a substantive one, and whose it is. By first entries. */
export type Beside = {
  readonly career: number;
  readonly substantive: number;
  readonly bits: number;
  /** By how much it is better than the next best, or than leaving it alone. */
  readonly margin: number;
  /** The next best holder, by the first entry; -1 where there is none. */
  readonly instead: number;
  /** What the bits are made of. */
  readonly grounds: readonly JoinGround[];
  readonly insteadGrounds: readonly JoinGround[];
};

/** Last and first entry of a career, its first and last step. */
type Career = { readonly first: number; readonly last: number; readonly from: number; readonly until: number };

/**
 * Gives brevet, staff and other appointments that are held beside a substantive one to their holders: all of one kind at
 * once, worth most together, each holder one career of it at a time. A holder is one of the men then listed, so the name
 * must tell more than how many these are; the corps counts if he is ever listed in it.
 */
export function besideCareers(ground: Ground, learned: Learned, chains: Chains, worth: Worth): readonly Beside[] {
  const { coded } = ground;
  if (coded.lane.every((lane) => lane === 0)) return [];
  const careers = careersOf(ground, chains);
  const bySurname = new Map<number, Career[]>();
  for (const career of careers) {
    if (coded.lane[career.first] !== 0) continue;
    const surname = chains.heads.surname[career.first] as number;
    bySurname.set(surname, [...(bySurname.get(surname) ?? []), career]);
  }
  const listed = listedAt(ground);
  const found: Beside[] = [];
  for (const [lane] of LANES.entries()) {
    if (lane === 0) continue;
    let left = careers.filter(({ first }) => coded.lane[first] === lane);
    const taken = new Map<number, Career[]>();
    while (left.length > 0) {
      const given = assign(left, taken);
      if (given.length === 0) break;
      found.push(...given);
      const placed = new Set(given.map(({ career }) => career));
      left = left.filter(({ first }) => !placed.has(first));
    }
  }
  return found;

  function assign(left: readonly Career[], taken: Map<number, Career[]>): readonly Beside[] {
    const edges: Edges = { row: [], column: [], worth: [] };
    const columns = new Map<number, number>();
    const holders: Career[] = [];
    const best: { readonly holder: Career; readonly bits: number }[][] = [];
    for (const [row, career] of left.entries()) {
      best.push([]);
      for (const holder of candidates(career)) {
        if (taken.get(holder.first)?.some((other) => other.from <= career.until && career.from <= other.until))
          continue;
        const bits = besideBits(career, holder);
        if (bits <= NOTHING) continue;
        const column = columns.get(holder.first) ?? columns.size;
        if (column === columns.size) holders.push(holder);
        columns.set(holder.first, column);
        edges.row.push(row);
        edges.column.push(column);
        edges.worth.push(bits);
        best[row]?.push({ holder, bits });
      }
    }
    const pairs = bestPairs(edges, left.length, columns.size);
    const given: Beside[] = [];
    for (const [row, pair] of pairs.entries()) {
      const [career, holder] = [left[row], pair < 0 ? undefined : holders[edges.column[pair] as number]];
      if (career === undefined || holder === undefined) continue;
      const bits = edges.worth[pair] as number;
      const [next] = (best[row] ?? []).filter((other) => other.holder !== holder).sort((a, b) => b.bits - a.bits);
      given.push({
        career: career.first,
        substantive: holder.first,
        bits,
        margin: bits - (next?.bits ?? 0),
        instead: next?.holder.first ?? -1,
        get grounds() {
          return groundsOf(career, holder);
        },
        get insteadGrounds() {
          return next === undefined ? [] : groundsOf(career, next.holder);
        },
      });
      taken.set(holder.first, [...(taken.get(holder.first) ?? []), career]);
    }
    return given;
  }

  function candidates(career: Career): readonly Career[] {
    const { near } = ground;
    const surname = chains.heads.surname[career.first] as number;
    const all = [...(bySurname.get(surname) ?? [])];
    for (let row = near.first[surname] as number; row < (near.first[surname + 1] as number); row++)
      all.push(...(bySurname.get(near.other[row] as number) ?? []));
    return all.filter((holder) => holder.from <= career.until && career.from <= holder.until);
  }

  function besideBits(career: Career, holder: Career): number {
    const [owner, other] = [chains.heads.owner[career.first] as number, chains.heads.owner[holder.first] as number];
    if (owner >= 0 && other >= 0) return owner === other ? BOUND : Number.NEGATIVE_INFINITY;
    const { fields } = worth.explained(chains.tails, holder.last, chains.heads, career.first);
    let bits = -Math.log2(listedThen(career));
    for (const field of NAME_FIELDS) bits += fieldBits(learned.weights, fields, field);
    return bits + corpsBits(career, holder);
  }

  function listedThen(career: Career): number {
    return Math.max(2, listed[coded.step[career.first] as number] as number);
  }

  function isInCorps(corps: number, holder: Career): boolean {
    for (const line of from(chains, holder.first)) if (coded.corps[line] === corps) return true;
    return false;
  }

  function corpsBits(career: Career, holder: Career): number {
    const at = chains.heads.corpsAt[career.first] as number;
    if (at < 0) return 0;
    const corps = coded.corps[at] as number;
    const { bits, bitsOfOwn } = learned.weights;
    if (isInCorps(corps, holder)) return (bitsOfOwn[CORPS] as number) - (learned.shares.corps[corps] as number);
    return (chains.heads.corpsAt[holder.first] as number) < 0 ? 0 : (bits[CORPS + 1] as number);
  }

  function groundsOf(career: Career, holder: Career): JoinGround[] {
    const { fields } = worth.explained(chains.tails, holder.last, chains.heads, career.first);
    const names = NAME_FIELDS.map((field) =>
      fieldGround(ground, learned, chains, fields, field, holder.last, career.first),
    );
    const at = chains.heads.corpsAt[career.first] as number;
    const bits = corpsBits(career, holder);
    const name = at < 0 ? undefined : coded.source[coded.place[at] ?? -1]?.corps?.name;
    const level = at >= 0 && isInCorps(coded.corps[at] as number, holder) ? 'the same' : 'another';
    const among = Math.round(listedThen(career));
    return [
      ...names,
      ...(bits === 0
        ? []
        : [
            {
              field: 'corps',
              level,
              bits,
              text: `corps: ${level} (${name})`,
              because: [`${level === 'the same' ? 'as in a' : 'in no'} line of the holder`],
            },
          ]),
      {
        field: 'holder',
        level: `one of ${among}`,
        bits: -Math.log2(among),
        text: `holder: one of ${among} then listed in a substantive post`,
        because: ['each of them may hold it, before the name is looked at'],
      },
    ];
  }
}

const NAME_FIELDS = [SURNAME_FIELD, FORENAMES_FIELD, SUFFIX_FIELD] as const;

function careersOf({ coded, standsBehind }: Ground, { previous, heads }: Chains): readonly Career[] {
  const careers: Career[] = [];
  for (let at = 0; at < coded.count; at++) {
    if ((previous[at] as number) >= 0 || (standsBehind[at] as number) >= 0) continue;
    const last = heads.end[at] as number;
    careers.push({ first: at, last, from: coded.step[at] as number, until: coded.step[last] as number });
  }
  return careers;
}

/** For each step how many lines of substantive posts there are. */
function listedAt({ coded }: Ground): Float64Array {
  const listed = new Float64Array(coded.editions.sorted.length);
  for (let at = 0; at < coded.count; at++)
    if (coded.lane[at] === 0) listed[coded.step[at] as number] = (listed[coded.step[at] as number] as number) + 1;
  return listed;
}
