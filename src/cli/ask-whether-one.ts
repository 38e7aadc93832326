import type { Ask } from './ask.ts';
import type { Context } from './context.ts';
import { shown } from './text.ts';

/** What somebody says to the question whether two are one person. */
export type WhetherOne = 'one' | 'two' | 'skip' | 'end';

/** As they are typed, in full or by their first letter; an empty line goes on to the next question. */
const CHOICES: Readonly<Record<string, WhetherOne>> = {
  y: 'one',
  yes: 'one',
  one: 'one',
  n: 'two',
  no: 'two',
  two: 'two',
  s: 'skip',
  skip: 'skip',
  '': 'skip',
  q: 'end',
  quit: 'end',
  end: 'end',
};

/** Asks until it is answered in one of the words; the end of the input ends the questions. */
export async function askWhetherOne(ask: Ask, isRename: boolean, { out }: Pick<Context, 'out'>): Promise<WhetherOne> {
  for (;;) {
    const said = await ask(
      isRename
        ? '[y] one person of two names  [n] two  [s] skip  [q] end > '
        : '[y] one  [n] two  [s] skip  [q] end > ',
    );
    const word = said?.trim().toLowerCase() ?? 'end';
    const chosen = Object.hasOwn(CHOICES, word) ? CHOICES[word] : undefined;
    if (chosen !== undefined) return chosen;
    out(`Answer y, n, s or q; "${shown(word)}" is none of them.`);
  }
}
