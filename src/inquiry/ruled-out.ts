import type { Shares } from '../attribution/candidates.ts';
import { type PersonName, personName } from '../ledger/people.ts';
import { agreeingForms } from './candidate-inputs.ts';
import { spanInAnswer } from './days.ts';
import type { MarkQuestion } from './mark-question.ts';

/** Somebody whose name agrees with a mark, but who is no candidate for it. */
export type RuledOut = {
  readonly person: PersonName;
  /** 1. `time`: in the rank of the mark, but on no day of it. 2. `rank`: never in that rank, as far as is recorded. */
  readonly ground: 'time' | 'rank';
  /** How far the name disagrees. */
  readonly bits: number;
  /** The days on which they can have been in the rank. */
  readonly inRank: readonly { readonly from: string | null; readonly to: string | null }[];
};

/** The name alone can bring in hundreds; those whose name is nearest say what is to be said. */
const MOST_NAMED = 20;

/** Everybody of the name who is no candidate, and on which ground: the nearest name first. */
export function ruledOutOf(question: MarkQuestion, { ranked, outOfTime }: Shares): RuledOut[] {
  const weighed = new Set(ranked.map(({ person }) => person));
  const late = new Map(outOfTime.map((input) => [input.person, input]));
  const found = [...question.known.values()].flatMap((known) => {
    if (weighed.has(known.person)) return [];
    const forms = agreeingForms(known.names, question.sought, question.assumptions);
    if (forms.length === 0) return [];
    const bits = Math.min(...forms.map(({ surnameBits, forenameBits }) => surnameBits + forenameBits));
    return [{ person: known.person, bits, posts: late.get(known.person)?.posts ?? [] }];
  });
  return found
    .sort((a, b) => a.bits - b.bits || Number(a.person.slice(1)) - Number(b.person.slice(1)))
    .slice(0, MOST_NAMED)
    .map(({ person, bits, posts }) => ({
      person: personName(question.db, Number(person.slice(1))),
      ground: posts.length > 0 ? 'time' : 'rank',
      bits,
      inRank: posts.flatMap(({ tenure }) => (tenure === undefined ? [] : [spanInAnswer(tenure.possible)])),
    }));
}
