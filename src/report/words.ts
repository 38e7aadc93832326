import { gradeWords } from '../attribution/wording.ts';
import type { LotPerson, LotReport, PersonName } from '../inquiry/report-lot.ts';
import { type DateWords, dateWords } from './dates.ts';
import { filled, type PhraseName } from './phrases.ts';
import type { Degree, Style } from './style.ts';

type Values = Readonly<Record<string, string>>;

/** The wordings of a house, for one lot after the other. */
export type Words = {
  readonly style: Style;
  readonly dates: DateWords;
  say(name: PhraseName, values?: Values): string;
  /** A phrase whose name is made of a word of the ledger (`role.owner`); the word itself where there is no such phrase. */
  named(head: string, word: string): string;
  all(parts: readonly string[], joint?: 'list.comma' | 'list.and' | 'list.or' | 'list.semicolon'): string;
  share(share: number): string;
  degree(degree: Degree): string;
};

export function wordsOf(style: Style): Words {
  const dates = dateWords(style);
  const say = (name: PhraseName, values: Values = {}): string => filled(style.phrases[name], values);
  return {
    style,
    dates,
    say,
    named: (head, word) => {
      const name = `${head}.${word}`;
      return Object.hasOwn(style.phrases, name) ? style.phrases[name as PhraseName] : word;
    },
    all: (parts, joint = 'list.comma') =>
      parts.length === 0 ? '' : parts.reduce((list, last) => say(joint, { list, last })),
    share: (share) => {
      const number = Math.round(share * 100);
      if (number < 1) return say('share.less');
      return number > 99 && share < 1 ? say('share.more') : say('share', { number: String(number) });
    },
    degree: (degree) => say(`grade.${degree}`),
  };
}

const DEGREES: readonly Degree[] = ['certain', 'very', 'probably', 'possibly', 'open'];

/** The degree that an answer's wording states; a wording goes on to say on what it hangs. */
export const degreeOf = (wording: string): Degree =>
  DEGREES.find((degree) => wording.startsWith(gradeWords(degree))) ?? 'open';

/** The less firm of two. */
export const lesserDegree = (a: Degree, b: Degree): Degree =>
  DEGREES[Math.max(DEGREES.indexOf(a), DEGREES.indexOf(b))] ?? 'open';

export const isPrinted = (words: Words, degree: Degree): boolean => words.style.degrees.includes(degree);

/** How the people of one lot are called in print. */
export type Naming = {
  isWithheld(id: string): boolean;
  /** Name and years of life. */
  full(person: PersonName, on?: string | null): string;
  /** The name alone. */
  plain(person: PersonName): string;
  /** What is written on a mark, or anything else that may name somebody: withheld where they may be living. */
  text(text: string, people: readonly string[]): string;
};

export function namingOf({ people }: Pick<LotReport, 'people'>, words: Words): Naming {
  const isWithheld = (id: string): boolean => words.style.living === 'withhold' && people[id]?.mayBeLiving === true;
  const plain = (person: PersonName): string => (isWithheld(person.id) ? words.say('person.withheld') : person.name);
  return {
    isWithheld,
    plain,
    full: (person, on) => {
      const known = people[person.id];
      if (known === undefined || isWithheld(person.id)) return plain(person);
      const name = nameOn(known, on ?? null, words);
      const life = lifeOf(known, words);
      const { lifeDates } = words.style;
      return life === '' || lifeDates === 'none' ? name : words.say(`person.${lifeDates}`, { name, life });
    },
    text: (text, ids) => (ids.some(isWithheld) ? words.say('text.withheld') : text),
  };
}

/** The name that somebody bore on a day, with the recorded one where that is another. */
function nameOn({ name, names }: LotPerson, day: string | null, words: Words): string {
  if (day === null) return name;
  const then = names.find(
    (each) => each.from !== null && each.from <= day && (each.to === null || each.to >= day) && each.name !== name,
  );
  return then === undefined ? name : words.say('person.also', { name: then.name, recorded: name });
}

/** `1812–1871`, `born 1812`, `died 1871`. */
export function lifeOf({ born, died }: Pick<LotPerson, 'born' | 'died'>, { say, dates }: Words): string {
  const year = (date: NonNullable<LotPerson['born']>): string => {
    const from = date.from?.slice(0, 4);
    const oneYear = from !== undefined && from === date.to?.slice(0, 4);
    return dates.said(oneYear ? { ...date, from: `${from}-01-01`, to: `${from}-12-31` } : date);
  };
  if (born !== null && died !== null) return say('person.life', { born: year(born), died: year(died) });
  if (born !== null) return say('person.born', { born: year(born) });
  return died === null ? '' : say('person.died', { died: year(died) });
}
