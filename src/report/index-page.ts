import type { LotReport } from '../inquiry/report-lot.ts';
import { htmlPage } from './as-html.ts';
import { headingOf } from './compose.ts';
import { csvLine } from './csv.ts';
import type { Block, Document } from './document.ts';
import { brokenLines, plain } from './lines.ts';
import { makingInWords } from './lot-date.ts';
import { isUnresolved, type OpenLine, openInWords, openLines } from './lot-open.ts';
import { escapedMarkdown, escapedMarkup, safeJson, visible } from './safe-text.ts';
import { withoutLiving } from './withheld.ts';
import { namingOf, type Words } from './words.ts';

/** A lot in the index of a batch, and what is still open of it. */
export type IndexedLot = {
  readonly ref: string;
  readonly heading: string;
  readonly made: string;
  readonly file: string | null;
  readonly open: readonly OpenLine[];
  readonly unresolved: boolean;
};

export function indexedLot(given: LotReport, words: Words, file: string | null): IndexedLot {
  const { lot } = withoutLiving({ lot: given }, words);
  const open = openLines(lot, words, namingOf(lot, words));
  return {
    ref: lot.object.ref,
    heading: headingOf(lot, words),
    made: makingInWords(lot.made.withMarks ?? lot.made, words) ?? words.say('made.both.none'),
    file,
    open,
    unresolved: isUnresolved(open),
  };
}

function countOf({ open, unresolved }: IndexedLot, { say }: Words): string {
  if (open.length === 0) return say('index.resolved');
  const count = say(open.length === 1 ? 'index.open.one' : 'index.open.many', { count: String(open.length) });
  return unresolved ? say('index.unresolved', { open: count }) : count;
}

/** A name of a file as an address: every sign that an address cannot hold by its number. */
const address = (file: string): string => encodeURIComponent(file);

/** The lots of a batch with the list of those that are still open, in the form of the batch. */
export function indexPage(lots: readonly IndexedLot[], words: Words, format: string, closing: string): string {
  switch (format) {
    case 'html':
      return htmlIndex(lots, words, closing);
    case 'markdown':
      return markdownIndex(lots, words, closing);
    case 'json':
      return `${safeJson({ lots: lots.map(({ open, ...lot }) => ({ ...lot, open })), closing }, 2)}\n`;
    case 'csv':
      return [
        csvLine(['ref', 'heading', 'made', 'file', 'open', 'unresolved']),
        ...lots.map((lot) =>
          csvLine([
            lot.ref,
            lot.heading,
            lot.made,
            lot.file,
            lot.open.map((line) => openInWords(line, words)).join('\n'),
            lot.unresolved ? 'yes' : 'no',
          ]),
        ),
      ].join('');
    default:
      return textIndex(lots, words, closing);
  }
}

/** The same as a document, for word processors. */
export function indexDocument(lots: readonly IndexedLot[], words: Words, closing: string): Document {
  const { say } = words;
  const title = say('index.title');
  const rows = lots.map((lot) => plain(`${lot.heading}: ${lot.made}; ${countOf(lot, words)}`));
  const open = lots.flatMap((lot): Block[] =>
    lot.open.length === 0
      ? []
      : [
          { kind: 'heading', level: 3, text: lot.heading },
          { kind: 'items', numbered: false, items: lot.open.map((line) => plain(openInWords(line, words))) },
        ],
  );
  const none: Block = { kind: 'paragraph', line: plain(say('open.none')) };
  return {
    title,
    language: words.style.phrases.language,
    blocks: [
      { kind: 'heading', level: 1, text: title },
      { kind: 'items', numbered: false, items: rows },
      { kind: 'heading', level: 2, text: say('open.title') },
      ...(open.length === 0 ? [none] : open),
      { kind: 'closing', text: closing },
    ],
  };
}

function textIndex(lots: readonly IndexedLot[], words: Words, closing: string): string {
  const rows = lots.map(
    (lot) =>
      `${visible(lot.heading)}\n    ${visible(lot.made)}; ${countOf(lot, words)}${lot.file === null ? '' : `; ${lot.file}`}`,
  );
  const title = words.say('index.title');
  const open = openList(lots, words, words.style.columns);
  return `${[title, '='.repeat(title.length), '', ...rows, '', open, '', visible(closing)].join('\n')}\n`;
}

/** Every lot that is still open, with each point and the next step. */
export function openList(lots: readonly IndexedLot[], words: Words, columns: number): string {
  const title = words.say('open.title');
  const head = [title, '-'.repeat(title.length)];
  const open = lots.filter((lot) => lot.open.length > 0);
  if (open.length === 0) return [...head, words.say('open.none')].join('\n');
  const body = open.flatMap((lot) => [
    '',
    ...brokenLines(visible(lot.heading), columns),
    ...lot.open.flatMap((line) => pointLines(line, words, columns)),
  ]);
  return [...head, words.say('open.legend'), ...body].join('\n');
}

/** A point with its sign before it: what makes the lot unresolved, what is only listed, what was seen to. */
const pointLines = (line: OpenLine, words: Words, columns: number): string[] =>
  brokenLines(visible(openInWords(line, words)), columns - 4).map(
    (text, place) => `  ${place > 0 ? ' ' : line.counts ? '!' : line.seenTo === undefined ? '-' : '+'} ${text}`,
  );

function markdownIndex(lots: readonly IndexedLot[], words: Words, closing: string): string {
  const link = ({ heading, file }: IndexedLot): string =>
    file === null ? escapedMarkdown(heading) : `[${escapedMarkdown(heading)}](${address(file)})`;
  return `${[
    `# ${escapedMarkdown(words.say('index.title'))}`,
    lots.map((lot) => `- ${link(lot)}: ${escapedMarkdown(lot.made)}; ${countOf(lot, words)}`).join('\n'),
    `## ${escapedMarkdown(words.say('open.title'))}`,
    ...lots
      .filter(({ open }) => open.length > 0)
      .map((lot) =>
        [
          `### ${escapedMarkdown(lot.heading)}`,
          lot.open.map((line) => `- ${escapedMarkdown(openInWords(line, words))}`).join('\n'),
        ].join('\n\n'),
      ),
    escapedMarkdown(closing),
  ].join('\n\n')}\n`;
}

function htmlIndex(lots: readonly IndexedLot[], words: Words, closing: string): string {
  const safe = escapedMarkup;
  const link = ({ heading, file }: IndexedLot): string =>
    file === null ? safe(heading) : `<a href="${safe(address(file))}">${safe(heading)}</a>`;
  const rows = lots.map(
    (lot) => `<tr><td>${link(lot)}</td><td>${safe(lot.made)}</td><td>${countOf(lot, words)}</td></tr>`,
  );
  const open = lots
    .filter((lot) => lot.open.length > 0)
    .map(
      (lot) =>
        `<h3>${safe(lot.heading)}</h3>\n<ul>\n${lot.open.map((line) => `<li>${safe(openInWords(line, words))}</li>`).join('\n')}\n</ul>`,
    );
  return htmlPage(
    words.say('index.title'),
    words.style.phrases.language,
    `<main>\n<h1>${safe(words.say('index.title'))}</h1>\n<table>\n<tbody>\n${rows.join('\n')}\n</tbody>\n</table>\n<h2>${safe(words.say('open.title'))}</h2>\n${open.join('\n') || `<p>${safe(words.say('open.none'))}</p>`}\n<p class="closing">${safe(closing)}</p>\n</main>`,
  );
}
