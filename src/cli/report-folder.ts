import { resolve } from 'node:path';
import { type BatchFile, type BatchResult, writeBatch } from '../report/batch.ts';
import { closing } from '../report/compose.ts';
import { fileNames, indexName } from '../report/file-names.ts';
import { type IndexedLot, indexedLot } from '../report/index-page.ts';
import type { LotToPrint } from '../report/lot-to-print.ts';
import { ENDINGS, type Printer, type ReportFormat } from '../report/print.ts';
import type { Style } from '../report/style.ts';
import { wordsOf } from '../report/words.ts';
import { progress } from './progress.ts';

/** A form to print in, with what prints it. */
export type Form = { readonly format: ReportFormat; readonly printer: Printer };

/** What a batch holds of a lot while it goes on: no more than its line of the index. */
type InIndex = { readonly lot: Omit<IndexedLot, 'file'>; readonly name: string };

/**
 * Writes one file a lot and form, and an index of each form, into a folder. One lot is held at a time.
 * @param refs the references of the lots.
 * @param lotAt what is to be printed of the lot at a place; asked for in order.
 */
export function writeFolder(
  folder: string,
  forms: readonly Form[],
  style: Style,
  refs: readonly string[],
  lotAt: (place: number) => LotToPrint,
): BatchResult & { readonly lots: readonly Omit<IndexedLot, 'file'>[] } {
  const words = wordsOf(style);
  const names = fileNames(refs);
  const indexed: InIndex[] = [];
  let end = { closing: '', date: '' };
  function* files(): Iterable<BatchFile> {
    for (const place of refs.keys()) {
      if (refs.length > 1) progress(`${place} of ${refs.length} lots`);
      const each = lotAt(place);
      const name = names[place] ?? '';
      const { file: _, ...lot } = indexedLot(each.lot, words, null);
      indexed.push({ lot, name });
      if (place === 0) end = { closing: closing(each.lot, words), date: each.lot.about.date };
      for (const { format, printer } of forms)
        yield { name: `${name}.${ENDINGS[format]}`, bytes: printer.lots([each], style) };
    }
    progress('');
    for (const { format, printer } of forms) {
      const rows = indexed.map((one) => ({ ...one.lot, file: `${one.name}.${ENDINGS[format]}` }));
      yield { name: indexName(ENDINGS[format]), bytes: printer.index(rows, words, end.closing, end.date) };
    }
  }
  return { ...writeBatch(resolve(folder), files()), lots: indexed.map(({ lot }) => lot) };
}
