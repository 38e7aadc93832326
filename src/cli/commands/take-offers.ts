import { assumptionsOf } from '../../ledger/assumed.ts';
import { evidenceReader } from '../../ledger/evidence.ts';
import { corpsBeginning, peopleBeginning, ranksBeginning } from '../../ledger/find-beginnings.ts';
import { wordsInEdition } from '../../ledger/find-in-edition.ts';
import type { Db } from '../../ledger/open.ts';

/** What can go on from what was typed so far: whole texts, and the end of the line that each of them replaces. */
export type Offers = (typed: string) => readonly [offered: string[], replaced: string];

/** Asks for one line; undefined when there are no more. `offers`: what the key TAB completes it by. */
export type Ask = (prompt: string, offers?: Offers) => Promise<string | undefined>;

export type TakeOffers = {
  /** Anywhere in a line of the compact notation. */
  readonly line: Offers;
  readonly person: Offers;
  readonly rank: Offers;
  readonly corps: Offers;
};

const MOST = 60;

/** Completes people of the ledger, and ranks and corps as they are used in this edition before all others. */
export function takeOffers(db: Db, edition: number): TakeOffers {
  const reader = evidenceReader(db, assumptionsOf(db));
  const titles = reader.ladder(reader.edition(edition).service).ranks.map(({ rank }) => rank.title);
  const people = (typed: string): string[] =>
    typed === ''
      ? []
      : peopleBeginning(db, typed, MOST).map(({ value, about }) => (/^p\d/.test(value) ? about : value));
  const ranks = (typed: string): string[] =>
    begins(typed, [...wordsInEdition(db, edition).ranks, ...values(ranksBeginning(db, typed, MOST)), ...titles]);
  const corps = (typed: string): string[] =>
    begins(typed, [...wordsInEdition(db, edition).corps, ...values(corpsBeginning(db, typed, MOST))]);

  /** A sign says what is wanted; else it may be any of them. */
  const anyOf = (part: string): readonly [string[], string] => {
    const typed = part.slice(1);
    if (part.startsWith('@')) return [corps(typed), typed];
    if (part.startsWith('^')) return [ranks(typed), typed];
    if (part.startsWith('=')) return [people(typed), typed];
    return [part === '' ? [] : [...new Set([...corps(part), ...ranks(part), ...people(part)])], part];
  };
  return {
    line: (line) => {
      // The part that is being typed, as a whole; where nothing begins so, its last words, the most of them first.
      const part = /[^,;|\t]*$/.exec(line)?.[0].trimStart() ?? '';
      const words = part.split(' ');
      for (let at = 0; at < words.length; at += 1) {
        const [offered, replaced] = anyOf(words.slice(at).join(' '));
        if (offered.length > 0) return [offered.slice(0, MOST), replaced];
      }
      return [[], ''];
    },
    person: (typed) => [people(typed), typed],
    rank: (typed) => [ranks(typed), typed],
    corps: (typed) => [corps(typed), typed],
  };
}

const values = (found: readonly { readonly value: string }[]): string[] => found.map(({ value }) => value);

const begins = (typed: string, texts: readonly string[]): string[] => [
  ...new Set(texts.filter((text) => text.toLowerCase().startsWith(typed.toLowerCase()))),
];
