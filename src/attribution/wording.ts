import type { Assumptions } from '../assumptions.ts';

/** How firmly a conclusion may be put, the firmest first. */
const GRADES = ['certain', 'very', 'probably', 'possibly', 'open'] as const;
export type Grade = (typeof GRADES)[number];

const WORDS: Readonly<Record<Grade, string>> = {
  certain: 'almost certainly',
  very: 'very probably',
  probably: 'probably',
  possibly: 'possibly',
  open: 'cannot be ruled out',
};

/** Shares come out of long sums; one that is short of a limit by no more than this has reached it. */
const ROUNDING = 1e-9;

/**
 * The grade of a share, 0 to 1. A provisional result, one that would differ had another of the contradicting records
 * been set aside, drops one grade.
 */
export function gradeOf(share: number, provisional: boolean, { values }: Pick<Assumptions, 'values'>): Grade {
  const reached = GRADES.findIndex((grade) => grade === 'open' || share >= values[`wording.${grade}`] - ROUNDING);
  return GRADES[provisional ? reached + 1 : reached] ?? 'open';
}

export const gradeWords = (grade: Grade): string => WORDS[grade];

/** Of somebody who cannot be ruled out nothing is concluded, and so nothing that could hang on a record. */
export const isConclusion = (grade: Grade): boolean => grade !== 'open';

/**
 * The grade in words. A conclusion that hangs on a record keeps its grade and says so; `hangsOn` names such records as
 * print does ("the Annual List of 1838").
 */
export function wordingOf(grade: Grade, hangsOn: readonly string[]): string {
  if (hangsOn.length === 0 || !isConclusion(grade)) return WORDS[grade];
  return `${WORDS[grade]}, on the strength of ${hangsOn.map((record) => `${record} alone`).join(', and of ')}`;
}
