/** `mine`: what is here stands; `theirs`: what the file says; `other`: two different things. */
export const ANSWERS = ['mine', 'theirs', 'other'] as const;
export type Answer = (typeof ANSWERS)[number];

/** A difference between what a file says and what is recorded here, for somebody to decide. */
export type Question = {
  /** The record of the file, as `person ferrand`. */
  readonly record: string;
  readonly line: number;
  /** The record here that it may be, or that says otherwise. */
  readonly here: string;
  readonly says: string;
  readonly answers: readonly Answer[];
};

export type Decision = {
  readonly answer: Answer;
  /** The record here that is meant, where there are several. */
  readonly here: string | undefined;
  readonly why: string | undefined;
  /** The record here that an earlier import made for it. */
  readonly made?: string | undefined;
};
/** By the record of the file. */
export type Decisions = ReadonlyMap<string, Decision>;
