/** An answer to the question who put on a mark, as far as a lookup can change it. */
export type Outcome = {
  /** The best named holder: a person's id, or words for somebody whom the lookup would find; undefined if nobody fits. */
  readonly leader: string | undefined;
  /** The leader's share, 0 to 1. */
  readonly leaderShare: number;
  /** The weight of all candidates and of somebody unrecorded together. */
  readonly total: number;
};

/** One answer that a lookup can give. */
export type PossibleAnswer = {
  /** In words: "listed as Captain". */
  readonly answer: string;
  /** Its chance before the mark is considered, 0 to 1. */
  readonly prior: number;
  /** The outcome with the answer put in as evidence. */
  readonly after: Outcome;
};

/** Something that can be looked up and has not been. `answers` are all that can come of it. */
export type Proposal<Subject> = { readonly subject: Subject; readonly answers: () => readonly PossibleAnswer[] };

export type Lookup<Subject> = {
  readonly subject: Subject;
  /** Expected share of the best named holder afterwards, less the best one's share now: how much surer a name. */
  readonly gain: number;
  readonly answers: readonly {
    readonly answer: string;
    /** Its chance, given the mark. */
    readonly chance: number;
    readonly leader: string | undefined;
    readonly leaderShare: number;
  }[];
};

/**
 * What to look up next: each possible answer is put in as if it were evidence, and the question answered again. The
 * chance of an answer given the mark is its prior chance times total weight afterwards over total weight now, scaled to
 * 1. Ranked by gain; of equal gains the earlier proposal comes first. (The drop in entropy would be another measure, but
 * to find one more rival can raise it, and yet is worth knowing.)
 * @see Raiffa, H. and Schlaifer, R., Applied Statistical Decision Theory (Harvard, 1961): expected value of sample
 *   information.
 */
export function rankLookups<Subject>(now: Outcome, proposals: Iterable<Proposal<Subject>>): Lookup<Subject>[] {
  const lookups: Lookup<Subject>[] = [];
  for (const { subject, answers } of proposals) {
    const possible = answers().map((one) => ({ ...one, weight: one.prior * (one.after.total / now.total) }));
    const all = possible.reduce((sum, { weight }) => sum + weight, 0);
    if (!(all > 0)) continue;
    const told = possible.map(({ answer, weight, after: { leader, leaderShare } }) => ({
      answer,
      chance: weight / all,
      leader,
      leaderShare,
    }));
    const expected = told.reduce((sum, { chance, leaderShare }) => sum + chance * leaderShare, 0);
    lookups.push({ subject, gain: expected - now.leaderShare, answers: told });
  }
  return lookups.sort((a, b) => b.gain - a.gain);
}
