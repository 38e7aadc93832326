import type { Coded } from './coded.ts';
import type { ForenameTable } from './forename-table.ts';

/**
 * What is known of a man from one of his lines to one end of his career: his fullest name, the nearest corps, rank and
 * date of rank that are given. A career up to a line (its *tail* is that line) and a career from a line on (its *head*)
 * are compared by these, so that a line that leaves something out passes on what the lines beyond it say. One row for each
 * entry; `At` and `Beyond` are numbers of entries, -1 for none.
 */
export type Profiles = {
  readonly surname: Int32Array;
  /** The nearest other spelling of it; -1 where there is none. */
  readonly otherSurname: Int32Array;
  readonly forenames: Int32Array;
  readonly rankAt: Int32Array;
  readonly datedAt: Int32Array;
  readonly corpsAt: Int32Array;
  /** The nearest lines beyond these that say something else: a slip in one line does not hide them. */
  readonly suffixBeyond: Int32Array;
  readonly rankBeyond: Int32Array;
  readonly datedBeyond: Int32Array;
  readonly corpsBeyond: Int32Array;
  /** The entry at the far end. */
  readonly end: Int32Array;
  readonly owner: Int32Array;
  /** 1 where somebody said of one of these entries whose it is not. */
  readonly hasFoe: Uint8Array;
};

export function emptyProfiles(count: number): Profiles {
  const column = (): Int32Array => new Int32Array(count);
  return {
    surname: column(),
    otherSurname: column(),
    forenames: column(),
    rankAt: column(),
    datedAt: column(),
    corpsAt: column(),
    suffixBeyond: column(),
    rankBeyond: column(),
    datedBeyond: column(),
    corpsBeyond: column(),
    end: column(),
    owner: column(),
    hasFoe: new Uint8Array(count),
  };
}

/** Fills the row of an entry from that of its neighbour towards the end, or from nothing where that is -1. */
export type Extend = (profiles: Profiles, at: number, neighbour: number) => void;

/** @param surnameUses for each surname how many entries have it. */
export function extender(coded: Coded, forenames: ForenameTable, surnameUses: Int32Array): Extend {
  const { surname, suffix, rank, dated, corps, owner, marked } = coded;
  const begin = (profiles: Profiles, at: number): void => {
    profiles.surname[at] = surname[at] as number;
    profiles.otherSurname[at] = -1;
    profiles.forenames[at] = coded.forenames[at] as number;
    profiles.rankAt[at] = (rank[at] as number) >= 0 ? at : -1;
    profiles.datedAt[at] = (dated[at] as number) >= 0 ? at : -1;
    profiles.corpsAt[at] = (corps[at] as number) >= 0 ? at : -1;
    profiles.suffixBeyond[at] = -1;
    profiles.rankBeyond[at] = -1;
    profiles.datedBeyond[at] = -1;
    profiles.corpsBeyond[at] = -1;
    profiles.end[at] = at;
    profiles.owner[at] = owner[at] as number;
    profiles.hasFoe[at] = (marked[at] as number) >= 0 ? 1 : 0;
  };
  return (profiles, at, neighbour) => {
    if (neighbour < 0) {
      begin(profiles, at);
      return;
    }
    const [own, known] = [surname[at] as number, profiles.surname[neighbour] as number];
    // Of two spellings the one that more entries have is his name: slips are rarer.
    const isBetter = known !== own && (surnameUses[own] as number) > (surnameUses[known] as number);
    profiles.surname[at] = isBetter ? own : known;
    profiles.otherSurname[at] = isBetter ? known : own !== known ? own : (profiles.otherSurname[neighbour] as number);
    profiles.forenames[at] = forenames.fuller(profiles.forenames[neighbour] as number, coded.forenames[at] as number);
    profiles.suffixBeyond[at] =
      suffix[neighbour] === suffix[at] ? (profiles.suffixBeyond[neighbour] as number) : neighbour;
    passOn(rank, profiles.rankAt, profiles.rankBeyond, at, neighbour);
    passOn(dated, profiles.datedAt, profiles.datedBeyond, at, neighbour);
    passOn(corps, profiles.corpsAt, profiles.corpsBeyond, at, neighbour);
    profiles.end[at] = profiles.end[neighbour] as number;
    profiles.owner[at] = (owner[at] as number) >= 0 ? (owner[at] as number) : (profiles.owner[neighbour] as number);
    profiles.hasFoe[at] = (marked[at] as number) >= 0 ? 1 : (profiles.hasFoe[neighbour] as number);
  };
}

/** Where a column last said something, and where before that it said something else. */
function passOn(values: Int32Array, nearest: Int32Array, beyond: Int32Array, at: number, neighbour: number): void {
  const value = values[at] as number;
  const known = nearest[neighbour] as number;
  if (value < 0) {
    nearest[at] = known;
    beyond[at] = beyond[neighbour] as number;
    return;
  }
  nearest[at] = at;
  beyond[at] = known >= 0 && values[known] !== value ? known : (beyond[neighbour] as number);
}
