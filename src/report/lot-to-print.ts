import type { LotReport } from '../inquiry/report-lot.ts';
import type { TimelineAnswer } from '../inquiry/timeline.ts';
import type { KeptPhotograph } from './photograph.ts';

/** A lot to be printed; its calendar and the photographs by their ids, where the form can hold pictures. */
export type LotToPrint = {
  readonly lot: LotReport;
  readonly timeline?: TimelineAnswer | undefined;
  readonly photographs?: Readonly<Record<string, KeptPhotograph>> | undefined;
};
