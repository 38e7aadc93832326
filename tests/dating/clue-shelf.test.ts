import { describe, expect, test } from 'vitest';
import { clueFacts } from '../../src/dating/clue-shelf.ts';
import { featureFacts } from '../../src/dating/feature-shelf.ts';
import { findClues } from '../../src/dating/find-clues.ts';
import { readTranscription } from '../../src/names/reading.ts';
import { readDate } from '../../src/time/read-date.ts';
import data from './clue-examples.json' with { type: 'json' };

const facts = clueFacts();
const fact = (name: string) => facts.filter((each) => each.name === name);
type Example = [name: string, found: string[], notFound: string[]];

describe('the shelf', () => {
  test('every fact has a name of its own, a source, and a window that can be read', () => {
    const all = [...facts, ...featureFacts()];
    expect(new Set(all.map(({ name }) => name)).size).toBe(all.length);
    for (const { window, source, text } of all) {
      expect(source).not.toBe('');
      expect(text).not.toBe('');
      if (window !== undefined) expect(readDate(window).span.from).toBeLessThan(readDate(window).span.until);
    }
  });
  test('what has no window is dated by the year in its words', () =>
    expect(facts.filter(({ window, yearInWords }) => window === undefined && !yearInWords)).toEqual([]));
  test('a side said to be firm has a day', () => {
    for (const { window, force } of facts) {
      if (window === undefined) continue;
      const { from, until } = readDate(window).span;
      if (force === 'hard-start') expect(Number.isFinite(from)).toBe(true);
      if (force === 'hard-end') expect(Number.isFinite(until)).toBe(true);
    }
  });
  test('every pattern has an example', () => {
    const named = new Set((data.examples as Example[]).map(([name]) => name));
    expect(facts.filter(({ name, pattern }) => pattern !== undefined && !named.has(name))).toEqual([]);
  });
});

describe('every fact is found in what it is for, and not in what only looks like it', () => {
  test.each(data.examples as Example[])('%s', (name, found, notFound) => {
    for (const words of found) expect(findClues(readTranscription(words), fact(name)), words).not.toEqual([]);
    for (const words of notFound) expect(findClues(readTranscription(words), fact(name)), words).toEqual([]);
  });
});

test('no pattern takes long over a long text', () => {
  for (const words of ['a', 'Capt. ', '1', 'a ', 'London, ', 'Made in ']) {
    const text = readTranscription(words.repeat(3000));
    const begun = process.hrtime.bigint();
    findClues(text, facts);
    expect(Number(process.hrtime.bigint() - begun) / 1e6).toBeLessThan(3000);
  }
});
