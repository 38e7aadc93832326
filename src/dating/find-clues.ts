import type { Reading, Sign } from '../names/reading.ts';
import { type RegistrationDay, registrationDay } from './design-registration.ts';
import type { ClueFact } from './fact.ts';
import { type NumberYear, yearOfNumber } from './number-series.ts';

/** A datable wording in a text. `from` and `until` count UTF-16 units in the text as it was given. */
export type FoundClue = {
  readonly fact: ClueFact;
  readonly words: string;
  readonly from: number;
  readonly until: number;
  /** A letter of it is unsure or restored. */
  readonly unsure: boolean;
  /** The latest year in the words, else the first close behind them, where a year dates them. */
  readonly year: number | undefined;
  readonly number: NumberYear | undefined;
  /** The day that a lozenge of design registration tells by its corners. */
  readonly registered: RegistrationDay | undefined;
};

/** The fact whose words are read corner by corner. */
const DESIGN_LOZENGE = 'rd-diamond';

/** So near behind a sign a year belongs to it: `© Blank & Co. 1961`. */
const NEAR_CHARACTERS = 24;

const yearsIn = (words: string): number[] =>
  [...words.matchAll(/(?<!\d)(?:1[5-9]|20)\d\d(?!\d)/g)].map((year) => Number(year[0]));

/** A text to search, with the place of each of its characters in the text as it was given. */
type Searched = { readonly text: string; readonly at: readonly number[]; readonly unsure: readonly boolean[] };

/** Stands for a letter that is lost: no letter, no figure, no space. */
const LOST = '\ufffd';
/** No wording worth finding is longer, and a search must end. */
const MOST_CHARACTERS = 20_000;

/**
 * Every datable wording in a transcription, in the order of the text. It is searched as it is written, and with what
 * the transcriber expanded and supplied; line by line, and as if it stood in one line.
 */
export function findClues(reading: Reading, facts: readonly ClueFact[]): FoundClue[] {
  const texts = [false, true].flatMap((meant) => ['\n', ' '].map((lineEnd) => searched(reading.signs, meant, lineEnd)));
  const found = new Map<string, FoundClue>();
  for (const fact of facts) {
    if (fact.pattern === undefined) continue;
    for (const text of texts) {
      for (const match of text.text.matchAll(fact.pattern)) {
        const clue = foundClue(fact, match[0], match.index, text);
        if (clue === undefined) continue;
        const key = `${fact.name} ${clue.from} ${clue.until}`;
        if (!found.has(key)) found.set(key, clue);
      }
    }
  }
  return withoutParts([...found.values()]).sort(
    (a, b) => a.from - b.from || b.until - a.until || (a.fact.name < b.fact.name ? -1 : 1),
  );
}

/** One fact found twice at one place, in longer words and in shorter ones, is found once. */
const withoutParts = (found: readonly FoundClue[]): FoundClue[] =>
  found.filter(
    (clue) =>
      !found.some(
        (other) =>
          other !== clue &&
          other.fact === clue.fact &&
          other.from <= clue.from &&
          other.until >= clue.until &&
          other.until - other.from > clue.until - clue.from,
      ),
  );

function foundClue(fact: ClueFact, matched: string, index: number, text: Searched): FoundClue | undefined {
  const words = matched.trim();
  if (words === '') return undefined;
  const first = index + matched.indexOf(words);
  const last = first + words.length - 1;
  const behind = text.text.slice(last + 1, last + 1 + NEAR_CHARACTERS);
  const inWords = yearsIn(words);
  const years = !fact.yearInWords ? [] : inWords.length > 0 ? inWords : yearsIn(behind).slice(0, 1);
  return {
    fact,
    words: words.replace(/\s+/g, ' '),
    from: text.at[first] as number,
    until: (text.at[last] as number) + 1,
    unsure: text.unsure.slice(first, last + 1).includes(true),
    year: years.length === 0 ? undefined : Math.max(...years),
    number: yearOfNumber(fact.name, words),
    registered: fact.name === DESIGN_LOZENGE ? registrationDay(words) : undefined,
  };
}

function searched(signs: readonly Sign[], meant: boolean, lineEnd: string): Searched {
  let text = '';
  const at: number[] = [];
  const unsure: boolean[] = [];
  const add = (char: string, place: number, doubtful: boolean): void => {
    for (let i = 0; i < char.length; i += 1) {
      at.push(place + i);
      unsure.push(doubtful);
    }
    text += char;
  };
  for (const sign of signs) {
    if (text.length > MOST_CHARACTERS) break;
    if (sign.kind === 'lost' || sign.kind === 'run') add(LOST, sign.at, true);
    else if (sign.kind === 'break') {
      if (!sign.joins) add(lineEnd, sign.at, false);
    } else {
      const added = sign.state === 'expanded' || sign.state === 'supplied';
      if (added ? meant : !(meant && sign.state === 'superfluous'))
        add(sign.char, sign.at, sign.dotted || sign.state === 'restored');
    }
  }
  return { text, at, unsure };
}
