import type { Comparer } from './comparison.ts';
import type { Shares } from './shares.ts';
import type { Staying } from './staying.ts';
import type { Weights } from './weights.ts';

/** What was learned from the ledger about the lines of one man and of two. */
export type Learned = {
  readonly weights: Weights;
  readonly staying: Staying;
  readonly shares: Shares;
  readonly comparer: Comparer;
};
