import type { WindowAnswer } from '../inquiry/made.ts';
import type { LotReport } from '../inquiry/report-lot.ts';
import type { Block } from './document.ts';
import { capital, type Inline, plain, sentence } from './lines.ts';
import { markNumber, type Notes } from './notes.ts';
import type { Naming, Words } from './words.ts';

type Making = Pick<LotReport['made'], 'printed'>;

/** Years on either side of a year that is given with "about". */
const CIRCA_YEARS = 5;

/** When the object was made, in figures for print; undefined where that is not determined. */
export function makingInWords({ printed }: Making, { style, dates }: Words): string | undefined {
  if (printed.from === null && printed.to === null) return undefined;
  const [first, last] = [printed.from, printed.to].map((day) => (day === null ? undefined : Number(day.slice(0, -6))));
  if (style.making === 'circa' && first !== undefined && last !== undefined && last - first <= 2 * CIRCA_YEARS)
    return first === last ? String(first) : dates.circa(Math.round((first + last) / 2));
  return dates.years(printed);
}

/** When it was made, and every ground for it. */
export function dateSection(lot: LotReport, words: Words, naming: Naming, notes: Notes): Block[] {
  const { say } = words;
  const { made } = lot;
  const used = made.windows.filter((window) => window.used);
  // Without a feature what is left is the horizon, which tells nothing of the construction.
  const alone = used.length === 0 ? undefined : makingInWords(made, words);
  const both = made.withMarks === null ? undefined : makingInWords(made.withMarks, words);
  const isDated = used.length > 0;
  const blocks: Block[] = [
    {
      kind: 'paragraph',
      line: plain(madeSentence(words, { isDated, isOne: made.withMarks?.marks.length === 1 }, alone, both)),
    },
  ];
  if (words.style.making === 'circa' && (both ?? alone)?.startsWith(words.style.circa))
    blocks.push({ kind: 'paragraph', line: plain(say('made.circa', { circa: words.style.circa })) });
  const line = (window: WindowAnswer): Inline[] => [
    ...plain(sentence(windowInWords(window, words))),
    ...notes.call(lot, [window.id], naming),
  ];
  const dated = (made.withMarks?.marks ?? []).filter(
    ({ windowIs, beforeMaking }) => windowIs === 'stated' && !beforeMaking,
  );
  if (used.length + dated.length > 0) {
    blocks.push({ kind: 'paragraph', line: plain(say('made.grounds')) });
    const marks = dated.map((mark): Inline[] =>
      plain(
        sentence(
          capital(say('made.mark', { number: String(markNumber(lot, mark.id)), dates: words.dates.span(mark) })),
        ),
      ),
    );
    blocks.push({ kind: 'items', numbered: false, items: [...used.map(line), ...marks] });
  }
  const unused = made.windows.filter((window) => !window.used);
  if (unused.length > 0) {
    blocks.push({ kind: 'paragraph', line: plain(say('made.unused')) });
    blocks.push({ kind: 'items', numbered: false, items: unused.map(line) });
  }
  for (const { members, setAside } of made.conflicts) {
    const values = { members: windowsNamed(lot, members, words), setAside: windowsNamed(lot, setAside, words) };
    blocks.push({ kind: 'paragraph', line: plain(say('made.conflict', values)) });
  }
  return blocks;
}

function madeSentence(
  { say }: Words,
  { isDated, isOne }: { readonly isDated: boolean; readonly isOne: boolean },
  alone: string | undefined,
  both: string | undefined,
): string {
  if (!isDated) return both === undefined ? say('made.none') : say('made.marks', { dates: both });
  if (both !== undefined && both === alone) return say(isOne ? 'made.same.one' : 'made.same', { dates: both });
  if (both !== undefined) return say('made.both', { dates: both, alone: alone ?? say('made.both.none') });
  return alone === undefined ? say('made.none') : say('made.alone', { dates: alone });
}

/** Features with their days. */
export const windowsNamed = (
  { made }: LotReport,
  named: readonly { readonly id: string }[],
  { say, all, dates }: Words,
): string =>
  all(
    named.flatMap(({ id }) => {
      const window = made.windows.find((each) => each.id === id);
      return window === undefined ? [] : [say('made.window.bare', { text: window.text, dates: dates.span(window) })];
    }),
    'list.semicolon',
  );

function windowInWords(window: WindowAnswer, words: Words): string {
  const { say, named, dates } = words;
  const details = [
    ...(window.part === null ? [] : [window.part]),
    named('made.state', window.state),
    named('made.force', window.force),
    ...(window.force === 'usual' ? [named('made.weight', window.weight)] : []),
  ];
  return say('made.window', { text: window.text, dates: dates.span(window), details: words.all(details) });
}
