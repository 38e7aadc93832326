/**
 * What two lines, or two parts of one career, are compared by, and the levels on which they can agree or differ. The
 * levels of all fields are numbered in one row, so that a table of weights is one array.
 *
 * `start` is the share of a level among lines of one man before the ledger has been looked at: common practice, from
 * memory. It is the first guess of the estimation, and afterwards weighs as much as PRIOR_PAIRS pairs beside what the
 * ledger shows.
 */
export type Field = { readonly name: string; readonly levels: readonly Level[] };
type Level = { readonly name: string; readonly start: number };

export const PRIOR_PAIRS = 20;

const level = (name: string, start: number): Level => ({ name, start });

const dated = (relation: string, shares: readonly [number, number, number, number, number, number]): Field => ({
  name: `date of rank, ${relation}`,
  levels: [
    level('the same', shares[0]),
    level('differs in one of day, month and year', shares[1]),
    level('later, and not before the earlier list', shares[2]),
    level('later, but before the earlier list', shares[3]),
    level('earlier', shares[4]),
    level('as in a line further off', shares[5]),
  ],
});

export const FIELDS: readonly Field[] = [
  {
    name: 'surname',
    levels: [level('the same', 0.96), level('another spelling', 0.02), level('a few letters differ', 0.02)],
  },
  {
    name: 'forenames',
    levels: [
      level('agree', 0.92),
      level('agree as far as given', 0.04),
      level('one differs by a few letters or in its initial', 0.02),
      level('one of several differs, or the first is left out', 0.01),
      level('differ', 0.01),
    ],
  },
  {
    name: 'suffix',
    levels: [
      level('none', 0.94),
      level('the same', 0.03),
      level('left off, or now the elder', 0.01),
      level('now the younger', 0.001),
      level('as in a line further off', 0.019),
    ],
  },
  {
    name: 'rank',
    levels: [
      level('the same', 0.849),
      level('the next one up', 0.1),
      level('further up', 0.02),
      level('down', 0.001),
      level('another, in no order', 0.01),
      level('in another service', 0.01),
      level('as in a line further off', 0.01),
    ],
  },
  dated('rank the same', [0.94, 0.02, 0.01, 0.01, 0.01, 0.01]),
  dated('rank higher', [0.02, 0.01, 0.84, 0.1, 0.02, 0.01]),
  dated('rank otherwise', [0.2, 0.1, 0.3, 0.2, 0.1, 0.1]),
  {
    name: 'corps',
    levels: [level('the same', 0.94), level('another', 0.05), level('as in a line further off', 0.01)],
  },
  { name: 'seniority', levels: [level('kept or gained', 0.95), level('lost', 0.05)] },
];

export const FIELD_COUNT = 9;

/** Numbers of the fields. */
export const SURNAME_FIELD = 0;
export const FORENAMES_FIELD = 1;
export const SUFFIX_FIELD = 2;
export const RANK_FIELD = 3;
export const DATED_FIELDS = { sameRank: 4, higherRank: 5, otherRank: 6 } as const;
export const CORPS_FIELD = 7;
export const SENIORITY_FIELD = 8;

/** Number of the first level of each field, and of all levels. */
export const SURNAME = 0;
export const FORENAMES = 3;
export const SUFFIX = 8;
export const RANK = 13;
export const DATED = { sameRank: 20, higherRank: 26, otherRank: 32 } as const;
export const CORPS = 38;
export const SENIORITY = 41;
export const LEVELS = 43;

/** Levels that are asked for by name, counted from the first of their field. */
export const SUFFIX_ELDER = 2;
export const SUFFIX_YOUNGER = 3;
export const SUFFIX_AGAIN = 4;
export const RANK_DOWN = 3;
export const RANK_AGAIN = 6;
export const DATED_AGAIN = 5;
export const CORPS_AGAIN = 2;
