// What is exported, read by the general libraries of the open standards that it is written after.
import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { Ajv } from 'ajv';
import { parse } from 'csv-parse/sync';
import jsonld, { type Loader } from 'jsonld';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlace, type Place } from '../cli/heldby.ts';
import { xlsxFile } from '../intake/xlsx-file.ts';
import { HOSTILE_LINES } from '../report/hostile.ts';

type Json = Readonly<Record<string, unknown>>;
const data = (name: string): Json => JSON.parse(readFileSync(resolve(import.meta.dirname, 'data', name), 'utf8'));
const EXAMPLES = resolve(import.meta.dirname, '../../examples');

let demo: Place;
let hostile: Place;
beforeAll(() => {
  demo = makePlace();
  demo.run('init');
  for (const name of ['records.jsonl', 'lists.csv']) expect(demo.run('import', resolve(EXAMPLES, name)).status).toBe(0);
  hostile = makePlace();
  hostile.run('init');
  writeFileSync(hostile.path('hostile.jsonl'), HOSTILE_LINES.map((line) => JSON.stringify(line)).join('\n'));
  expect(hostile.run('import', 'hostile.jsonl').status).toBe(0);
}, 120_000);
afterAll(() => {
  demo.remove();
  hostile.remove();
});

const both: [string, () => Place][] = [
  ['the demo', () => demo],
  ['hostile texts', () => hostile],
];

/** jsonld (Digital Bazaar), a processor of JSON-LD 1.1 (W3C Recommendation, 16 July 2020). */
describe('Linked Art: a JSON-LD processor expands it, and gets the same back', () => {
  const CONTEXT = 'https://linked.art/ns/v1/linked-art.json';
  const { '@context': terms } = data('linked-art-terms.json');
  const documentLoader: Loader = async (url) => {
    if (url !== CONTEXT) throw new Error(`asked for ${url}`);
    return { contextUrl: null, documentUrl: url, document: { '@context': terms } };
  };

  test.each(both)(
    '%s',
    async (_what, place) => {
      const documents: Json[] = JSON.parse(place().run('export', 'objects', '--format', 'linked-art', '--living').out);
      expect(documents.length).toBeGreaterThan(1);
      for (const document of documents) {
        // Safe mode refuses whatever it would drop: a term that the context does not have, a relative address, no type.
        const expanded = await jsonld.expand(document, { documentLoader, safe: true });
        expect(await jsonld.compact(expanded, CONTEXT, { documentLoader })).toEqual(document);
      }
    },
    120_000,
  );

  test('a term that the context does not have is found', () =>
    expect(
      jsonld.expand({ '@context': CONTEXT, id: 'urn:a', nonsense: 'x' }, { documentLoader, safe: true }),
    ).rejects.toThrow());
});

describe('CSL-JSON', () => {
  const validate = new Ajv({ allowUnionTypes: true }).compile(data('csl-items.json')['schema'] as Json);

  test.each(both)('%s is as the schema says', (_what, place) => {
    const items = JSON.parse(place().run('export', '--all', '--format', 'csl-json').out);
    expect(items.length).toBeGreaterThan(1);
    expect([validate(items), validate.errors]).toEqual([true, null]);
  });

  test('what is not is found', () => expect(validate([{ id: 'a', type: 'list', colour: 'red' }])).toBe(false));
});

/** RFC 4180, section 2, rules 1 to 7; csv-parse (Adaltas) reads with its strict defaults. */
describe('CSV after RFC 4180', () => {
  const read = (text: string): string[][] => parse(text, { record_delimiter: '\r\n' });

  test.each(both)(
    '%s: an independent reader gets every cell',
    (_what, place) => {
      for (const kind of ['objects', 'marks', 'people', 'editions', 'notices', 'entries']) {
        const [head = [], ...rows] = read(place().run('export', kind, '--format', 'csv', '--exact').out);
        const lines = place()
          .run('export', kind)
          .out.split('\n')
          .filter((line) => line !== '')
          .map((line): Json => JSON.parse(line));
        if (kind === 'entries') {
          expect(rows.length).toBe(lines.length);
          continue;
        }
        expect(rows.map((row) => Object.fromEntries(row.map((cell, at) => [head[at], cell])))).toEqual(
          lines.map((line) => Object.fromEntries(head.map((name) => [name, cellOf(line[name])]))),
        );
      }
    },
    120_000,
  );

  test('lines end with CRLF, and a cell with a comma, a quotation mark or a line is quoted', () => {
    const text = hostile.run('export', 'objects', '--format', 'csv', '--exact').out;
    expect(text.endsWith('\r\n')).toBe(true);
    expect(text.replaceAll(/"(?:[^"]|"")*"/g, '')).not.toMatch(/[^\r]\n|"/);
  });

  test('through a spreadsheet: cells become numbers and texts of a workbook, and come back as the same entries', () => {
    const rows = read(demo.run('export', 'entries', '--format', 'csv').out);
    const asNumber = (cell: string): string | number => (/^[1-9]\d*$/.test(cell) ? Number(cell) : cell);
    const again = makePlace();
    again.run('init');
    expect(again.run('import', resolve(EXAMPLES, 'records.jsonl')).status).toBe(0);
    writeFileSync(again.path('entries.xlsx'), xlsxFile({ entries: rows.map((row) => row.map(asNumber)) }));
    const { status, err } = again.run('import', 'entries.xlsx');
    expect([status, err]).toEqual([
      0,
      'Columns not used: key.\n8 entries are nobody’s yet, and it is people who are asked about.\nNext: heldby careers   (puts entries together into people)\n',
    ]);
    const entries = (place: Place): string[] =>
      read(place.run('export', 'entries', '--format', 'csv').out)
        .map(([_key, ...cells]) => cells.join('\t'))
        .toSorted();
    expect(entries(again)).toEqual(entries(demo));
    again.remove();
  }, 60_000);
});

const cellOf = (value: unknown): string =>
  value === undefined || value === null ? '' : Array.isArray(value) ? value.join('; ') : String(value);
