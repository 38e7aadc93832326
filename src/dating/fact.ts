import type { Confidence } from './hard-windows.ts';
import type { RecordedForce } from './recorded-force.ts';
import type { Weight } from './window-factor.ts';

/** A datable trait or wording of the reference shelf, or of a house's own. */
export type Fact = {
  /** Its name on the shelf: `rms-prefix`. */
  readonly name: string;
  readonly text: string;
  /** A date expression: `1780~/1850~`, `../1850~`; undefined where only a year in the words dates it. */
  readonly window: string | undefined;
  readonly force: RecordedForce;
  readonly weight: Weight;
  readonly confidence: Confidence;
  readonly source: string;
  readonly fromMemory: boolean;
  readonly note: string;
};

/** A fact with a pattern by which it is found in words. */
export type ClueFact = Fact & {
  readonly pattern: RegExp | undefined;
  /** The latest year that stands in the words found is the earliest for them. */
  readonly yearInWords: boolean;
  /** What it dates: `mark`, `label`, `design`, `property`, `image`, `part`, `lining`, `object` or `paper`. */
  readonly dates: string;
};

/** How much a usual window weighs where nothing else is said: no exceptions are known to a custom of low confidence. */
export const weightBy = (confidence: Confidence): Weight => (confidence === 'low' ? 'weak' : 'moderate');

export const FROM_MEMORY = 'from memory';

/** The source as an answer gives it, with the note that it was not looked up. */
export const sourceOf = ({ source, fromMemory }: Pick<Fact, 'source' | 'fromMemory'>): string =>
  fromMemory && !source.includes(FROM_MEMORY) ? `${source} (${FROM_MEMORY})` : source;
