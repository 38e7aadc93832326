import { unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { reportOf } from '../../src/inquiry/report.ts';
import { closing } from '../../src/report/compose.ts';
import { indexedLot } from '../../src/report/index-page.ts';
import { printerOf } from '../../src/report/print.ts';
import { wordsOf } from '../../src/report/words.ts';
import { HOSTILE_LINES } from './hostile.ts';
import { ledgerOf, SMALL } from './ledgers.ts';
import { styleWith } from './printed.ts';

const lot = reportOf(ledgerOf(SMALL), '214', undefined);
const hostile = reportOf(ledgerOf(HOSTILE_LINES), 'o1', undefined);
const printer = await printerOf('docx');
const partsOf = (bytes: Uint8Array): Map<string, string> =>
  new Map(Object.entries(unzipSync(bytes)).map(([name, part]) => [name, new TextDecoder().decode(part)]));

/** Elements that close in order, and signs of XML that are escaped everywhere else. */
function checkWellFormed(xml: string): void {
  const open: string[] = [];
  for (const [, slash, name, attributes = '', end] of xml.matchAll(/<([/?]?)([\w:]+)([^<>]*?)([/?]?)>/g)) {
    expect(attributes.replaceAll(/ [\w:]+="[^"<>]*"/g, '')).toBe('');
    if (slash === '/') expect(open.pop()).toBe(name);
    else if (slash !== '?' && end !== '/') open.push(name ?? '');
  }
  expect(open).toEqual([]);
  expect(xml.replaceAll(/<[^<>]*>/g, '')).not.toMatch(/[<>]/);
  expect(xml).not.toMatch(/&(?!(?:amp|lt|gt|quot|#39);)/);
  // Signs that XML does not allow at all.
  expect(xml).not.toMatch(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u);
}

describe('a report for word processors', () => {
  test.each([
    ['a small lot', lot],
    ['hostile texts', hostile],
  ])('every part is well formed: %s', (_what, given) => {
    for (const xml of partsOf(printer.lots([{ lot: given }], styleWith({ living: 'print' }))).values())
      checkWellFormed(xml);
  });

  test.each<['footnotes' | 'endnotes', string]>([
    ['footnotes', 'footnote'],
    ['endnotes', 'endnote'],
  ])('notes are %s of the word processor', (notes, element) => {
    const parts = partsOf(printer.lots([{ lot }], styleWith({ notes })));
    const calls = parts.get('word/document.xml')?.match(new RegExp(`<w:${element}Reference `, 'g'));
    const texts = parts.get(`word/${notes}.xml`)?.match(new RegExp(`<w:${element} w:id="[1-9]`, 'g'));
    expect(calls?.length).toBe(5);
    expect(texts?.length).toBe(5);
    expect(parts.get(`word/${notes}.xml`)).toContain('Oakhaven Patent Rolls, 1830, no. 61.');
  });

  test('of several lots each has its own notes', () => {
    const parts = partsOf(printer.lots([{ lot }, { lot: hostile }, { lot }], styleWith({ living: 'print' })));
    const notes = [
      ...(parts.get('word/footnotes.xml') ?? '').matchAll(/<w:footnote w:id="[1-9]\d*">.*?<\/w:footnote>/g),
    ];
    expect(notes.filter(([note]) => note.includes('Oakhaven Patent Rolls'))).toHaveLength(2);
    for (const [note] of notes) expect(note).toMatch(/> \S.*<\/w:t>/);
  });

  test('what it says is what the text says', () => {
    const document = partsOf(printer.lots([{ lot }], styleWith())).get('word/document.xml') ?? '';
    const said = document.replaceAll(/<\/w:p>/g, '\n').replaceAll(/<[^>]*>/g, '');
    expect(said).toContain('Almost certainly Julian Peter Ferrand [1812–1871], Oakhaven, 1833–39.');
    expect(said).toContain('heldby 0.1.0; act 1 of the ledger, 25 November 2026.');
  });

  test('the same lot is the same file, and it holds no date but the ledger’s', () => {
    const [first, second] = [1, 2].map(() => printer.lots([{ lot }], styleWith()));
    expect(Buffer.from(first ?? []).equals(Buffer.from(second ?? []))).toBe(true);
    const core = partsOf(first ?? new Uint8Array()).get('docProps/core.xml');
    expect(core?.match(/\d{4}-\d\d-\d\dT[\d:]+Z/g)).toEqual(['2026-11-25T00:00:00Z', '2026-11-25T00:00:00Z']);
  });

  test('the index', () => {
    const words = wordsOf(styleWith({ living: 'print' }));
    const index = printer.index([indexedLot(hostile, words, 'a.docx')], words, closing(hostile, words), '2026-11-25');
    for (const xml of partsOf(index).values()) checkWellFormed(xml);
  });
});
