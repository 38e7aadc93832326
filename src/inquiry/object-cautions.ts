import { objectCautions } from '../attribution/object-cautions.ts';
import type { ObjectMarks } from './object-marks.ts';

const CUSTODY: readonly string[] = ['depository', 'carrier', 'sale'];

/** What of an object and its marks calls for a caution, whatever is asked about it. */
const grounds = ({ dated, marks }: ObjectMarks) => {
  const used = dated.features.filter(({ id }) => dated.making.used.includes(id));
  return {
    'no-feature': used.length === 0,
    'usual-only': used.length > 0 && used.every(({ force }) => force === 'usual'),
    'windows-contradict': dated.making.conflicts.length > 0,
    'part-doubtful': used.some(({ state }) => state === 'thought-original' || state === 'doubtful'),
    'before-making': marks.some(({ days }) => days.marking.beforeMaking),
    'role-uncertain': marks.some(({ row }) => row.roles.length > 1),
  };
};

/** The cautions that go with the making of an object. */
export const madeCautions = (given: ObjectMarks, contradicted: boolean): string[] =>
  objectCautions({
    ...grounds(given),
    'marks-date-themselves': given.marks.length > 0,
    'making-contradicted': contradicted,
  }).map(({ text }) => text);

/** What of a succession of holders calls for a caution besides. */
export type SuccessionGrounds = {
  readonly contradicted: boolean;
  readonly overlyingContradicted: boolean;
  readonly nobodyFits: boolean;
  readonly unrecordedLeads: boolean;
  readonly hangs: boolean;
  readonly gaps: boolean;
  readonly provisional: boolean;
  readonly proved: boolean;
  readonly leftOut: boolean;
};

/** The cautions that go with a succession of holders. */
export const successionCautions = (given: ObjectMarks, found: SuccessionGrounds): string[] =>
  objectCautions({
    ...grounds(given),
    'making-contradicted': found.contradicted,
    'overlying-contradicted': found.overlyingContradicted,
    'no-holder': given.marks.every(({ weighed }) => weighed === undefined),
    custody: given.marks.some(({ row }) => row.roles.some(({ role }) => CUSTODY.includes(role))),
    'nobody-fits': found.nobodyFits,
    'unrecorded-leads': found.unrecordedLeads,
    hangs: found.hangs,
    gaps: found.gaps,
    provisional: found.provisional,
    'not-proved': !found.proved,
    'left-out': found.leftOut,
  }).map(({ text }) => text);
