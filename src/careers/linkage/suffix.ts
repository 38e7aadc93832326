import { fold } from '../../services/fold.ts';
import { Numbered, once } from './numbered.ts';

/** Numbers of suffixes; 0 is none, and all others come behind these. */
export const SENIOR = 1;
const JUNIOR = 2;

const SENIOR_WORDS = /^(?:sen|senr|senior|sr|the elder|elder|1|1st|i|first)$/;
const JUNIOR_WORDS = /^(?:jun|junr|jnr|junior|jr|the younger|younger|2|2nd|2d|ii|second)$/;

/** A number for each suffix, whatever its spelling: `Jun.`, `jr` and `(2)` are one. */
export function suffixNumbers(): { of(text: string): number; count(): number } {
  const others = new Numbered();
  for (const taken of ['none', 'senior', 'junior']) others.of(taken);
  const of = once((text) => {
    const key = fold(text)
      .replace(/[^\p{L}\p{N}]+/gu, ' ')
      .trim();
    if (key === '') return 0;
    if (SENIOR_WORDS.test(key)) return SENIOR;
    return JUNIOR_WORDS.test(key) ? JUNIOR : others.of(`suffix ${key}`);
  });
  return { of, count: () => others.texts.length };
}
