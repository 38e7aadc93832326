import type { MarkParts } from '../names/mark-parts.ts';
import { shown } from './text.ts';

/** What was read in a mark, part by part, so that a wrong part can be corrected. */
export function partsInWords(parts: MarkParts): string {
  const titles = [...new Set(parts.rank?.ranks.map(({ title }) => title))];
  const read = [
    ['rank', titles.length > 0 ? titles.join(' or ') : parts.rank?.text],
    ['forenames', parts.forenames],
    ['surname', parts.surname],
    ['service', parts.service],
    ['corps', parts.corps],
    ['place', parts.place],
    ['date', parts.date?.text],
  ].flatMap(([name, value]) => (value === undefined || value === '' ? [] : [`${name} ${shown(value)}`]));
  const rest = parts.rest.length > 0 ? `; not understood: ${parts.rest.map(shown).join(', ')}` : '';
  const date = parts.date === undefined ? '' : '\nA date in the words counts when it is recorded: --made DATE.';
  return `Read as: ${read.join(' · ') || 'no name'}${rest}.${date}`;
}
