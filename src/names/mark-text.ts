import { endsWithoutSpace, keyOf, startsWithWord } from './characters.ts';
import { type Reading, readTranscription, type Sign, typedText } from './reading.ts';

/** What a word of a mark was taken for. */
export type PartName =
  | 'rank'
  | 'title'
  | 'forenames'
  | 'surname'
  | 'suffix'
  | 'service'
  | 'corps'
  | 'place'
  | 'date'
  | 'rest';

/** One word of a mark. `from` and `until` count UTF-16 units in the text as given. */
export type MarkWord = {
  /** As the transcriber takes it, `[.]` for a lost letter and `[---]` for a run. */
  readonly text: string;
  /** Letters and figures, folded. */
  readonly key: string;
  /** In the signs of a transcription. */
  readonly typed: string;
  readonly from: number;
  readonly until: number;
  /** Words between two commas, dashes or ends of lines have one number. */
  readonly segment: number;
  /** The segment began with a new line, not behind a comma. */
  readonly onNewLine: boolean;
  part: PartName | undefined;
};

export type MarkText = { readonly reading: Reading; readonly words: readonly MarkWord[] };

const ENDS_SEGMENT = /[,;]/;
const LONE_DASH = /^[-‐‑‒–—]$/;
const DIVIDES_WORDS = /[·•∙‧]/; // the points between the words of an inscription
const PASSED_OVER = /[()"“”]/; // brackets and inverted commas on the object itself

/** @throws HeldbyError READING */
export function markText(text: string): MarkText {
  const reading = readTranscription(text);
  const words: MarkWord[] = [];
  let signs: Sign[] = [];
  let segment = 0;
  let onNewLine = true;
  const end = (at: number): void => {
    const [first] = signs;
    const shown = signs.map(shownSign).join('');
    if (first !== undefined && [...shown].some((char) => char === '[' || char === '&' || startsWithWord(char))) {
      const until = at - (/\s*$/.exec(text.slice(first.at, at))?.[0].length ?? 0);
      const key = keyOf(shown.replaceAll('°', 'o'));
      words.push({
        text: shown,
        key,
        typed: typedText(signs),
        from: first.at,
        until,
        segment,
        onNewLine,
        part: undefined,
      });
    }
    signs = [];
  };
  const glued = new Set(endsWithoutSpace(reading.signs.map(plainSign).join('')));
  for (const [index, sign] of reading.signs.entries()) {
    if (glued.has(index)) end(sign.at);
    const char = sign.kind === 'char' ? sign.char : '';
    const isLoneDash = LONE_DASH.test(char) && isSpace(reading.signs[index - 1]) && isSpace(reading.signs[index + 1]);
    const ends = ENDS_SEGMENT.test(char) || isLoneDash || (sign.kind === 'break' && !sign.joins);
    if (ends || char === ' ' || DIVIDES_WORDS.test(char)) end(sign.at);
    else if (!(PASSED_OVER.test(char) || sign.kind === 'break')) signs.push(sign);
    if (!ends) continue;
    segment++;
    onNewLine = sign.kind === 'break';
  }
  end(text.length);
  return { reading, words };
}

/** One character for each sign. */
const plainSign = (sign: Sign): string => (sign.kind === 'char' && sign.char.length === 1 ? sign.char : ' ');

const isSpace = (sign: Sign | undefined): boolean => sign?.kind === 'char' && sign.char === ' ';

function shownSign(sign: Sign): string {
  if (sign.kind === 'lost') return '[.]';
  if (sign.kind === 'run') return '[---]';
  return sign.kind === 'break' || sign.state === 'superfluous' ? '' : sign.char;
}

/** Words one after the other of one segment that no part has yet. */
export function freeRuns(words: readonly MarkWord[]): MarkWord[][] {
  const runs: MarkWord[][] = [];
  let before: MarkWord | undefined;
  for (const word of words) {
    if (word.part !== undefined) before = undefined;
    else {
      if (before?.segment === word.segment) runs.at(-1)?.push(word);
      else runs.push([word]);
      before = word;
    }
  }
  return runs;
}

export const takeAs = (part: PartName, words: readonly MarkWord[]): void => {
  for (const word of words) word.part = part;
};

/** Words as text, with a comma between segments. */
export function wordsText(words: readonly MarkWord[]): string {
  return words
    .map(({ text, segment }, index) => {
      const before = words[index - 1];
      return before === undefined ? text : `${before.segment === segment ? '' : ','} ${text}`;
    })
    .join('');
}

/** The same to show: lost letters that follow each other in one bracket. */
export const shownWords = (words: readonly MarkWord[]): string => wordsText(words).replaceAll('.][.', '..');

/** Words in the signs of a transcription. */
export const typedWords = (words: readonly MarkWord[]): string => words.map(({ typed }) => typed).join(' ');
