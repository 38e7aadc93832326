import type { Assumptions } from '../assumptions.ts';
import { type CandidateInput, markDays } from '../attribution/candidate.ts';
import { type Shares, sharesOf } from '../attribution/candidates.ts';
import type { UnrecordedInput } from '../attribution/unrecorded.ts';
import type { Density } from '../dating/density.ts';
import type { MarkRole } from '../dating/mark-roles.ts';
import { shownSpan } from '../dating/marking.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, personName } from '../ledger/people.ts';
import { spanInAnswer } from './days.ts';
import type { NamingRoles } from './naming-roles.ts';

/** What would be said of a mark if it had one of its roles for certain. */
export type RoleAnswer = {
  readonly role: MarkRole;
  /** How likely it has this role, 0 to 1, as recorded. */
  readonly weight: number;
  readonly namesHolder: boolean;
  /** Share of the leader over all roles, if this is the role; null where it names no holder. */
  readonly leaderShare: number | null;
  /** Who leads if this is the role; null where it names no holder, or nobody fits. */
  readonly first: { readonly person: PersonName; readonly share: number } | null;
  /** The shortest span that holds 95 % of the days on which it was put on, if this is the role. */
  readonly window: { readonly from: string | null; readonly to: string | null };
};

/**
 * How much hangs on the role of a mark: who leads, and with what share, under each of its roles alone.
 * @param shares those over all roles that name a holder; of one such role they are its own.
 */
export function sharesByRole(
  db: Db,
  { naming, unnamed }: NamingRoles,
  shares: Shares,
  given: { readonly candidates: readonly CandidateInput[]; readonly unrecorded: UnrecordedInput },
  assumptions: Assumptions,
): RoleAnswer[] {
  const [leader] = shares.ranked;
  const named = naming.map(({ role, weight, density }): RoleAnswer => {
    const { ranked } = naming.length === 1 ? shares : sharesOf({ ...given, mark: markDays(density) }, assumptions);
    const own = ranked.find(({ person, rank }) => person === leader?.person && rank === leader.rank);
    const [first] = ranked;
    return {
      role,
      weight,
      namesHolder: true,
      leaderShare: leader === undefined ? null : (own?.share ?? 0),
      first: first === undefined ? null : { person: personName(db, Number(first.person.slice(1))), share: first.share },
      window: windowOf(density),
    };
  });
  const others = unnamed.map(
    ({ role, weight, density }): RoleAnswer => ({
      role,
      weight,
      namesHolder: false,
      leaderShare: null,
      first: null,
      window: windowOf(density),
    }),
  );
  return [...named, ...others].sort((a, b) => b.weight - a.weight);
}

const windowOf = (density: Density): RoleAnswer['window'] => {
  const span = shownSpan(density);
  return span === undefined ? { from: null, to: null } : spanInAnswer(span);
};
