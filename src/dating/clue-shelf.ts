import data from './data/clues.json' with { type: 'json' };
import { type ClueFact, weightBy } from './fact.ts';
import type { Confidence } from './hard-windows.ts';
import type { RecordedForce } from './recorded-force.ts';

type Row = readonly [
  name: string,
  text: string,
  pattern: string | null,
  flags: string,
  window: string | null,
  force: RecordedForce,
  confidence: Confidence,
  source: number,
  fromMemory: 0 | 1,
  dates: string,
  note: string,
];

/** Datable wordings and devices on marks, labels and linings. */
export const clueFacts = (): ClueFact[] =>
  (data.facts as unknown as readonly Row[]).map(
    ([name, text, pattern, flags, window, force, confidence, source, fromMemory, dates, note]) => ({
      name,
      text,
      // Without the u flag: with it a long s would be taken for a short one where the case does not count.
      pattern: pattern === null ? undefined : new RegExp(pattern, flags.includes('c') ? 'gm' : 'gim'),
      yearInWords: flags.includes('y'),
      window: window ?? undefined,
      force,
      weight: weightBy(confidence),
      confidence,
      source: data.sources[source] ?? '',
      fromMemory: fromMemory === 1,
      dates,
      note,
    }),
  );
