import { type MarkDays, weigh } from '../attribution/candidate.ts';
import { type PersonName, personName } from '../ledger/people.ts';
import { surnameCount, surnamesWithin } from '../ledger/surname-search.ts';
import { limitBits, patternFrom } from '../names/pattern.ts';
import { candidateInputs, type Sought } from './candidate-inputs.ts';
import { knownPeople, type MarkQuestion } from './mark-question.ts';

/** How many bits beyond the limit of a reading names are looked at. */
const REACH_BITS = 12;
/** With so few surnames all of them are looked at where the reach has too few; with more that would take seconds. */
const FEW_SURNAMES = 5000;
const MOST_BEYOND = 3;
const LOOKED_AT = 40;

/** The nearest people beyond the limit who were in the rank at the time: a check on the reading, no finding. */
export function nearestBeyond(question: MarkQuestion, when: MarkDays): Near[] {
  const found = nearestWithin(question, when, REACH_BITS);
  const enough = found.length >= MOST_BEYOND || surnameCount(question.db) > FEW_SURNAMES;
  return (enough ? found : nearestWithin(question, when, Number.POSITIVE_INFINITY)).slice(0, MOST_BEYOND);
}

type Near = { readonly person: PersonName; readonly bits: number };

function nearestWithin(question: MarkQuestion, when: MarkDays, reach: number): Near[] {
  const { db, assumptions, read, readings } = question;
  const { readings: each, ...only } = question.sought;
  const found = new Map<string, Near>();
  for (const [at, { parts }] of readings.entries()) {
    if (parts.surname === undefined) continue;
    const surname = patternFrom(parts.surname);
    const limit = limitBits(surname, assumptions);
    const near = surnamesWithin(db, surname, limit + reach, assumptions.values['agree.element'])
      .filter(({ bits }) => bits > limit)
      .sort((a, b) => a.bits - b.bits || a.id - b.id)
      .slice(0, LOOKED_AT);
    const wider: Sought = {
      ...(each?.[at]?.sought ?? only),
      surnameBits: new Map(near.map(({ id, bits }) => [id, bits])),
    };
    for (const known of knownPeople(db, read, assumptions, wider).values()) {
      const inputs = candidateInputs(known, wider, assumptions).filter((input) => weigh(input, when).weight > 0);
      const bits = Math.min(...inputs.flatMap(({ forms }) => forms.map(({ surnameBits }) => surnameBits)));
      const before = found.get(known.person)?.bits ?? Number.POSITIVE_INFINITY;
      if (bits < before) found.set(known.person, { person: personName(db, Number(known.person.slice(1))), bits });
    }
  }
  return [...found.values()].sort((a, b) => a.bits - b.bits || (a.person.name < b.person.name ? -1 : 1));
}
