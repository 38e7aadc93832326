import { type DelayLaw, timesLaw } from '../dating/delay.ts';
import { type Density, mixed } from '../dating/density.ts';
import type { MarkRole } from '../dating/mark-roles.ts';
import type { RoleDays } from '../dating/marking.ts';
import type { MarkRow } from '../ledger/marks.ts';
import type { MarkParts } from '../names/mark-parts.ts';
import type { MarkDays } from './mark-dating.ts';

/**
 * Whether a mark of this role names somebody who held the object.
 * 1. A maker's or retailer's mark does not: it tells who made or sold the thing.
 * 2. An owner's does, if a surname or a rank is read in it.
 * 3. Any other names first of all a depository, carrier or auction room. It names a holder where the researcher said
 *    which surname in it is meant, or where a rank stands beside the surname, as on a passenger's label.
 * @param givenSurname the surname that the researcher said is meant.
 */
function roleNamesHolder(role: MarkRole, givenSurname: string | null | undefined, parts: MarkParts): boolean {
  if (role === 'maker' || role === 'retailer') return false;
  if (role === 'owner') return parts.surname !== undefined || parts.rank !== undefined;
  return parts.surname !== undefined && ((givenSurname ?? null) !== null || parts.rank !== undefined);
}

/** Whether a mark, so read, names a holder under any role that it can have. */
export const namesHolder = ({ roles, surname }: Pick<MarkRow, 'roles' | 'surname'>, parts: MarkParts): boolean =>
  roles.some(({ role }) => roleNamesHolder(role, surname, parts));

/** A mark's roles under which it names a holder, and those under which it names none. */
export type NamingRoles = {
  readonly naming: readonly RoleDays[];
  readonly unnamed: readonly RoleDays[];
  /** The weight of the roles that name a holder, 0 to 1. */
  readonly weight: number;
  /** When the mark was put on if it has one of those, adding up to 1. */
  readonly density: Density;
};

/**
 * Which roles name a holder, by any of the mark's readings. Where none does, the words are asked about all the same: who
 * is meant by them, held or not.
 */
export function namingRoles(
  { marking }: MarkDays,
  givenSurname: string | null | undefined,
  readings: readonly { readonly parts: MarkParts }[],
): NamingRoles {
  const { roles, density } = marking;
  const naming = roles.filter(({ role }) => readings.some(({ parts }) => roleNamesHolder(role, givenSurname, parts)));
  if (naming.length === 0 || naming.length === roles.length) return { naming: roles, unnamed: [], weight: 1, density };
  const all = sumOf(roles);
  return {
    naming,
    unnamed: roles.filter((each) => !naming.includes(each)),
    weight: sumOf(naming) / all,
    density: mixed(naming) ?? density,
  };
}

const sumOf = (roles: readonly RoleDays[]): number => roles.reduce((sum, { weight }) => sum + weight, 0);

/**
 * The delays of a mark whose role is uncertain, for successions of holders. Nothing in the ledger says how often a mark
 * that names no holder reads so: its words are taken to weigh as much as they do under the other roles in the mean, so
 * that such a role keeps its weight when the mark is taken by itself.
 * @param evidence what the words weigh under the naming roles, by the days of `density`.
 */
export function lawsOf(
  { naming, unnamed }: Pick<NamingRoles, 'naming' | 'unnamed'>,
  evidence: number,
): { readonly law: DelayLaw; readonly unnamed: DelayLaw | undefined } {
  const together = (roles: readonly RoleDays[]): DelayLaw => roles.flatMap(({ law }) => law);
  return {
    law: together(naming),
    unnamed: unnamed.length === 0 ? undefined : timesLaw(together(unnamed), evidence),
  };
}
