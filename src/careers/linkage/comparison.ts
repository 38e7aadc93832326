import type { Coded } from './coded.ts';
import { datedLevel } from './dated-levels.ts';
import {
  CORPS,
  CORPS_AGAIN,
  CORPS_FIELD,
  DATED,
  DATED_AGAIN,
  DATED_FIELDS,
  FIELD_COUNT,
  FORENAMES,
  FORENAMES_FIELD,
  RANK,
  RANK_AGAIN,
  RANK_FIELD,
  SENIORITY,
  SENIORITY_FIELD,
  SUFFIX,
  SUFFIX_AGAIN,
  SUFFIX_ELDER,
  SUFFIX_FIELD,
  SUFFIX_YOUNGER,
  SURNAME,
  SURNAME_FIELD,
} from './fields.ts';
import { AGREE_SO_FAR, type ForenameTable, NOTHING } from './forename-table.ts';
import { type NearSurnames, nearness } from './near-surnames.ts';
import type { Profiles } from './profile.ts';
import { isHigher, rankLevels } from './rank-places.ts';
import type { Shares } from './shares.ts';
import { SENIOR } from './suffix.ts';

/**
 * One comparison, written over by the next: for each field the number of its level, -1 where one side says nothing, and
 * log2 of the chance that a stranger agrees in this very value, 0 where the level has no such chance of its own.
 */
export type Comparison = { readonly levels: Int8Array; readonly log2Chance: Float64Array };

export const newComparison = (): Comparison => ({
  levels: new Int8Array(FIELD_COUNT),
  log2Chance: new Float64Array(FIELD_COUNT),
});

/** What of the ground a comparison needs. */
type Compared = {
  readonly coded: Coded;
  readonly near: NearSurnames;
  readonly forenames: ForenameTable;
  /** The surnames of each owner who has several. */
  readonly aliases: ReadonlyMap<number, ReadonlySet<number>>;
};

type Compare<Answer> = (tails: Profiles, tail: number, heads: Profiles, head: number, out: Comparison) => Answer;

/** Compares the career up to `tail` with the career from `head` on. */
export type Comparer = {
  /** False where the surnames are not even near. */
  readonly surname: Compare<boolean>;
  readonly forenames: Compare<void>;
  /** Everything but these two. */
  readonly rest: Compare<void>;
  readonly all: Compare<boolean>;
};

export function comparer({ coded, near, forenames: forenameTable, aliases }: Compared, shares: Shares): Comparer {
  const rankLevel = rankLevels(coded.ranks);
  const { day, service, sorted } = coded.editions;

  const isAlias = (owner: number | undefined, otherOwner: number | undefined, name: number, other: number): boolean => {
    const known = aliases.get(owner ?? -1) ?? aliases.get(otherOwner ?? -1);
    return known?.has(name) === true && known.has(other);
  };

  const surname: Comparer['surname'] = (tails, tail, heads, head, { levels, log2Chance }) => {
    const [name, other] = [tails.surname[tail] as number, heads.surname[head] as number];
    const apart =
      name === other
        ? 0
        : isAlias(tails.owner[tail], heads.owner[head], name, other)
          ? 1
          : nearest(near, tails, tail, heads, head);
    levels[SURNAME_FIELD] = SURNAME + Math.max(apart, 0);
    log2Chance[SURNAME_FIELD] =
      apart <= 0 ? (shares.surname[name] as number) : (shares.near[name * 2 + apart - 1] as number);
    return apart >= 0;
  };

  const forenames: Comparer['forenames'] = (tails, tail, heads, head, { levels, log2Chance }) => {
    const [one, other] = [tails.forenames[tail] as number, heads.forenames[head] as number];
    const level = forenameTable.level(one, other);
    levels[FORENAMES_FIELD] = level === NOTHING ? -1 : FORENAMES + level;
    log2Chance[FORENAMES_FIELD] = level <= AGREE_SO_FAR ? forenameTable.log2Chance(one, other) : 0;
  };

  const suffix: Compare<void> = (tails, tail, heads, head, { levels, log2Chance }) => {
    const [before, after] = [coded.suffix[tail] as number, coded.suffix[head] as number];
    levels[SUFFIX_FIELD] =
      SUFFIX +
      (before === after
        ? Math.min(before, 1)
        : isAgain(coded.suffix, tail, tails.suffixBeyond[tail] as number, head, heads.suffixBeyond[head] as number)
          ? SUFFIX_AGAIN
          : after <= SENIOR
            ? SUFFIX_ELDER
            : SUFFIX_YOUNGER);
    if (before === after && before !== 0) log2Chance[SUFFIX_FIELD] = shares.suffix[before] as number;
  };

  const rank: Compare<void> = (tails, tail, heads, head, { levels, log2Chance }) => {
    const [before, after] = [tails.rankAt[tail] as number, heads.rankAt[head] as number];
    if (before < 0 || after < 0) return;
    const level = rankLevel(coded.rank[before] as number, coded.rank[after] as number);
    const again =
      level > 0 &&
      isAgain(coded.rank, before, tails.rankBeyond[tail] as number, after, heads.rankBeyond[head] as number);
    levels[RANK_FIELD] = RANK + (again ? RANK_AGAIN : level);
    if (level === 0) log2Chance[RANK_FIELD] = shares.rank[coded.rank[before] as number] as number;
  };

  const dated: Compare<void> = (tails, tail, heads, head, { levels, log2Chance }) => {
    const [before, after] = [tails.datedAt[tail] as number, heads.datedAt[head] as number];
    if (before < 0 || after < 0) return;
    const step = coded.step[tail] as number;
    const since = (day[step] as number) - (sorted[step]?.lagDays ?? 0);
    const level = datedLevel(coded.dates, coded.dated[before] as number, coded.dated[after] as number, since);
    const again =
      level > 0 &&
      isAgain(coded.dated, before, tails.datedBeyond[tail] as number, after, heads.datedBeyond[head] as number);
    const ranks = rankLevel(coded.rank[before] as number, coded.rank[after] as number);
    const relation = ranks === 0 ? 'sameRank' : isHigher(ranks) ? 'higherRank' : 'otherRank';
    levels[DATED_FIELDS[relation]] = DATED[relation] + (again ? DATED_AGAIN : level);
    if (level === 0) log2Chance[DATED_FIELDS[relation]] = shares.dated[coded.dated[before] as number] as number;
  };

  const corps: Compare<void> = (tails, tail, heads, head, { levels, log2Chance }) => {
    const [before, after] = [tails.corpsAt[tail] as number, heads.corpsAt[head] as number];
    if (before < 0 || after < 0) return;
    const isSame = coded.corps[before] === coded.corps[after];
    const again =
      !isSame &&
      isAgain(coded.corps, before, tails.corpsBeyond[tail] as number, after, heads.corpsBeyond[head] as number);
    levels[CORPS_FIELD] = CORPS + (isSame ? 0 : again ? CORPS_AGAIN : 1);
    if (isSame) log2Chance[CORPS_FIELD] = shares.corps[coded.corps[before] as number] as number;
  };

  const seniority = (tail: number, head: number, { levels }: Comparison): void => {
    const [before, after] = [coded.seniority[tail] as number, coded.seniority[head] as number];
    if (before < 0 || after < 0 || coded.rank[tail] !== coded.rank[head]) return;
    if (service[coded.step[tail] as number] !== service[coded.step[head] as number]) return;
    levels[SENIORITY_FIELD] = SENIORITY + (after <= before ? 0 : 1);
  };

  const rest: Comparer['rest'] = (tails, tail, heads, head, out) => {
    for (let field = SUFFIX_FIELD; field < FIELD_COUNT; field++) {
      out.levels[field] = -1;
      out.log2Chance[field] = 0;
    }
    suffix(tails, tail, heads, head, out);
    rank(tails, tail, heads, head, out);
    dated(tails, tail, heads, head, out);
    corps(tails, tail, heads, head, out);
    seniority(tail, head, out);
  };

  return {
    surname,
    forenames,
    rest,
    all: (tails, tail, heads, head, out) => {
      forenames(tails, tail, heads, head, out);
      rest(tails, tail, heads, head, out);
      return surname(tails, tail, heads, head, out);
    },
  };
}

/** How near two surnames are as each man is mostly called, else as he is also called; -1 where they are not. */
function nearest(near: NearSurnames, tails: Profiles, tail: number, heads: Profiles, head: number): number {
  const [name, also] = [tails.surname[tail] as number, tails.otherSurname[tail] as number];
  const [other, otherAlso] = [heads.surname[head] as number, heads.otherSurname[head] as number];
  if (name === otherAlso || also === other || (also >= 0 && also === otherAlso)) return 1;
  let level = nearness(near, name, other);
  if (level === 0 && also >= 0) level = nearness(near, also, other);
  if (level === 0 && otherAlso >= 0) level = nearness(near, name, otherAlso);
  if (level === 0 && also >= 0 && otherAlso >= 0) level = nearness(near, also, otherAlso);
  return level === 0 ? -1 : level;
}

/** Whether what the one side says is what the other says further off: then the line between may be a slip. */
const isAgain = (values: Int32Array, tail: number, tailBeyond: number, head: number, headBeyond: number): boolean =>
  (tailBeyond >= 0 && values[tailBeyond] === values[head]) || (headBeyond >= 0 && values[headBeyond] === values[tail]);
