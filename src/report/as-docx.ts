import { zipSync } from 'fflate';
import type { Block, Document } from './document.ts';
import {
  contentTypes,
  coreProperties,
  documentRelations,
  numbering,
  packageRelations,
  settings,
  styles,
  wordPart,
} from './docx-parts.ts';
import type { Inline } from './lines.ts';
import { escapedMarkup as safe } from './safe-text.ts';

/**
 * A document for word processors (WordprocessingML, ECMA-376), with notes that the word processor numbers itself. The
 * file holds no date of the clock, so that the same report is the same file.
 * @param date the day of the ledger's act.
 */
export function asDocx(
  { title, language, blocks }: Document,
  notesAre: 'footnotes' | 'endnotes',
  date: string,
): Uint8Array {
  const writer = docxWriter(blocks, notesAre === 'footnotes' ? 'footnote' : 'endnote');
  const body = blocks.map((block, place) => writer.block(block, place)).join('');
  const page =
    '<w:sectPr><w:pgSz w:w="11906" w:h="16838"/><w:pgMar w:top="1304" w:right="1304" w:bottom="1304" w:left="1304" w:header="708" w:footer="708" w:gutter="0"/></w:sectPr>';
  const none = (kind: 'footnote' | 'endnote'): string => notePart(kind, kind === writer.kind ? writer.notes() : []);
  const parts: Readonly<Record<string, string>> = {
    '[Content_Types].xml': contentTypes(),
    '_rels/.rels': packageRelations(),
    'docProps/core.xml': coreProperties(title, language, date),
    'word/document.xml': wordPart('document', `<w:body>${body}${page}</w:body>`),
    'word/_rels/document.xml.rels': documentRelations(),
    'word/styles.xml': styles(language),
    'word/numbering.xml': numbering(writer.numberedLists()),
    'word/settings.xml': settings(),
    'word/footnotes.xml': none('footnote'),
    'word/endnotes.xml': none('endnote'),
  };
  const files = Object.entries(parts).map(([name, text]) => [name, new TextEncoder().encode(text)] as const);
  return zipSync(Object.fromEntries(files), { level: 6, mtime: FIRST_DAY_OF_ZIP });
}

/** The first day that a zip file can name; by the parts of a local date, which is how it is written. */
const FIRST_DAY_OF_ZIP = new Date(1980, 0, 1);

type NoteKind = 'footnote' | 'endnote';

/** Writes the blocks one after the other, and keeps the notes that they call. */
function docxWriter(blocks: readonly Block[], kind: NoteKind) {
  const texts = noteTexts(blocks);
  const called: string[] = [];
  let lists = 0;
  const inline = (line: readonly Inline[], lot: number): string =>
    line
      .map((part) => {
        if ('text' in part) return run(part.text);
        called.push(texts[lot]?.get(part.note) ?? '');
        return `<w:r><w:rPr><w:rStyle w:val="NoteReference"/></w:rPr><w:${kind}Reference w:id="${called.length}"/></w:r>`;
      })
      .join('');
  const block = (given: Block, place: number): string => {
    const lot = lotOf(blocks, place);
    switch (given.kind) {
      case 'heading': {
        const breaks = given.level === 1 && place > 0 ? '<w:r><w:br w:type="page"/></w:r>' : '';
        return paragraph(`Heading${given.level}`, breaks + run(given.text));
      }
      case 'paragraph':
        return paragraph('Normal', inline(given.line, lot));
      case 'items': {
        if (given.numbered) lists += 1;
        const list = given.numbered ? lists + 1 : 1;
        return given.items.map((item) => paragraph('ListParagraph', inline(item, lot), list)).join('');
      }
      case 'picture':
        return given.lines
          .flatMap(({ title, lines }) => [
            paragraph('Heading3', run(title)),
            ...lines.map((line) => paragraph('ListParagraph', run(line), 1)),
          ])
          .join('');
      case 'notes':
        return ''; // the word processor puts them where they belong
      case 'photograph':
        return ''; // HTML alone shows it
      case 'closing':
        return paragraph('Closing', run(given.text));
    }
  };
  return { kind, block, notes: () => called, numberedLists: () => lists };
}

/** Which lot a block belongs to: each begins with a heading of the first level. */
const lotOf = (blocks: readonly Block[], place: number): number =>
  blocks.slice(0, place + 1).filter((block) => block.kind === 'heading' && block.level === 1).length;

/** The notes of each lot by their numbers; notes that are numbered through hold for all. */
function noteTexts(blocks: readonly Block[]): ReadonlyMap<number, string>[] {
  const lists = blocks.flatMap((block, place) =>
    block.kind === 'notes' ? [{ lot: lotOf(blocks, place), notes: block.notes }] : [],
  );
  const lots = lotOf(blocks, blocks.length - 1);
  return Array.from({ length: lots + 1 }, (_, lot) => {
    const own = lists.length === 1 ? lists : lists.filter((each) => each.lot === lot);
    return new Map(own.flatMap(({ notes }) => notes.map(({ number, text }) => [number, text] as const)));
  });
}

const run = (text: string): string => `<w:r><w:t xml:space="preserve">${safe(text)}</w:t></w:r>`;

const paragraph = (style: string, runs: string, list?: number): string =>
  `<w:p><w:pPr><w:pStyle w:val="${style}"/>${list === undefined ? '' : `<w:numPr><w:ilvl w:val="0"/><w:numId w:val="${list}"/></w:numPr>`}</w:pPr>${runs}</w:p>`;

function notePart(kind: NoteKind, texts: readonly string[]): string {
  const special = (id: number, type: string): string =>
    `<w:${kind} w:type="${type}" w:id="${id}"><w:p><w:r><w:${type}/></w:r></w:p></w:${kind}>`;
  const style = kind === 'footnote' ? 'FootnoteText' : 'EndnoteText';
  const notes = texts.map(
    (text, place) =>
      `<w:${kind} w:id="${place + 1}">${paragraph(style, `<w:r><w:rPr><w:rStyle w:val="NoteReference"/></w:rPr><w:${kind}Ref/></w:r>${run(` ${text}`)}`)}</w:${kind}>`,
  );
  return wordPart(`${kind}s`, [special(-1, 'separator'), special(0, 'continuationSeparator'), ...notes].join(''));
}
