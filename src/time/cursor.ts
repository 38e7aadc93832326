import type { Token } from './tokens.ts';

/** Where a reader stands in a date expression. A reader that finds nothing puts it back with `attempt`. */
export class Cursor {
  readonly source: string;
  readonly tokens: readonly Token[];
  #index = 0;
  #furthest = 0;

  constructor(source: string, tokens: readonly Token[]) {
    this.source = source;
    this.tokens = tokens;
  }

  get done(): boolean {
    return this.#index >= this.tokens.length;
  }

  /** The furthest token that any reader wanted to read and could not: where to point when nothing fits. */
  get furthest(): Token | undefined {
    return this.tokens[this.#furthest];
  }

  peek(ahead = 0): Token | undefined {
    return this.tokens[this.#index + ahead];
  }

  /** Takes the next token if it passes. */
  take(passes: (token: Token) => boolean): Token | undefined {
    const token = this.peek();
    if (token === undefined || !passes(token)) return undefined;
    this.#index++;
    this.#furthest = Math.max(this.#furthest, this.#index);
    return token;
  }

  word(...words: readonly string[]): Token | undefined {
    return this.take((token) => token.kind === 'word' && words.includes(token.text));
  }

  /** All of these words one after the other, or none. */
  words(phrase: readonly string[]): boolean {
    for (const [ahead, text] of phrase.entries()) if (this.peek(ahead)?.text !== text) return false;
    for (const text of phrase) this.take((token) => token.text === text);
    return true;
  }

  sign(...signs: readonly string[]): Token | undefined {
    return this.take((token) => token.kind === 'sign' && signs.includes(token.text));
  }

  number(passes: (value: number, token: Token) => boolean = () => true): Token | undefined {
    return this.take((token) => token.kind === 'number' && passes(Number(token.text), token));
  }

  /** The longest run of up to `most` words that is known, hyphens between them left out. */
  longest(isKnown: (words: string) => boolean, most: number): string | undefined {
    let known: { words: string; length: number } | undefined;
    let words = '';
    for (let ahead = 0, count = 0; count < most; ahead++) {
      const token = this.peek(ahead);
      if (token?.kind === 'sign' && token.text === '-' && words !== '') continue;
      if (token?.kind !== 'word') break;
      words += words === '' ? token.text : ` ${token.text}`;
      count++;
      if (isKnown(words)) known = { words, length: ahead + 1 };
    }
    for (let i = 0; i < (known?.length ?? 0); i++) this.take(() => true);
    return known?.words;
  }

  /** Whether the reader would find something here; nothing is taken. */
  begins(reader: (cursor: Cursor) => boolean): boolean {
    const before = this.#index;
    const found = reader(this);
    this.#index = before;
    return found;
  }

  /** What the reader finds; the cursor goes back where it stood if it finds nothing. */
  attempt<Found>(reader: (cursor: Cursor) => Found | undefined): Found | undefined {
    const before = this.#index;
    const found = reader(this);
    if (found === undefined) this.#index = before;
    return found;
  }
}
