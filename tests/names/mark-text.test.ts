import { expect, test } from 'vitest';
import { freeRuns, markText, shownWords, takeAs, typedWords, wordsText } from '../../src/names/mark-text.ts';

test('markText: words with their places, and segments between lines, commas and lone dashes', () => {
  const text = 'Lieut. J. Ferrand, (late) Holt - Ashby / 2nd';
  const { words } = markText(text);
  expect(words.map(({ segment, from, until }) => `${segment} ${text.slice(from, until)}`)).toEqual([
    '0 Lieut.',
    '0 J.',
    '0 Ferrand',
    '1 late)',
    '1 Holt',
    '2 Ashby',
    '3 2nd',
  ]);
  expect(words.map(({ text: shown }) => shown)).toEqual(['Lieut.', 'J.', 'Ferrand', 'late', 'Holt', 'Ashby', '2nd']);
  expect(words.filter(({ onNewLine }) => onNewLine).map(({ text: shown }) => shown)).toEqual([
    'Lieut.',
    'J.',
    'Ferrand',
    '2nd',
  ]);
});

test('markText: a word as it is shown, keyed and typed', () => {
  const [word] = markText('F_er{r}r[.a]<n>d°').words;
  expect(word).toMatchObject({ text: 'Ferr[.]and°', key: 'ferrando', typed: 'F_er{r}r[.a]<n>d°' });
});

test('shownWords and typedWords: lost letters in one bracket, a comma between segments', () => {
  const { words } = markText('[J. Ferr..]d, Holt');
  expect(wordsText(words)).toBe('J. Ferr[.][.]d, Holt');
  expect(shownWords(words)).toBe('J. Ferr[..]d, Holt');
  expect(typedWords(words)).toBe('[J\\.] [Ferr..]d Holt');
});

test('freeRuns: words without a part that follow each other in one segment', () => {
  const { words } = markText('a b c / d e');
  takeAs('rest', words.slice(1, 2));
  expect(freeRuns(words).map((run) => run.map(({ text }) => text).join(' '))).toEqual(['a', 'c', 'd e']);
});
