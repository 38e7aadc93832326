import type { Assumptions } from '../assumptions.ts';

/** What joins a holder to the one before. */
export type Link = 'same' | 'kin' | 'same surname' | 'other';

/** A holder as far as links go: a person, or the unrecorded holder of one mark. */
export type Linked = { readonly person: string | undefined; readonly surnames: readonly string[] };

export type IsKin = (a: string, b: string) => boolean;

/**
 * What joins two holders of successive marks: the first case that applies.
 * 1. The same person; somebody unrecorded is never known to be the same.
 * 2. Recorded kin.
 * 3. One surname; somebody unrecorded has the surname that their mark bears.
 * 4. Nothing that is known.
 */
export function linkBetween(a: Linked, b: Linked, isKin: IsKin): Link {
  if (a.person !== undefined && a.person === b.person) return 'same';
  if (a.person !== undefined && b.person !== undefined && (isKin(a.person, b.person) || isKin(b.person, a.person))) {
    return 'kin';
  }
  return a.surnames.some((surname) => b.surnames.includes(surname)) ? 'same surname' : 'other';
}

/** How much likelier an object passes between two holders so joined than between strangers. */
export function linkFactor(link: Link, { values }: Pick<Assumptions, 'values'>): number {
  if (link === 'same') return values['chain.same'];
  if (link === 'kin') return values['chain.kin'];
  return link === 'same surname' ? values['chain.surname'] : 1;
}
