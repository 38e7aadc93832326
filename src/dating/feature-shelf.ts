import data from './data/features.json' with { type: 'json' };
import type { Fact } from './fact.ts';
import type { Confidence } from './hard-windows.ts';
import type { Weight } from './window-factor.ts';

type Row = readonly [name: string, text: string, window: string, weight: Weight, confidence: Confidence, note: string];

/** Datable traits of construction, material and finish; each is a custom of the trade, none excludes any year. */
export const featureFacts = (): Fact[] =>
  (data.facts as unknown as readonly Row[]).map(([name, text, window, weight, confidence, note]) => ({
    name,
    text,
    window,
    force: 'usual',
    weight,
    confidence,
    source: data.source,
    fromMemory: true,
    note,
  }));
