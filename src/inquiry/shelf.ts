import { clueFacts } from '../dating/clue-shelf.ts';
import { type ClueFact, type Fact, weightBy } from '../dating/fact.ts';
import { featureFacts } from '../dating/feature-shelf.ts';
import type { Confidence } from '../dating/hard-windows.ts';
import { housePattern, saysSomething } from '../dating/house-pattern.ts';
import type { RecordedForce } from '../dating/recorded-force.ts';
import type { Weight } from '../dating/window-factor.ts';
import { HeldbyError } from '../errors.ts';
import { type HouseFact, houseFacts } from '../ledger/house-facts.ts';
import type { Db } from '../ledger/open.ts';
import { fold } from '../services/fold.ts';
import { foldedWords } from '../services/folded-words.ts';

/** A fact of the shelf that ships, or of the house's own. */
export type ShelfFact = ClueFact & {
  /** The record of the house's own fact; null: it ships. */
  readonly id: string | null;
  /** A trait of an object, a wording on it, or either. */
  readonly kind: 'trait' | 'wording' | 'own';
};

const traitOf = (fact: Fact): ShelfFact => ({
  ...fact,
  pattern: undefined,
  yearInWords: false,
  dates: 'part',
  id: null,
  kind: 'trait',
});

function ownOf(fact: HouseFact): ShelfFact {
  const confidence = (fact.confidence ?? 'medium') as Confidence;
  return {
    name: fact.name,
    text: fact.text,
    pattern: fact.pattern === null || !saysSomething(fact.pattern) ? undefined : housePattern(fact.pattern),
    yearInWords: false,
    window: fact.window ?? undefined,
    force: fact.force as RecordedForce,
    weight: (fact.weight ?? weightBy(confidence)) as Weight,
    confidence,
    source: fact.source ?? '',
    fromMemory: false,
    note: '',
    dates: 'mark',
    id: fact.id,
    kind: 'own',
  };
}

/** Every fact: the house's own first, because they stand above those that ship under the same name. */
export function shelf(db: Db | undefined): ShelfFact[] {
  const own = db === undefined ? [] : houseFacts(db).map(ownOf);
  const names = new Set(own.map(({ name }) => name));
  const shipped = [
    ...clueFacts().map((fact): ShelfFact => ({ ...fact, id: null, kind: 'wording' })),
    ...featureFacts().map(traitOf),
  ];
  return [...own, ...shipped.filter(({ name }) => !names.has(name))];
}

/**
 * The fact of a name, or of the id of a house's own.
 * @throws HeldbyError REFERENCE with facts whose names or texts are near.
 */
export function factNamed(db: Db | undefined, words: string): ShelfFact {
  const facts = shelf(db);
  const wanted = words.trim();
  const found = facts.find(({ name, id }) => name === wanted || id === wanted);
  if (found !== undefined) return found;
  const near = factsLike(facts, wanted)
    .slice(0, 8)
    .map(({ name, text }) => `  ${name}  ${text}`);
  throw new HeldbyError(
    'REFERENCE',
    `There is no fact "${words}".`,
    near.length > 0
      ? `Name one of these:\n${near.join('\n')}`
      : 'Look for it: heldby fact find WORDS, or put it on the shelf: heldby fact add',
  );
}

/** Facts of which name, text or note hold every one of the words, or begin with them. */
export function factsLike(facts: readonly ShelfFact[], words: string): ShelfFact[] {
  const wanted = wordsIn(words);
  return facts.filter(({ name, text, note }) => {
    const there = wordsIn(`${name} ${text} ${note}`);
    return wanted.every((word) => there.some((each) => each.startsWith(word)));
  });
}

const wordsIn = (text: string): readonly string[] => foldedWords(fold(text));
