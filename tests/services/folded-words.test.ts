import { expect, test } from 'vitest';
import { fold } from '../../src/services/fold.ts';
import { foldedWords } from '../../src/services/folded-words.ts';

test.each<[what: string, text: string, words: string]>([
  ['words in ASCII', '2nd Fencibles, late Holt’s', '2nd fencibles late holt s'],
  ['accents', 'Füsiliere à pied', 'fusiliere a pied'],
  ['a fraction', '½ p.', '1 2 p'],
  ['other letters', 'Полк 2', 'полк 2'],
  ['no word', '—', ''],
])('foldedWords: %s', (_what, text, words) => expect(foldedWords(fold(text)).join(' ')).toBe(words));
