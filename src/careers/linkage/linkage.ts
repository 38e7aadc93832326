import type { RecordId } from '../evidence.ts';

/** Somebody whom the entries show. */
export type LinkedPerson = {
  /** In the order of time. */
  readonly entries: readonly RecordId[];
  /** The persons whom somebody has said these entries to be; empty for one whom nobody has named yet. */
  readonly persons: readonly RecordId[];
};

/** What speaks for or against two lines being of one man. */
export type JoinGround = {
  /** `surname`, `date of rank, rank the same` …, or `lists` for the gap between the two. */
  readonly field: string;
  readonly level: string;
  /** Positive for one man. */
  readonly bits: number;
  readonly text: string;
};

/** Two lines of one person that follow each other. */
export type Join = {
  readonly earlier: RecordId;
  readonly later: RecordId;
  /** Log-likelihood ratio of one man against two, with all that is known of him on both sides. */
  readonly bits: number;
  /** Chance of the join, given everything else; 1 where it was decided. */
  readonly chance: number;
  readonly decision: 'bound' | 'certain' | 'doubtful';
  readonly grounds: readonly JoinGround[];
};

/** A question to the researcher: are these two one man? */
export type Doubt = {
  readonly one: RecordId;
  readonly other: RecordId;
  /** Whether they are one as things stand. */
  readonly joined: boolean;
  /** Chance that they are. */
  readonly chance: number;
  /** How many pairs of entries an answer would settle. */
  readonly settles: number;
  /** An entry of the man with whom one of them is joined instead, if they are not one; it decides for itself. */
  readonly instead: RecordId | undefined;
  readonly grounds: readonly JoinGround[];
};

/** One name ends and another begins, with the same date of rank in the same corps. Proposed, never taken. */
export type NameChange = {
  /** The last entry under the one name, and the first under the other. */
  readonly last: RecordId;
  readonly first: RecordId;
  readonly before: string;
  readonly after: string;
  /** Evidence for one man apart from the surname. */
  readonly bits: number;
  readonly grounds: readonly JoinGround[];
};

export type WeightRow = {
  readonly field: string;
  readonly level: string;
  /** Share of the level among successive lines of one man, and among lines of two. */
  readonly sameMan: number;
  readonly twoMen: number;
  /** log2 of their ratio. */
  readonly bits: number;
  /** The weight differs with the value: a rare one weighs more. The bits are those of the mean. */
  readonly byValue: boolean;
};

export type WeightTable = {
  readonly rows: readonly WeightRow[];
  /** For gaps up to `editions`, the chance that a man not found before is found in that edition. */
  readonly found: readonly { readonly editions: number; readonly chance: number }[];
  /** Share of the lines of an edition that are a man's first. */
  readonly newShare: number;
};

/** Entries put together into people. Margins and grounds, which take long, are reckoned when they are asked for. */
export type Linkage = {
  readonly people: readonly LinkedPerson[];
  readonly weights: WeightTable;
  /** @param person place among the people. */
  joins(person: number): readonly Join[];
  /** Doubtful joins and doubtful separations, first what would settle most. */
  doubts(): readonly Doubt[];
  nameChanges(): readonly NameChange[];
  /** What speaks for and against two entries, and all that goes with them, being of one person. */
  compared(one: RecordId, other: RecordId): Pick<Doubt, 'chance' | 'grounds'>;
};
