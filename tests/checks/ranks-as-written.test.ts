import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { shippedLadder } from '../../src/services/ladder.ts';
import { readRank } from '../../src/services/read-rank.ts';

/**
 * Ranks as seventeenth-century clerks wrote them, from the pay accounts of the Essex army, 1642–44: text Open Government
 * Licence v3, database CC BY (drgavinr/cc-by-data). The ladder was made from lists of a later age. The rows were cut out
 * of running text by a pattern, so that styles (Sir, Master, Lord, Doctor) stand among the ranks.
 */
const STYLES = new Set(['sir', 'master', 'lord', 'doctor']);

/** No rank of the later lists: the serjeant-major was then what the major became; the commissary has no plain rank there. */
const OF_THEIR_TIME = new Set(['sergeant major', 'comissary', 'commissary']);

const isStyle = (text: string): boolean => STYLES.has(text.toLowerCase());

const ranks = readFileSync(new URL('data/army-pay-1642-44.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(',')[4] ?? '');

const read = (text: string): string => {
  const army = shippedLadder('army');
  const reading = army && readRank(text, army);
  return reading?.kind === 'found' ? reading.rank.id : String(reading?.kind);
};

test('the file is whole', () => expect(ranks).toHaveLength(2217));

test('styles are no ranks', () => {
  for (const text of ranks.filter(isStyle)) expect(read(text)).toBe('unknown');
});

test('at least 96 in 100 ranks are read; those that are not are known', () => {
  const military = ranks.filter((text) => !isStyle(text));
  const failed = military.filter((text) => read(text) === 'unknown');
  expect(1 - failed.length / military.length).toBeGreaterThan(0.96); // 1716 of 1785
  expect(failed.filter((text) => !OF_THEIR_TIME.has(text.toLowerCase()) && !/ Sir$/.test(text))).toEqual([]);
});

test.each([
  ['Captaine', 'captain'],
  ['Collonel', 'colonel'],
  ['Collonell', 'colonel'],
  ['Colonell', 'colonel'],
  ['lieutenant Collonel', 'lieutenant-colonel'],
  ['major', 'major'],
  ['major Generall', 'major-general'],
  ['Ensigne', 'ensign'],
  ['Quarter master', 'quartermaster'],
])('%s is read as %s', (text, id) => {
  expect(ranks).toContain(text);
  expect(read(text)).toBe(id);
});
