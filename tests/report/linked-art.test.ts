import { describe, expect, test } from 'vitest';
import { exportedKeys } from '../../src/inquiry/export.ts';
import { lotsInOrder, reportOf } from '../../src/inquiry/report.ts';
import { addressesUnder, type LinkedDocument, linkedLot, linkedPerson, timeSpan } from '../../src/report/linked-art.ts';
import { wordsOf } from '../../src/report/words.ts';
import { type LineObject, ledgerOf, SMALL } from './ledgers.ts';
import { styleWith } from './printed.ts';

const words = wordsOf(styleWith());
function documentsOf(lines: readonly LineObject[], base?: string): LinkedDocument[] {
  const db = ledgerOf(lines);
  const addresses = addressesUnder(base, exportedKeys(db, ['object', 'mark', 'person']));
  return lotsInOrder(db).flatMap((id) => linkedLot(reportOf(db, id, undefined), words, addresses));
}
const documents = documentsOf(SMALL);
const typed = (type: string) => documents.filter((document) => document['type'] === type);

/** Every time-span in a document. */
function timeSpans(value: unknown): Record<string, string>[] {
  if (Array.isArray(value)) return value.flatMap(timeSpans);
  if (typeof value !== 'object' || value === null) return [];
  const found = value as Record<string, unknown>;
  return [
    ...(found['type'] === 'TimeSpan' ? [found as Record<string, string>] : []),
    ...Object.values(found).flatMap(timeSpans),
  ];
}

describe('Linked Art', () => {
  test('one document an object, a holding and a person', () => {
    expect(documents.map((document) => document['type'])).toEqual([
      ...['HumanMadeObject', 'Activity', 'Activity', 'Person', 'Person'],
    ]);
    for (const document of documents)
      expect(document).toMatchObject({
        '@context': 'https://linked.art/ns/v1/linked-art.json',
        id: expect.stringMatching(/^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/),
        _label: expect.any(String),
      });
  });

  test('a provenance activity is classified as one, and tells what passed to whom', () => {
    for (const activity of typed('Activity')) {
      expect(activity['classified_as']).toMatchObject([{ id: 'http://vocab.getty.edu/aat/300055863' }]);
      expect(activity['part']).toMatchObject([
        { type: 'Transfer', transferred: [{ type: 'HumanMadeObject' }], transferred_to: [{ type: 'Person' }] },
      ]);
    }
  });

  test('every time-span has all four dates in their order, and words for them', () => {
    const spans = timeSpans(documents);
    expect(spans.length).toBeGreaterThan(8);
    for (const span of spans) {
      const { begin_of_the_begin: a, end_of_the_begin: b, begin_of_the_end: c, end_of_the_end: d } = span;
      for (const day of [a, b, c, d]) expect(day).toMatch(/^\d{4}-\d\d-\d\dT(?:00:00:00|23:59:59)Z$/);
      expect((a ?? '') <= (b ?? '') && (c ?? '') <= (d ?? '') && (a ?? '') <= (d ?? '')).toBe(true);
      expect(span['identified_by']).toMatchObject([{ type: 'Name', content: expect.any(String) }]);
    }
  });

  test('an appointment has the bounds of its start, and of its last day', () => {
    const ferrand = typed('Person').find((person) => person['_label'] === 'Julian Peter Ferrand');
    expect((ferrand?.['carried_out'] as unknown[] | undefined)?.[1]).toMatchObject({
      _label: 'Lieutenant, 2nd Fencibles',
      timespan: {
        begin_of_the_begin: '1833-05-16T00:00:00Z',
        end_of_the_begin: '1833-05-16T23:59:59Z',
        begin_of_the_end: '1839-02-07T00:00:00Z',
        end_of_the_end: '1839-02-07T23:59:59Z',
      },
    });
  });

  test('an open side is left out', () =>
    expect(
      timeSpan({ beginEarliest: null, beginLatest: '1834-01-01', endEarliest: '1834-01-01', endLatest: null }, 'x'),
    ).not.toHaveProperty('end_of_the_end'));

  test('doubt is said as an assignment, certainty is not', () => {
    expect(JSON.stringify(typed('Activity'))).not.toContain('AttributeAssignment');
    const alone = documentsOf(SMALL.filter(({ key }) => key !== 'm2' && key !== 'f2'));
    expect(JSON.stringify(alone)).toContain('http://vocab.getty.edu/aat/30043572');
  });

  test('addresses under the house’s own', () => {
    const [object] = documentsOf(SMALL, 'https://house.example/ledger');
    expect(object?.['id']).toBe('https://house.example/ledger/object/214');
  });

  test('the same records have the same addresses in every ledger', () => {
    const other = documentsOf([{ type: 'object', ref: '9', title: 'Tin box' }, ...SMALL]);
    const ids = other.map((document) => document['id']);
    for (const document of documents) expect(ids).toContain(document['id']);
  });

  test('nobody who may be living is named', () => {
    const living = documentsOf([
      { type: 'object', key: '9', ref: '9', title: 'Tin box', note: 'From Miss Quennell herself.' },
      { type: 'person', key: 'young', surname: 'Quennell', forenames: 'Ann', born: '1990' },
      { type: 'mark', object: '9', text: 'Ann Quennell', role: 'owner', made: '2015' },
    ]);
    expect(living.length).toBeGreaterThan(1);
    expect(JSON.stringify(living)).not.toContain('Quennell');
  });

  test('a person alone', () => {
    const lot = reportOf(ledgerOf(SMALL), '214', undefined);
    const [person] = Object.values(lot.people);
    if (!person) throw new Error('nobody');
    expect(linkedPerson(person, words, addressesUnder(undefined, new Map()))['type']).toBe('Person');
  });
});
