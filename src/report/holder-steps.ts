import type { Days } from '../inquiry/made.ts';
import type { HolderAnswer } from '../inquiry/provenance.ts';
import type { LotMark, LotReport, PersonName } from '../inquiry/report-lot.ts';
import type { Degree } from './style.ts';
import { degreeOf } from './words.ts';

/** A holder with all that tells of the holding: one person's marks that follow each other are one holding. */
export type HolderStep = Days & {
  /** Null: somebody unrecorded. */
  readonly person: PersonName | null;
  readonly degree: Degree;
  readonly marks: readonly string[];
  /** What joins it to the step before. */
  readonly link: HolderAnswer['link'];
  readonly kinships: readonly string[];
  /** The days between the step before and this one on which nobody is known to have held it. */
  readonly gap: Days | undefined;
};

/** The likeliest succession, step by step, the earliest first. */
export function holderSteps({ provenance }: Pick<LotReport, 'provenance'>): HolderStep[] {
  const chain = provenance?.chains[0];
  const steps: HolderStep[] = [];
  for (const holder of chain?.holders ?? []) {
    const last = steps.at(-1);
    if (last !== undefined && holder.link === 'same') {
      steps[steps.length - 1] = { ...last, to: holder.to, marks: [...last.marks, holder.mark] };
      continue;
    }
    const found = provenance?.holders.find(({ person }) => person !== null && person.id === holder.person?.id);
    steps.push({
      person: holder.person,
      degree: degreeOf(found?.wording ?? ''),
      from: holder.from,
      to: holder.to,
      marks: [holder.mark],
      link: holder.link,
      kinships: holder.kinships,
      gap: chain?.gaps.find(({ before }) => before === holder.mark),
    });
  }
  return steps;
}

const isUncertain = (role: string): boolean => role.includes(',');

/**
 * Marks that tell where the object was without naming a holder, in the order of their days; also those which may name one
 * by their role, but do not in the likeliest succession.
 */
export function custodyMarks({ marks, provenance }: Pick<LotReport, 'marks' | 'provenance'>): LotMark[] {
  const held = new Set(provenance?.chains[0]?.holders.map(({ mark }) => mark));
  return marks
    .filter(({ id, candidates, role }) =>
      candidates === null ? role !== 'other' && role !== 'owner' : isUncertain(role) && held.size > 0 && !held.has(id),
    )
    .sort((a, b) => (middleOf(a) < middleOf(b) ? -1 : 1));
}

/**
 * Whether the object passed directly into this step: from recorded kin or a bearer of the same surname, with no gap.
 * Nothing else that is reckoned tells how it passed.
 */
export const passedDirectly = ({ link, gap, person }: HolderStep): boolean =>
  gap === undefined && (link === 'kin' || (link === 'same surname' && person !== null));

/** The middle of a span, by its years, for putting spans in order. */
export function middleOf({ from, to }: Days): number {
  const year = (day: string | null): number | undefined =>
    day === null ? undefined : Number(day.slice(0, -6)) + Number(day.slice(-5, -3)) / 12 + Number(day.slice(-2)) / 366;
  const [first, last] = [year(from), year(to)];
  return ((first ?? last ?? 0) + (last ?? first ?? 0)) / 2;
}
