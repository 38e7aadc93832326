import { expect, test } from 'vitest';
import { exportedRecords } from '../../src/inquiry/export.ts';
import { cslItems } from '../../src/report/csl.ts';
import { type LineObject, ledgerOf, SMALL } from './ledgers.ts';

const itemsOf = (lines: readonly LineObject[]) => [...cslItems(exportedRecords(ledgerOf(lines)))];
const series = { type: 'series', key: 's', name: 'List', service: 'army' };
const edition = (changes: LineObject) => ({
  type: 'edition',
  key: 'e',
  series: 's',
  label: '1834',
  asAt: '1834-01-01',
  ...changes,
});

test('each issue of a list, and each source named in words once', () => {
  const twice = [
    ...SMALL,
    { type: 'notice', person: 'ferrand', event: 'other', date: '1840', source: 'Oakhaven Gazette, 8 Feb. 1839, p. 47' },
  ];
  const items = itemsOf(twice);
  expect(items.filter((item) => item['type'] === 'periodical')).toHaveLength(5);
  expect(items.filter((item) => item['type'] === 'document').map((item) => item['title'])).toEqual([
    'Oakhaven Gazette, 8 Feb. 1839, p. 47',
    'Oakhaven Patent Rolls, 1830, no. 61',
  ]);
});

test('an issue with its copy and shelfmark', () =>
  expect(
    itemsOf([series, edition({ copy: 'Oakhaven Library', shelfmark: 'L 14', source: 'corrected to 1 Jan.' })]),
  ).toEqual([
    {
      id: 'e',
      type: 'periodical',
      title: 'List',
      issue: '1834',
      issued: { 'date-parts': [[1834, 1, 1]] },
      note: 'corrected to 1 Jan.',
      archive: 'Oakhaven Library',
      'call-number': 'L 14',
      custom: { 'as-at': '1834-01-01' },
    },
  ]));

test.each<[asAt: string, issued: unknown]>([
  ['1834', { 'date-parts': [[1834]] }],
  ['1834/1836', { 'date-parts': [[1834], [1836]] }],
  [
    'May 1834',
    {
      'date-parts': [
        [1834, 5, 1],
        [1834, 5, 31],
      ],
    },
  ],
  ['c. 1834', { 'date-parts': [[1834]], circa: true }],
  ['by 1834', { literal: 'by 1834' }],
])('issued %s', (asAt, issued) => expect(itemsOf([series, edition({ asAt })])[0]?.['issued']).toEqual(issued));

/** Properties of an item in the CSL-JSON schema 1.0.2 (schemas/input/csl-data.json), as far as they are used here. */
const ALLOWED = ['id', 'type', 'title', 'issue', 'issued', 'note', 'archive', 'call-number', 'custom'];
test('no property that the schema does not know', () => {
  for (const item of itemsOf(SMALL)) for (const name of Object.keys(item)) expect(ALLOWED).toContain(name);
});
