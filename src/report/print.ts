import { asHtml } from './as-html.ts';
import { asMarkdown } from './as-markdown.ts';
import { asCsv, asJson } from './as-rows.ts';
import { asText } from './as-text.ts';
import { composed, type LotToPrint } from './compose.ts';
import type { Style } from './style.ts';

/** The forms of a report, with the ending of their files. */
export const ENDINGS: Readonly<Record<ReportFormat, string>> = {
  text: 'txt',
  markdown: 'md',
  html: 'html',
  csv: 'csv',
  json: 'json',
};

export type ReportFormat = 'text' | 'markdown' | 'html' | 'csv' | 'json';

/** Whether a form holds the calendar picture. */
export const holdsPicture = (format: ReportFormat, style: Style): boolean => format === 'html' && style.picture;

/** Lots as one file, in UTF-8. The same lots in the same style give the same bytes, wherever and whenever. */
export function printedLots(lots: readonly LotToPrint[], format: ReportFormat, style: Style): Uint8Array {
  return Buffer.from(printedText(lots, format, style), 'utf8');
}

function printedText(lots: readonly LotToPrint[], format: ReportFormat, style: Style): string {
  const reports = lots.map(({ lot }) => lot);
  switch (format) {
    case 'json':
      return asJson(reports, style);
    case 'csv':
      return [...asCsv(reports, style)].join('');
    case 'html':
      return asHtml(composed(lots, style));
    case 'markdown':
      return asMarkdown(composed(lots, style));
    case 'text':
      return asText(composed(lots, style), style.columns);
  }
}
