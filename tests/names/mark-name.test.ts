import { expect, test } from 'vitest';
import { takeName } from '../../src/names/mark-name.ts';
import { markText } from '../../src/names/mark-text.ts';

test.each<[text: string, forenames: string | undefined, surname: string | undefined, parts: string]>([
  ['J. Ferrand', 'J.', 'Ferrand', 'forenames surname'],
  ['Sir T. Holt K.C.B.', 'T.', 'Holt', 'title forenames surname title'],
  ['Holt junr.', undefined, 'Holt', 'surname suffix'],
  ['ex libris J. Ferrand', 'J.', 'Ferrand', 'rest rest forenames surname'],
  ['J. Ferrand & Co.', 'J.', 'Ferrand', 'forenames surname free free'],
  ['J. & M. Holt', 'J.', 'Holt', 'forenames free free surname'],
  ['J. & M. H.', 'J.', 'H[---]', 'forenames free free surname'],
  ['Holt & Ferrand', undefined, 'Holt', 'surname free free'],
  ['J.F.', 'J.', 'F[---]', 'surname'],
  ['J. F.', 'J.', 'F[---]', 'forenames surname'],
  ['J. _F.', 'J.', '_F[---]', 'forenames surname'],
  ['Ferrand, J. P.', 'J. P.', 'Ferrand', 'surname forenames forenames'],
  ['J. Ferrand, K.C.B.', 'J.', 'Ferrand', 'forenames surname title'],
  ['12', undefined, undefined, 'free'],
  ['[Ferrand]', undefined, '[Ferrand]', 'surname'],
])('takeName: %s', (text, forenames, surname, parts) => {
  const { words } = markText(text);
  const name = takeName(words, 0);
  expect({ forenames: name.forenames, surname: name.surname }).toEqual({ forenames, surname });
  expect(words.map(({ part }) => part ?? 'free').join(' ')).toBe(parts);
});

test('takeName: behind the rank first', () => {
  const { words } = markText('Ashby / Capt. Holt');
  const rank = words[1];
  if (rank === undefined) throw new Error('no rank');
  rank.part = 'rank';
  expect(takeName(words, rank.until).surname).toBe('Holt');
});
