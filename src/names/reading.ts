import { startsWithLetter, startsWithWord } from './characters.ts';
import { type Cluster, clustersOf, fault } from './letter-clusters.ts';

/**
 * How a character came into a transcription.
 * 1. `read`: seen on the object. 2. `erased`: seen, though struck out or rubbed away. 3. `superfluous`: seen, but written
 * by mistake. 4. `restored`: lost, and supplied by the transcriber. 5. `expanded`: never written, the rest of an
 * abbreviation. 6. `supplied`: never written, left out by mistake.
 */
type SignState = 'read' | 'erased' | 'superfluous' | 'restored' | 'expanded' | 'supplied';

/** One character as transcribed. `at` counts UTF-16 units from the start of the text. */
type CharSign = {
  readonly kind: 'char';
  readonly char: string;
  readonly state: SignState;
  /** Seen, but not surely this letter. */
  readonly dotted: boolean;
  /** What else an unsure letter may be. */
  readonly also: readonly string[];
  readonly at: number;
};

export type Sign =
  | CharSign
  | { readonly kind: 'lost'; readonly at: number } // exactly one letter
  | { readonly kind: 'run'; readonly at: number } // any number of letters, none included
  | { readonly kind: 'break'; readonly joins: boolean; readonly at: number }; // end of a line; `joins`: inside a word

export type Reading = {
  readonly text: string;
  readonly signs: readonly Sign[];
  /** What can be seen: `·` for a lost letter, `…` for a run, a space for the end of a line. */
  readonly visible: string;
  /** What the transcriber takes it to say: with what was restored, expanded and supplied, without the superfluous. */
  readonly resolved: string;
};

type Bracket = { readonly open: string; readonly close: string; readonly state: SignState; readonly at: number };

const CLOSING: Readonly<Record<string, { close: string; state: SignState }>> = {
  '[': { close: ']', state: 'restored' },
  '(': { close: ')', state: 'expanded' },
  '<': { close: '>', state: 'supplied' },
  '{': { close: '}', state: 'superfluous' },
  '⟦': { close: '⟧', state: 'erased' },
};

const DASH = /^[-‐‑‒–—]$/;
/** `ca. 3`, `-c.4-`, `± 5`, `-6-`. */
const COUNTED = /^(?:[-–—\s]*(?<about>ca\.?|c\.|c(?=\s)|circa|±)\s*|[-–—]\s*)(?<number>\d{1,2})[-–—\s]*$/i;
const MOST_COUNTED = 30;
const LOST_DOT = /^[.·․]$/;

/**
 * Reads a transcription written after the Leiden conventions on a plain keyboard.
 *
 * 1. `ṛ` (dot below, U+0323) or `_r`: an unsure letter; `_(a/o)`: either of these.
 * 2. `[.]` one lost letter, `[...]` three; each dot is a letter.
 * 3. `[---]` (two dashes or more, or a long one) any number of lost letters, none included; so is `[ca. 3]`, and `[-3-]` is three.
 * 4. `[and]` lost letters that the transcriber restores; the three may be mixed: `Ferr[an.]`, `[and---]`. A `?` at the
 *    end is passed over, as `(?)` is, and the point of a word restored as a whole, `[Capt.]`, is a point.
 * 5. `Lieut(enant)` the rest of an abbreviation. Round brackets that touch no letter outside them stand on the object.
 * 6. `F<e>rrand` letters left out by mistake and supplied. 7. `Ferr{r}and` superfluous letters.
 * 8. `⟦Ferrand⟧` or `[[Ferrand]]` erased, but legible.
 * 9. `|`, `/` or a new line: the end of a line. With a hyphen before it the word goes on. A `/` after a figure or a
 *    single letter and with no space beside it is part of the text (`2/Lt.`, `c/o`, `12/5/1834`).
 * 10. `\` before a sign: the sign itself stands on the object. `^` marks what is written above the line and is dropped.
 *
 * @throws HeldbyError READING where a sign does not open or close, is empty, or the reading says nothing; `where` counts
 * characters from 1.
 * @see B. A. van Groningen, "De signis criticis in edendo adhibendis", Mnemosyne 59 (1932), 362-365 (from memory).
 */
export function readTranscription(text: string): Reading {
  const signs = new Scanner(text).signs();
  if (!signs.some((sign) => sign.kind === 'lost' || sign.kind === 'run' || (sign.kind === 'char' && sign.char !== ' ')))
    fault('The reading says nothing.', 'Type the letters that can be seen; write [---] for what is lost.', 0);
  return { text, signs, visible: textOf(signs, SEEN), resolved: textOf(signs, MEANT) };
}

const SEEN: ReadonlySet<SignState> = new Set(['read', 'erased', 'superfluous']);
const MEANT: ReadonlySet<SignState> = new Set(['read', 'erased', 'restored', 'expanded', 'supplied']);

/** The signs of a run of text, in the states asked for, as plain text. */
function textOf(signs: readonly Sign[], states: ReadonlySet<SignState>): string {
  let text = '';
  for (const [index, sign] of signs.entries()) {
    if (sign.kind === 'char') text += states.has(sign.state) ? sign.char : restoredGap(signs, index, states);
    else if (sign.kind === 'lost') text += '·';
    else if (sign.kind === 'run') text += '…';
    else if (!sign.joins) text += ' ';
  }
  return text.replace(/\s+/g, ' ').trim();
}

/** A restored letter is not seen: its place is shown as lost. What was never written leaves no gap. */
function restoredGap(signs: readonly Sign[], index: number, states: ReadonlySet<SignState>): string {
  const sign = signs[index];
  if (states !== SEEN || sign?.kind !== 'char' || sign.state !== 'restored') return '';
  return startsWithWord(sign.char) ? '·' : sign.char;
}

/**
 * Signs as they can be typed and read again to the same signs; what was expanded comes back as supplied, for it may
 * stand apart from its word.
 */
export function typedText(signs: readonly Sign[]): string {
  let text = '';
  let open = '';
  for (const [index, sign] of signs.entries()) {
    const brackets = bracketsOf(sign);
    if (sign.kind === 'run' && signs[index - 1]?.kind === 'run') text += ']['; // else the dashes would be one run
    if (sign.kind === 'lost' && isRestored(signs[index - 1]) && endsWord(signs[index + 1])) text += ']['; // else a point
    if (brackets !== open) text += (open === '' ? '' : open.slice(1)) + brackets.slice(0, 1);
    open = brackets;
    text += typedSign(sign);
  }
  return open === '' ? text : text + open.slice(1);
}

const endsWord = (sign: Sign | undefined): boolean =>
  sign === undefined || sign.kind === 'break' || (sign.kind === 'char' && !startsWithWord(sign.char));
const isRestored = (sign: Sign | undefined): boolean => sign?.kind === 'char' && sign.state === 'restored';

function bracketsOf(sign: Sign | undefined): string {
  if (sign === undefined) return '';
  if (sign.kind === 'lost' || sign.kind === 'run') return '[]';
  if (sign.kind === 'break' || sign.state === 'read') return '';
  if (sign.state === 'expanded' || sign.state === 'supplied') return '<>';
  return { erased: '⟦⟧', superfluous: '{}', restored: '[]' }[sign.state];
}

function typedSign(sign: Sign): string {
  if (sign.kind === 'lost') return '.';
  if (sign.kind === 'run') return '---';
  if (sign.kind === 'break') return sign.joins ? '-|' : '|';
  if (sign.also.length > 0) return `_(${[sign.char, ...sign.also].join('/')})`;
  if (sign.dotted) return `_${sign.char}`;
  return NEEDS_ESCAPE.test(sign.char) || (sign.state === 'restored' && /[.?…-]/.test(sign.char))
    ? `\\${sign.char}`
    : sign.char;
}

const NEEDS_ESCAPE = /[[\](){}<>⟦⟧_^|\\/]/;

class Scanner {
  private readonly clusters: readonly Cluster[];
  private readonly length: number;
  private readonly brackets: Bracket[] = [];
  private readonly found: Sign[] = [];
  private next = 0;

  constructor(text: string) {
    this.clusters = clustersOf(text);
    this.length = text.length;
  }

  signs(): readonly Sign[] {
    while (this.next < this.clusters.length) this.take();
    const open = this.brackets.at(-1);
    if (open !== undefined)
      fault(
        `The sign "${open.open}" is never closed.`,
        `Close it with "${open.close}", or type \\${open.open}.`,
        open.at,
      );
    return this.found;
  }

  private char(ahead = 0): string {
    return this.clusters[this.next + ahead]?.char ?? '';
  }

  private at(ahead = 0): number {
    return this.clusters[this.next + ahead]?.at ?? this.length;
  }

  private get state(): SignState {
    return this.brackets.at(-1)?.state ?? 'read';
  }

  private take(): void {
    const char = this.char();
    if (char === '\\' && this.char(1) !== '') this.literal(1, 2);
    else if (char === '(' && this.char(1) === '?' && this.char(2) === ')') this.skip(3);
    else if (char === '_') this.unsure();
    else if (char === '^') this.skip(1);
    else if (this.opens(char)) this.open(char);
    else if (this.closes(char)) this.close(char);
    else if (this.state === 'restored' && this.lacuna(char)) return;
    else if (this.isBreak(char)) this.lineEnd();
    else this.literal(0, 1);
  }

  private skip(count: number): void {
    this.next += count;
  }

  private push(char: string, at: number, dotted = false, also: readonly string[] = []): void {
    if (dotted && this.state !== 'read' && this.state !== 'erased' && this.state !== 'superfluous')
      fault('Only a letter that is seen can be unsure.', 'Take the mark of doubt away, or the brackets.', at);
    this.found.push({ kind: 'char', char, state: this.state, dotted, also, at });
  }

  private literal(ahead: number, length: number): void {
    const cluster = this.clusters[this.next + ahead];
    if (cluster !== undefined) this.push(/^\s$/.test(cluster.char) ? ' ' : cluster.char, cluster.at, cluster.dotted);
    this.skip(length);
  }

  private unsure(): void {
    const at = this.at();
    if (startsWithWord(this.char(1))) {
      this.push(this.char(1), this.at(1), true);
      this.skip(2);
    } else if (this.char(1) === '(') this.choice(at);
    else fault('The sign "_" has no letter after it.', 'Write _r for an unsure r, and [.] for a lost letter.', at);
  }

  /** `_(a/o)`: letters that a sign may be, the likeliest first. */
  private choice(at: number): void {
    const letters: string[] = [];
    let ahead = 2;
    while (startsWithWord(this.char(ahead))) {
      letters.push(this.char(ahead));
      ahead += 1;
      if (this.char(ahead) !== '/') break;
      ahead += 1;
    }
    const [first, ...also] = letters;
    if (first === undefined || also.length === 0 || this.char(ahead) !== ')')
      fault('The choice of letters is not understood.', 'Write single letters, as in _(a/o).', at);
    else {
      this.push(first, this.at(2), true, also);
      this.skip(ahead + 1);
    }
  }

  private opens(char: string): boolean {
    if (char === '(' && !this.touchesLetter()) return false;
    return CLOSING[char] !== undefined;
  }

  /** Whether a round bracket here belongs to a word: a letter directly before it, or directly after its end. */
  private touchesLetter(): boolean {
    if (this.next > 0 && (startsWithWord(this.char(-1)) || /^[.'’>\])}]/.test(this.char(-1)))) return true;
    for (let ahead = 1; this.char(ahead) !== ''; ahead++)
      if (this.char(ahead) === ')') return startsWithLetter(this.char(ahead + 1));
    return false;
  }

  private open(char: string): void {
    // "[[" opens an erased passage, but inside square brackets it cannot
    const doubled = char === '[' && this.char(1) === '[' && !this.brackets.some(({ open }) => open === '[');
    const sign = doubled ? '⟦' : char;
    const kind = CLOSING[sign];
    if (kind === undefined) return;
    if (this.brackets.some(({ open }) => open === sign))
      fault(`The sign "${sign}" is opened twice.`, `Close the first one with "${kind.close}".`, this.at());
    this.brackets.push({ open: sign, close: kind.close, state: kind.state, at: this.at() });
    this.skip(doubled ? 2 : 1);
    if (this.closes(this.char()))
      fault(
        `There is nothing between "${sign}" and "${kind.close}".`,
        'Write [.] for one lost letter, [---] for any number.',
        this.at(-1),
      );
  }

  private closes(char: string): boolean {
    const open = this.brackets.at(-1);
    if (open?.close === '⟧' && char === ']' && this.char(1) === ']') return true;
    if (char === ')') return this.brackets.some((bracket) => bracket.close === ')');
    return char === ']' || char === '>' || char === '}' || char === '⟧';
  }

  private close(char: string): void {
    const open = this.brackets.at(-1);
    const doubled = open?.close === '⟧' && char === ']' && this.char(1) === ']';
    const sign = doubled ? '⟧' : char;
    if (open?.close !== sign)
      fault(
        open === undefined ? `The sign "${sign}" closes nothing.` : `The sign "${open.open}" is closed by "${sign}".`,
        open === undefined ? `Open it before, or type \\${sign}.` : `Close it with "${open.close}" first.`,
        this.at(),
      );
    this.brackets.pop();
    this.skip(doubled ? 2 : 1);
  }

  /** Dots, dashes and a closing "?" inside square brackets; false where the character is a restored one. */
  private lacuna(char: string): boolean {
    const at = this.at();
    if (this.counted()) return true;
    if (char === '…')
      fault('The sign "…" may be three letters or any number.', 'Write [...] for three, [---] for any number.', at);
    if (char === '?') {
      if (this.char(1) !== ']')
        fault('The sign "?" stands inside a restored word.', 'Write it last, as in [and?].', at);
      this.skip(1);
      return true;
    }
    if (this.isPointOfAbbreviation(char)) return false;
    if (LOST_DOT.test(char)) {
      this.found.push({ kind: 'lost', at });
      this.skip(1);
      while (this.char() === ' ' && LOST_DOT.test(this.char(1))) this.skip(1); // dots may be spaced out
      return true;
    }
    if (!DASH.test(char)) return false;
    let dashes = 0;
    let ahead = 0;
    for (; DASH.test(this.char(ahead)) || (this.char(ahead) === ' ' && DASH.test(this.char(ahead + 1))); ahead++)
      if (this.char(ahead) !== ' ') dashes += this.char(ahead) === '—' ? 2 : 1;
    if (dashes === 1) {
      if (startsWithWord(this.char(-1)) && startsWithWord(this.char(1))) return false; // the hyphen of a restored double name
      fault('One dash in brackets is not understood.', 'Write [---] for any number of lost letters, [.] for one.', at);
    }
    this.found.push({ kind: 'run', at });
    this.skip(ahead);
    return true;
  }

  /** `[-6-]`: so many lost letters; `[ca. 6]`, about so many, which may be any number. */
  private counted(): boolean {
    if (this.char(-1) !== '[') return false;
    let inside = '';
    while (this.char(inside.length) !== ']' && this.char(inside.length) !== '') inside += this.char(inside.length);
    const match = COUNTED.exec(inside);
    if (match === null) {
      if (/^[+.]\s*\d+[+.]?$/.test(inside))
        fault(
          `It is not clear what "[${inside}]" stands for.`,
          'Write [...] for three lost letters, [ca. 3] for about three.',
          this.at(),
        );
      return false;
    }
    const { about, number } = match.groups ?? {};
    const count = about === undefined ? Number(number) : undefined;
    const signs: Sign[] =
      count === undefined || count > MOST_COUNTED
        ? [{ kind: 'run', at: this.at() }]
        : Array.from({ length: count }, () => ({ kind: 'lost', at: this.at() }));
    this.found.push(...signs);
    this.skip(inside.length);
    return true;
  }

  /** `[Capt. J.] Holt`: the last point of a word restored as a whole is its own, no lost letter. */
  private isPointOfAbbreviation(char: string): boolean {
    const next = this.char(1);
    const ends = next === ']' && !startsWithWord(this.char(2)) && !/^['’[<(_⟦]/.test(this.char(2));
    if (char !== '.' || !(ends || (next === ' ' && startsWithLetter(this.char(2))))) return false;
    let behind = -1;
    while (startsWithLetter(this.char(behind))) behind--;
    return (
      behind < -1 && (this.char(behind) === '[' ? !startsWithWord(this.char(behind - 1)) : this.char(behind) === ' ')
    );
  }

  private isBreak(char: string): boolean {
    if (char === '|' || char === '\n') return true;
    if (char !== '/') return false;
    const beside = this.char(-1) === ' ' || this.char(1) === ' ' || this.next === 0 || this.char(1) === '';
    const short = /^\d$/.test(this.char(-1)) || (startsWithLetter(this.char(-1)) && !startsWithWord(this.char(-2)));
    return beside || !short;
  }

  private lineEnd(): void {
    let end = this.found.length;
    while (isChar(this.found[end - 1], /^ $/)) end--;
    const joins = isChar(this.found[end - 1], DASH) && end > 1 && !isChar(this.found[end - 2], /^ $/);
    if (joins) this.found.length = end - 1; // the hyphen of a broken word is no letter
    this.found.push({ kind: 'break', joins, at: this.at() });
    this.skip(1);
    while (joins && this.char() === ' ') this.skip(1);
  }
}

const isChar = (sign: Sign | undefined, char: RegExp): boolean => sign?.kind === 'char' && char.test(sign.char);
