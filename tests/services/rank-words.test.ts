import { expect, test } from 'vitest';
import { idOf, keyOf, meanings, vocabulary, wordsOf } from '../../src/services/rank-words.ts';

test.each([
  ['points, hyphens and spaces part words', 'Lieut.-Col.', ['lieut', 'col']],
  ['an apostrophe parts none', 'Surgeon’s Mate', ['surgeons', 'mate']],
  ['superscript letters', 'Capᵗ', ['capt']],
  ['superscript markup with a caret', 'Cap^t^', ['capt']],
  ['superscript markup with braces', 'Cap^{t}', ['capt']],
  ['superscript markup of HTML', 'Cap<sup>t</sup>', ['capt']],
  ['an editor’s brackets', 'Lieut(enant)', ['lieutenant']],
  ['an ampersand is a word', 'Lieut. & Capt.', ['lieut', 'and', 'capt']],
  ['nothing', ' .-', []],
])('wordsOf: %s', (_rule, text, expected) => expect(wordsOf(text)).toEqual(expected));

test('a key has the letters alone, an id has hyphens', () => {
  expect(keyOf('Lieut.-Col.')).toBe('lieutcol');
  expect(idOf(' Lieutenant  Colonel')).toBe('lieutenant-colonel');
});

test.each([
  ['glued abbreviations', 'ltcol', ['lieutenantcolonel']],
  ['a word with several meanings', 'com', ['commander', 'commodore', 'commissary', 'commandant']],
  ['words that are none', 'ltxyz', []],
  ['a key too long to be a rank', 'lt'.repeat(60), []],
])('meanings: %s', (_rule, key, expected) =>
  expect([...meanings(key, vocabulary([]))].sort()).toEqual([...expected].sort()),
);

test('further words stand for themselves', () =>
  expect([...meanings('ltreeve', vocabulary(['reeve']))]).toEqual(['lieutenantreeve']));
