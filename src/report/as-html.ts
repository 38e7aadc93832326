import type { Block, Document } from './document.ts';
import type { Inline } from './lines.ts';
import { embeddedPhotographs } from './photograph.ts';
import { escapedMarkup as safe } from './safe-text.ts';
import { NARROW_PICTURE, svgOf, WIDE_PICTURE } from './svg.ts';

/**
 * Everything stands in the file: no script, nothing fetched. The policy says so to the reader's browser, too.
 */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";

const SHEET = `
:root { color-scheme: light; }
body { margin: 0 auto; padding: 1.5rem 1rem 3rem; max-width: 46rem; background: #fff; color: #1c1c1c;
  font: 1rem/1.5 Georgia, 'Times New Roman', serif; overflow-wrap: break-word; }
h1 { font-size: 1.5rem; line-height: 1.25; margin: 2.5rem 0 .75rem; }
h2 { font-size: 1.05rem; margin: 1.6rem 0 .4rem; border-bottom: 1px solid #bbb; }
h3 { font-size: 1rem; margin: 1rem 0 .3rem; }
p { margin: .4rem 0; }
ul, ol { margin: .4rem 0; padding-left: 1.4rem; }
li { margin: .2rem 0; }
sup { line-height: 0; font-size: .75em; }
sup a { text-decoration: none; color: #1f5060; padding: 0 .12em; }
ol.notes { font-size: .9rem; }
.closing { margin-top: 1.6rem; border-top: 1px solid #bbb; padding-top: .4rem; font-size: .85rem; color: #5a5a5a; }
figure { margin: .8rem 0; }
figure > div > svg { max-width: 100%; height: auto; display: block; }
figure .narrow { display: none; }
figure.photograph img { max-width: 100%; max-height: 24rem; display: block; }
figcaption { font-size: .9rem; }
details { font-size: .9rem; }
table { border-collapse: collapse; width: 100%; font-size: .95rem; }
th, td { text-align: left; vertical-align: top; padding: .25rem .6rem .25rem 0; border-bottom: 1px solid #ddd; }
td:first-child { overflow-wrap: anywhere; }
article + article { border-top: 3px double #888; margin-top: 3rem; }
@media (max-width: 34rem) { figure .wide { display: none; } figure .narrow { display: block; } }
@media print { body { max-width: none; padding: 0; font-size: 10.5pt; } figure .wide { display: block; } figure .narrow { display: none; }
  figure > div > svg { max-height: 20cm; width: auto; } figure.photograph img { max-height: 10cm; } details { display: none; }
  article + article { break-before: page; border: 0; } h1, h2, h3 { break-after: avoid; } li, figure { break-inside: avoid; } }
`;

/** A document as one HTML page. */
export function asHtml(document: Document): string {
  const articles = articlesOf(document.blocks);
  const embedded = embeddedPhotographs();
  // Notes at the end of all are numbered through, and need no lot in their names.
  const through = document.blocks.filter(({ kind }) => kind === 'notes').length <= 1;
  return htmlPage(
    document.title,
    document.language,
    `<main>\n${articles.map((blocks, place) => articleHtml(blocks, through ? '' : `${place + 1}-`, place, embedded)).join('\n')}\n</main>`,
  );
}

/** A page around some HTML that is known to be safe. */
export const htmlPage = (title: string, language: string, body: string): string =>
  `<!DOCTYPE html>
<html lang="${safe(language)}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex">
<title>${safe(title)}</title>
<style>${SHEET}</style>
</head>
<body>
${body}
</body>
</html>
`;

/** Each lot begins with a heading of the first level; notes at the end of all are an article of their own. */
function articlesOf(blocks: readonly Block[]): Block[][] {
  const articles: Block[][] = [];
  for (const block of blocks) {
    const last = articles.at(-1);
    if (last === undefined || (block.kind === 'heading' && block.level === 1)) articles.push([block]);
    else last.push(block);
  }
  return articles;
}

type Embedded = ReturnType<typeof embeddedPhotographs>;

const articleHtml = (blocks: readonly Block[], lot: string, article: number, embedded: Embedded): string =>
  `<article>\n${blocks
    .map((block, place) => blockHtml(block, lot, `p${article + 1}-${place}`, embedded))
    .filter((html) => html !== '')
    .join('\n')}\n</article>`;

function blockHtml(block: Block, lot: string, name: string, embedded: Embedded): string {
  switch (block.kind) {
    case 'heading':
      return `<h${block.level}>${text(block.text)}</h${block.level}>`;
    case 'paragraph':
      return `<p>${lineHtml(block.line, lot)}</p>`;
    case 'items': {
      const list = block.numbered ? 'ol' : 'ul';
      return `<${list}>\n${block.items.map((item) => `<li>${lineHtml(item, lot)}</li>`).join('\n')}\n</${list}>`;
    }
    case 'notes':
      return `<h2>${text(block.title)}</h2>\n<ol class="notes">\n${block.notes
        .map(({ number, text: note }) => `<li value="${number}" id="note-${lot}${number}">${text(note)}</li>`)
        .join('\n')}\n</ol>`;
    case 'picture':
      return pictureHtml(block, name);
    case 'photograph': {
      const address = embedded(block.kept);
      return address === undefined
        ? ''
        : `<figure class="photograph"><img src="${address}" alt="${safe(block.caption)}"><figcaption>${text(block.caption)}</figcaption></figure>`;
    }
    case 'closing':
      return `<p class="closing">${text(block.text)}</p>`;
  }
}

/** Twice, for a page and for a telephone: the letters keep their size. The style sheet shows one of them. */
export function pictureHtml({ picture, lines }: Block & { kind: 'picture' }, name: string): string {
  const all = lines.flatMap((group) => [`${group.title}.`, ...group.lines.map((line) => `${line}.`)]);
  const list = lines
    .map(
      (group) =>
        `<h3>${text(group.title)}</h3>\n<ul>\n${group.lines.map((line) => `<li>${text(line)}</li>`).join('\n')}\n</ul>`,
    )
    .join('\n');
  return `<figure>
<div class="wide">${svgOf(picture, WIDE_PICTURE, `${name}w`, all)}</div>
<div class="narrow">${svgOf(picture, NARROW_PICTURE, `${name}n`, all)}</div>
<figcaption><details><summary>${text(picture.listTitle)}</summary>
${list}
</details></figcaption>
</figure>`;
}

const lineHtml = (line: readonly Inline[], lot: string): string =>
  line
    .map((part) =>
      'note' in part
        ? `<sup><a href="#note-${lot}${part.note}" aria-label="note ${part.note}">${part.note}</a></sup>`
        : text(part.text),
    )
    .join('');

const RIGHT_TO_LEFT = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]/;

/** Words that are written from right to left are kept from turning their neighbours. */
const text = (words: string): string => (RIGHT_TO_LEFT.test(words) ? `<bdi>${safe(words)}</bdi>` : safe(words));
