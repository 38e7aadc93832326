import type { Assumptions } from '../assumptions.ts';
import { isProvisional, type Shares } from './candidates.ts';
import data from './cautions.json' with { type: 'json' };

export type Caution = { readonly id: string; readonly text: string };

/** What of an answer calls for a caution. */
export type CautionGrounds = {
  readonly shares: Shares;
  /** The conclusion hangs on a record. */
  readonly hangs: boolean;
  /** A sweep of the surname bears on the mark. */
  readonly swept: boolean;
  /** The surname on the mark is damaged. */
  readonly damaged: boolean;
  /** The mark bears a date closed on both sides, or the question gave one. */
  readonly dated: boolean;
  readonly beforeMaking: boolean;
  /** The mark can have one of several roles. */
  readonly roleUncertain: boolean;
};

/** A rival of at least this share is one that print has to speak of; common practice, from memory. */
const RIVAL_SHARE = 0.05;

/** The cautions that go with an answer about a mark, in the order of the data file. None is ever left out. */
export function cautionsFor(given: CautionGrounds, { values }: Pick<Assumptions, 'values'>): Caution[] {
  const { ranked, outOfTime, unrecorded, nobodyFits } = given.shares;
  const [leader, rival] = ranked;
  const holds: Readonly<Record<string, boolean>> = {
    opinion: true,
    'nobody-fits': nobodyFits && outOfTime.length === 0,
    'out-of-time': nobodyFits && outOfTime.length > 0,
    'unrecorded-leads': leader !== undefined && unrecorded.share > leader.share,
    unswept: !given.swept,
    namesakes: rival !== undefined && rival.share >= RIVAL_SHARE,
    provisional: leader !== undefined && isProvisional(leader.input),
    hangs: given.hangs,
    implied: leader?.standing === 'implied',
    courtesy: leader?.standing === 'courtesy',
    brevet: leader?.standing === 'brevet',
    'corps-differs':
      leader !== undefined && leader.bits.corps > 0 && leader.bits.corps >= values['agree.corps.differs'],
    damaged: given.damaged,
    undated: !given.dated,
    'before-making': given.beforeMaking,
    'role-uncertain': given.roleUncertain,
  };
  return data.cautions.filter(({ id }) => holds[id] === true).map(({ id, text }) => ({ id, text }));
}
