import { type Ground, type GroundsReader, ground, note, percent } from './grounds-tree.ts';

/** A share of somebody, of one mark or of all successions, and what was found out on it. */
type Concluded = { readonly share: number; readonly provisional: boolean; readonly hangsOn: readonly string[] };

/** Whether a conclusion on somebody stands without any one record. */
export const standsInWords = (name: string, hangsOn: readonly string[]): string =>
  hangsOn.length === 0
    ? `the conclusion on ${name} stands without any one record`
    : `without any one of these the share of ${name} falls to half or less`;

export const standsGrounds = (hangsOn: readonly string[], reader: GroundsReader): Ground[] => [
  ...hangsOn.map((id) => reader.record(id)),
  reader.assumption('hang.ratio'),
];

/** How firmly a share may be put. */
export const wordingGrounds = ({ share, provisional, hangsOn }: Concluded, reader: GroundsReader): Ground[] => [
  note(`the share is ${percent(share)}`),
  ...(provisional ? [note('it is provisional, which drops it by one grade')] : []),
  ...['wording.certain', 'wording.very', 'wording.probably', 'wording.possibly'].map((each) => reader.assumption(each)),
  ...hangsOn.map((id) => ground('note', 'the conclusion hangs on', id, [reader.record(id)])),
];

/** Whether a conclusion on somebody rests on a choice. */
export const provisionalInWords = (name: string, provisional: boolean): string =>
  `what is said of ${name} rests on ${provisional ? 'a' : 'no'} choice among contradicting records`;
