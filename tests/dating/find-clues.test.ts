import { describe, expect, test } from 'vitest';
import type { ClueFact } from '../../src/dating/fact.ts';
import { findClues } from '../../src/dating/find-clues.ts';
import { housePattern } from '../../src/dating/house-pattern.ts';
import { readTranscription } from '../../src/names/reading.ts';

const fact = (name: string, pattern: RegExp, rest: Partial<ClueFact> = {}): ClueFact => ({
  name,
  text: name,
  pattern,
  window: '1840/..',
  force: 'hard',
  weight: 'moderate',
  confidence: 'high',
  source: 'made up',
  fromMemory: false,
  note: '',
  yearInWords: false,
  dates: 'mark',
  ...rest,
});
const TRUST = fact('trust', housePattern('Harbour Trust*'));
const find = (text: string, ...facts: ClueFact[]) =>
  findClues(readTranscription(text), facts).map(({ words, from, until, unsure }) => ({ words, from, until, unsure }));

describe('a wording is found with its place in the text as it was given', () => {
  test.each<[rule: string, text: string, words: string, unsure: boolean]>([
    ['plainly', 'The Harbour Trust, Oakhaven', 'Harbour Trust', false],
    ['whatever the case and the spaces', 'HARBOUR   TRUST', 'HARBOUR TRUST', false],
    ['the rest of a word', 'Harbour Trustees', 'Harbour Trustees', false],
    ['over the end of a line', 'Harbour | Trust', 'Harbour Trust', false],
    ['across a word that is broken', 'Har-|bour Trust', 'Harbour Trust', false],
    ['with restored letters, as unsure', 'Harb[our] Trust', 'Harbour Trust', true],
    ['with an unsure letter', 'Harbo_ur Trust', 'Harbour Trust', true],
    ['with what was expanded', 'H(arbour) Trust', 'Harbour Trust', false],
  ])('%s', (_rule, text, words, unsure) => {
    const [found] = find(text, TRUST);
    expect(found?.words).toBe(words);
    expect(found?.unsure).toBe(unsure);
    expect(text.slice(found?.from, found?.until).replace(/^The /, '')).toMatch(/^H.*t(?:ees)?$/is);
  });
  test('a lost letter is none', () => expect(find('Harb[.]ur Trust', TRUST)).toEqual([]));
  test('a part of another word is none', () => expect(find('Oldharbour Trust', TRUST)).toEqual([]));
  test('twice, in the order of the text', () => {
    const text = 'Harbour Trust and Harbour Trustees';
    expect(find(text, TRUST).map(({ from }) => from)).toEqual([0, 18]);
  });
  test('found in short and in long at one place, it is found once', () =>
    expect(find('Harbour Trust of Oakhaven', fact('t', /Harbour Trust(?:\s+of\s+Oakhaven)?/g))).toHaveLength(1));
});

describe('years and numbers in the words', () => {
  const found = (name: string, text: string, pattern: RegExp) =>
    findClues(readTranscription(text), [fact(name, pattern, { yearInWords: true })])[0];
  test('the latest year', () => expect(found('medal', 'Medals 1851 & 1862', /Medals.*\d{4}/g)?.year).toBe(1862));
  test('else the first close behind them', () => {
    expect(found('c', '© Voss & Co. 1961, 1970', /©/g)?.year).toBe(1961);
    expect(found('c', '© Voss & Co., Stationers to the Harbour Trust 1961', /©/g)?.year).toBeUndefined();
  });
  test('a longer number is no year', () => expect(found('rd-no', 'Rd No 190312', /Rd No \d+/g)?.year).toBeUndefined());
  test('the year of a serial number', () =>
    expect(found('rd-no', 'Rd No 190312', /Rd No \d+/g)?.number).toMatchObject({ earliest: 1892, next: 1893 }));
});

test('an untranscribable text is refused with its place', () =>
  expect(() => find('Harb[our', TRUST)).toThrow(/never closed/));
