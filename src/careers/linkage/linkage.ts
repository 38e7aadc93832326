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
  /** In sentences, the shares and chances that the bits come from. */
  readonly because: readonly string[];
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

/** Two lines taken for successive ones of one person. */
export type PairGrounds = {
  readonly earlier: RecordId;
  readonly later: RecordId;
  /** What that is worth: the sum of the grounds. */
  readonly bits: number;
  readonly grounds: readonly JoinGround[];
  /** −1 where it is taken off: what the two are worth without the line between them. */
  readonly sign: 1 | -1;
};

/** Where the chance of two being one comes from. */
export type ChanceGrounds = {
  /** 1 / (1 + 2^−margin). */
  readonly chance: number;
  /** By how many bits the two as one are better than the next best: the pairs less `otherwise`. */
  readonly margin: number;
  /** The line whose place is in question whatever it is joined to; undefined where one join alone is. */
  readonly line: RecordId | undefined;
  readonly pairs: readonly PairGrounds[];
  readonly otherwise: {
    /** What the next best is worth; 0 where that is to leave them apart. */
    readonly bits: number;
    /** Of whom it would make one of them; undefined where of nobody. */
    readonly instead: RecordId | undefined;
    /** The pairs it begins with; what becomes of other lines is the rest of its bits. */
    readonly pairs: readonly PairGrounds[];
  };
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
  /** How often it was met in the sample: between successive lines of one man, and between lines of two listed together. */
  readonly seen: { readonly sameMan: number; readonly twoMen: number };
};

/** What the weights were estimated from. */
export type WeightSample = {
  /** Entries of the surnames that were taken, and the people found in them. */
  readonly entries: number;
  readonly people: number;
  /** Pairs of lines that may be one person's, and pairs of lines of any two people. */
  readonly likelyPairs: number;
  readonly strangerPairs: number;
  /** Of the lines beyond the first edition, how many there are and how many are somebody's first. */
  readonly later: number;
  readonly firsts: number;
};

export type WeightTable = {
  readonly rows: readonly WeightRow[];
  /** For gaps up to `editions`, the chance that a man not found before is found in that edition. */
  readonly found: readonly {
    readonly editions: number;
    readonly chance: number;
    /** How often in the sample somebody was found at such a gap, of how often they could have been. */
    readonly seen: { readonly found: number; readonly of: number };
  }[];
  /** Share of the lines of an edition that are a man's first. */
  readonly newShare: number;
  readonly sample: WeightSample;
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
  /** The chance of a join or a doubt in full; undefined where the two are neither joined nor doubtful. */
  explained(one: RecordId, other: RecordId): ChanceGrounds | undefined;
  /** The entries on either side of such a question, each pair of which an answer settles. */
  sides(
    one: RecordId,
    other: RecordId,
  ): { readonly one: readonly RecordId[]; readonly other: readonly RecordId[] } | undefined;
  /** Why the two are never put together by what they say; undefined where they can be. */
  whyNever(one: RecordId, other: RecordId): string | undefined;
};
