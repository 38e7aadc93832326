import { expect, test } from 'vitest';
import { type LineObject, ledgerOf, SMALL } from './ledgers.ts';
import { printed, styleWith } from './printed.ts';

const text = (records: readonly LineObject[]): string =>
  printed(ledgerOf(records), ['214'], 'text', styleWith()).replaceAll(/\s+/g, ' ');
const unmade = SMALL.filter(({ type }) => type !== 'feature');

test('by traits and marks together, and by traits alone', () =>
  expect(text(SMALL)).toMatch(
    /Made 18\d\d–\d\d, by construction and marks together; by construction alone, 18\d\d–\d\d\./,
  ));

test('without a trait nothing is said of the construction', () => {
  const dated: LineObject = { type: 'mark', key: 'd', object: '214', text: 'Sold 1975', role: 'sale', made: '1975' };
  const said = text([...unmade, dated]);
  expect(said).toMatch(/Made [^.]+, by its marks; nothing of its construction is dated\./);
  expect(said).not.toContain('by construction');
});

test('without a trait or a mark nothing is determined', () => {
  const bare = unmade.filter(({ type }) => type !== 'mark' && type !== 'reading' && type !== 'attribution');
  expect(text(bare)).toContain('The date of making is not determined.');
});
