import { describe, expect, test } from 'vitest';
import { exportedRecords } from '../../src/inquiry/export.ts';
import { reportOf } from '../../src/inquiry/report.ts';
import { timelineOf } from '../../src/inquiry/timeline.ts';
import { KINDS } from '../../src/ledger/kinds.ts';
import { closing, pictureBlock } from '../../src/report/compose.ts';
import { csvLines, entryCsvLines, jsonLine } from '../../src/report/export-lines.ts';
import { fileNames } from '../../src/report/file-names.ts';
import { indexedLot, indexPage } from '../../src/report/index-page.ts';
import { svgOf } from '../../src/report/svg.ts';
import { wordsOf } from '../../src/report/words.ts';
import { HOSTILE, HOSTILE_LINES } from './hostile.ts';
import { ledgerOf } from './ledgers.ts';
import { printedAs, styleWith } from './printed.ts';

const db = ledgerOf(HOSTILE_LINES);
const lot = reportOf(db, 'o1', undefined);
const style = styleWith({ living: 'print', ids: true, disclaimers: [HOSTILE] });
const words = wordsOf(style);
const FORMS = ['text', 'html', 'markdown', 'csv', 'json'] as const;
const forms = printedAs(FORMS, db, ['o1'], style);
const form = (name: (typeof FORMS)[number]): string => forms[FORMS.indexOf(name)] ?? '';

/** Whatever a terminal or a reader does not show as it is, but the end of a line. */
const UNSEEN = /[^\P{C}\n]|\p{Default_Ignorable_Code_Point}/u;

/** Elements must close in order, and be of the few that a report is made of. */
function checkMarkup(text: string, allowed: readonly string[]): void {
  const open: string[] = [];
  const body = text.replace(/<!DOCTYPE html>/, '').replace(/<style>[\s\S]*?<\/style>/, '');
  for (const [tag, slash, name = '', attributes = '', end] of body.matchAll(/<(\/?)([^\s/>]*)([^>]*?)(\/?)>/g)) {
    expect(allowed, tag).toContain(name);
    expect(attributes.replaceAll(/ [\w:-]+="[^"<>]*"/g, '').trim(), tag).toBe('');
    for (const [, attribute] of attributes.matchAll(/ ([\w:-]+)=/g))
      expect(attribute, tag).not.toMatch(/^(?:on|src|style|xlink|srcset|action)/);
    for (const [, address] of attributes.matchAll(/ href="([^"]*)"/g)) expect(address).toMatch(/^#|^[\w.%-]+$/);
    if (slash === '/') expect(open.pop()).toBe(name);
    else if (end !== '/' && name !== 'meta') open.push(name);
  }
  expect(open).toEqual([]);
  expect(body.replaceAll(/<[^>]*>/g, '')).not.toMatch(/[<>]/);
}

const SVG_ELEMENTS = ['svg', 'title', 'desc', 'defs', 'pattern', 'rect', 'g', 'line', 'path', 'text'];
const HTML_ELEMENTS =
  'html head meta title style body article main h1 h2 h3 p ul ol li sup a figure figcaption div details summary bdi table tbody tr td'
    .split(' ')
    .concat(SVG_ELEMENTS);

describe('hostile texts stay texts', () => {
  test('the answer holds them as they were recorded', () => {
    expect(JSON.stringify(lot)).toContain('<script>alert(1)</script>');
    expect(lot.marks[0]?.candidates?.candidates.length).toBeGreaterThan(0);
  });

  test('plain text: nothing that a terminal would obey', () => {
    const text = form('text');
    expect(text).not.toMatch(UNSEEN);
    expect(text.replaceAll('\n', ' ').replaceAll(/ +/g, ' ')).toContain('\\u{1b}[31mred');
  });

  test('HTML: nothing but the elements of a report, closed in order', () => checkMarkup(form('html'), HTML_ELEMENTS));

  test('HTML holds no address to fetch from', () => {
    const html = form('html');
    for (const [, address] of html.matchAll(/(?:href|src)="([^"]*)"/g)) expect(address).toMatch(/^#/);
    expect(html).not.toMatch(/@import|url\((?!#)/);
  });

  test('SVG: well formed, nothing but shapes and words', () => {
    const { picture, lines } = pictureBlock(timelineOf(db, 'o1'), words);
    const svg = svgOf(
      picture,
      720,
      't',
      lines.flatMap((group) => group.lines),
    );
    checkMarkup(svg, SVG_ELEMENTS);
    expect(svg).not.toMatch(UNSEEN);
  });

  test('Markdown: every sign that means something is escaped', () => {
    const text = form('markdown');
    expect(text).not.toMatch(UNSEEN);
    // What the report itself writes is taken away; no sign may be left without a backslash before it.
    const theirs = text
      .replaceAll(/^(?:#{1,3}|-|\d+\.|---) ?/gm, '')
      .replaceAll(/\[\^\d+-\d+\]:?/g, '')
      .replaceAll(/\\[^\s\w]/g, '');
    expect(theirs).not.toMatch(/[*`<>|[\]_~]/);
    expect(theirs).not.toMatch(/https?:\/\/|www\./);
  });

  test.each(['report', 'index'])('CSV of the %s: no cell that a spreadsheet would reckon', (what) => {
    const indexed = [indexedLot(lot, words, 'a.csv')];
    const csv = what === 'report' ? form('csv') : indexPage(indexed, words, 'csv', '');
    expect(csv.replaceAll('\r\n', '\n')).not.toMatch(UNSEEN);
    for (const cell of cellsOf(csv)) expect(cell).not.toMatch(/^\s*[=+\-@]/);
  });

  test('JSON: exact when it is read, harmless when it is shown', () => {
    const json = form('json');
    expect(json).not.toMatch(UNSEEN);
    expect(JSON.parse(json).lots[0].object.title).toBe(lot.object.title);
  });

  test.each(['html', 'markdown', 'text', 'json'])('the index as %s', (format) => {
    const [file = ''] = fileNames([lot.object.ref]);
    const index = indexPage([indexedLot(lot, words, `${file}.x`)], words, format, closing(lot, words));
    expect(index).not.toMatch(UNSEEN);
    if (format === 'html') checkMarkup(index, HTML_ELEMENTS);
    expect(file).not.toMatch(/[/\\]|^\./);
  });

  test('export: JSON Lines and CSV', () => {
    for (const record of exportedRecords(db)) {
      expect(jsonLine(record).trimEnd()).not.toMatch(UNSEEN);
      expect(JSON.parse(jsonLine(record))).toEqual({ type: record.type, key: record.key, ...record.fields });
    }
    for (const { kind } of KINDS) {
      const records = [...exportedRecords(db, kind === 'entry' ? ['series', 'edition', 'entry'] : [kind])];
      const csv = [...(kind === 'entry' ? entryCsvLines(records, true) : csvLines(kind, records, true))].join('');
      expect(csv.replaceAll('\r\n', '\n')).not.toMatch(UNSEEN);
      for (const cell of cellsOf(csv)) expect(cell, kind).not.toMatch(/^\s*[=+\-@]/);
    }
  });
});

/** Cells of a CSV after RFC 4180, read with its own few lines. */
function cellsOf(csv: string): string[] {
  const cells = [...csv.matchAll(/(?:^|,|\r\n)(?:"((?:[^"]|"")*)"|([^",\r\n]*))/g)];
  return cells.map(([, quoted, plain]) => quoted?.replaceAll('""', '"') ?? plain ?? '');
}
