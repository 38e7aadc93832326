import { asHtml } from './as-html.ts';
import { asMarkdown } from './as-markdown.ts';
import { asCsv, asJson } from './as-rows.ts';
import { asText } from './as-text.ts';
import { composed } from './compose.ts';
import { type IndexedLot, indexDocument, indexPage } from './index-page.ts';
import type { LotToPrint } from './lot-to-print.ts';
import type { Style } from './style.ts';
import type { Words } from './words.ts';

export type ReportFormat = 'text' | 'markdown' | 'html' | 'csv' | 'json' | 'docx';

/** The forms of a report, with the ending of their files. */
export const ENDINGS: Readonly<Record<ReportFormat, string>> = {
  text: 'txt',
  markdown: 'md',
  html: 'html',
  csv: 'csv',
  json: 'json',
  docx: 'docx',
};

/** Whether a form shows the photographs. */
export const holdsPhotographs = (format: ReportFormat, style: Style): boolean => format === 'html' && style.photographs;

/** Whether a form holds the calendar picture. */
export const holdsPicture = (format: ReportFormat, style: Style): boolean => format === 'html' && style.picture;

/** Writes in one form; text in UTF-8. The same lots in the same style give the same bytes, wherever and whenever. */
export type Printer = {
  readonly lots: (lots: readonly LotToPrint[], style: Style) => Uint8Array;
  readonly index: (lots: readonly IndexedLot[], words: Words, closing: string, date: string) => Uint8Array;
};

/** What a form needs is read only when that form is asked for. */
export async function printerOf(format: ReportFormat): Promise<Printer> {
  if (format !== 'docx')
    return {
      lots: (lots, style) => Buffer.from(printedText(lots, format, style), 'utf8'),
      index: (lots, words, closing) => Buffer.from(indexPage(lots, words, format, closing), 'utf8'),
    };
  const { asDocx } = await import('./as-docx.ts');
  return {
    lots: (lots, style) =>
      asDocx(composed(withoutPhotographs(lots), style), style.notes, lots[0]?.lot.about.date ?? ''),
    index: (lots, words, closing, date) => asDocx(indexDocument(lots, words, closing), words.style.notes, date),
  };
}

/** Only a page of HTML holds photographs. */
const withoutPhotographs = (lots: readonly LotToPrint[]): LotToPrint[] =>
  lots.map(({ photographs: _, ...others }) => others);

/** Lots in a form of text. */
export function printedText(lots: readonly LotToPrint[], format: Exclude<ReportFormat, 'docx'>, style: Style): string {
  const reports = lots.map(({ lot }) => lot);
  switch (format) {
    case 'json':
      return asJson(reports, style);
    case 'csv':
      return [...asCsv(reports, style)].join('');
    case 'html':
      return asHtml(composed(lots, style));
    case 'markdown':
      return asMarkdown(composed(withoutPhotographs(lots), style));
    case 'text':
      return asText(composed(withoutPhotographs(lots), style), style.columns);
  }
}
