import marks from '../attribution/cautions.json' with { type: 'json' };
import objects from '../attribution/object-cautions.json' with { type: 'json' };
import { HeldbyError } from '../errors.ts';
import english from './phrases/en.json' with { type: 'json' };

export type PhraseName = keyof typeof english;

/** Every wording of a report, by name; `{places}` are filled with what is said. */
export type Phrases = Readonly<Record<PhraseName, string>>;

export const ENGLISH = (): Phrases => english;

/** Cautions stand with the reckoning that calls for them; another language has them by their ids. */
const cautionNames = (): Map<string, string> =>
  new Map([
    ...objects.cautions.map(({ id, text }) => [text, `caution.object.${id}`] as const),
    ...marks.cautions.map(({ id, text }) => [text, `caution.${id}`] as const),
  ]);

/** A caution of an answer in the language of the phrases; as it is where they do not have it. */
export function cautionIn(phrases: Phrases, text: string): string {
  const name = cautionNames().get(text);
  const said = name === undefined ? undefined : (phrases as Readonly<Record<string, string>>)[name];
  return said ?? text;
}

/** Every phrase by its name, the cautions included: what a file in another language can hold. */
export const everyPhrase = (): Readonly<Record<string, string>> => ({
  ...english,
  ...Object.fromEntries([...cautionNames()].map(([text, name]) => [name, text])),
});

/**
 * Phrases with some of them in other words.
 * @throws HeldbyError VALUE for a name that is none, or a place that the phrase does not have.
 */
export function phrasesWith(base: Phrases, given: Readonly<Record<string, unknown>>, where: string): Phrases {
  const changed: Record<string, string> = { ...base };
  const all = everyPhrase();
  for (const [name, text] of Object.entries(given)) {
    if (!Object.hasOwn(all, name))
      throw new HeldbyError('VALUE', `There is no phrase "${name}".`, nearest(name), where);
    if (typeof text !== 'string')
      throw new HeldbyError('VALUE', `The phrase "${name}" is no text.`, 'Write it in quotation marks.', where);
    const known = placesOf(all[name] ?? '');
    const unknown = placesOf(text).find((place) => !known.includes(place));
    if (unknown !== undefined)
      throw new HeldbyError(
        'VALUE',
        `The phrase "${name}" has no place {${unknown}}.`,
        known.length === 0 ? 'It has none.' : `Its places: ${known.map((place) => `{${place}}`).join(', ')}.`,
        where,
      );
    changed[name] = text;
  }
  return changed as Phrases;
}

const placesOf = (text: string): string[] => [...text.matchAll(/\{(\w+)\}/g)].map((match) => match[1] ?? '');

function nearest(name: string): string {
  const head = name.split('.')[0] ?? '';
  const near = Object.keys(english).filter((each) => each.split('.')[0] === head);
  return near.length > 0 ? `Near it: ${near.slice(0, 12).join(', ')}.` : 'See them all: heldby report --phrases';
}

/** A phrase with its places filled. What is filled in is never taken for a place itself. */
export const filled = (template: string, values: Readonly<Record<string, string>>): string =>
  template.replaceAll(/\{(\w+)\}/g, (_, place: string) => values[place] ?? '');
