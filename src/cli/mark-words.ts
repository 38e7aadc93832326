import type { MarkReading } from '../ledger/marks.ts';
import { shown } from './text.ts';

/** What was read in a mark, part by part, so that a wrong part can be corrected. */
export function partsInWords(reading: MarkReading): string {
  const parts = [
    ['rank', reading.rankText],
    ['forenames', reading.forenames],
    ['surname', reading.surname],
    ['corps', reading.corps],
    ['place', reading.place],
  ].flatMap(([name, value]) => (value === undefined || value === '' ? [] : [`${name} ${shown(value)}`]));
  const rest = reading.rest.length > 0 ? `; not understood: ${reading.rest.map(shown).join(', ')}` : '';
  return `Read as: ${parts.join(' · ') || 'no name'}${rest}.`;
}
