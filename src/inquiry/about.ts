import { changedAssumptions } from '../ledger/assumed.ts';
import type { Db } from '../ledger/open.ts';
import { lastActId } from '../ledger/undo.ts';
import { VERSION } from '../version.ts';

/** What every answer says of itself: the program, the act after which it holds, and the assumptions that were changed. */
export type About = {
  readonly program: string;
  readonly act: number;
  readonly assumptions: Readonly<Record<string, string>>;
};

export const aboutAnswer = (db: Db, asOf: number | undefined): About => ({
  program: `heldby ${VERSION}`,
  act: asOf ?? lastActId(db),
  assumptions: Object.fromEntries(changedAssumptions(db).map(({ name, value }) => [name, value])),
});
