import { expect, test } from 'vitest';
import {
  takeCorps,
  takeDate,
  takeKnownPlace,
  takeNumbers,
  takePlace,
  takeSeat,
} from '../../src/names/mark-surroundings.ts';
import { markText } from '../../src/names/mark-text.ts';

const taken = (text: string, take: (words: ReturnType<typeof markText>['words']) => string | undefined): string => {
  const { words } = markText(text);
  const found = take(words);
  return `${found ?? '-'}: ${words
    .filter(({ part }) => part !== undefined)
    .map((word) => word.text)
    .join(' ')}`;
};

test.each([
  ['Ferrand 1834', '1834: 1834'],
  ['Ferrand dated 12 May 1834 Oakhaven', '12 May 1834: dated 12 May 1834'],
  ['A.D. MDCCCXXXIV', 'MDCCCXXXIV: A.D. MDCCCXXXIV'],
  ['Ferrand 2nd Fencibles', '-: '],
  ['31 Feb 1834', 'Feb 1834: Feb 1834'],
])('takeDate: %s', (text, expected) => expect(taken(text, (words) => takeDate(words)?.text)).toBe(expected));

test.each([
  ['Ferrand 2nd Fencibles', '2nd Fencibles: 2nd Fencibles'],
  ['Ferrand, late of the 60th Foot', '60th Foot: late of the 60th Foot'],
  ['Ferrand 2/60th Rifles', '2/60th Rifles: 2/60th Rifles'],
  ['Ferrand 60th', '60th: 60th'],
  ['Ferrand 2nd', '-: '],
  ['Ferrand Royal Artillery', 'Royal Artillery: Royal Artillery'],
  ['Ferrand No. 3 Company', 'No. 3 Company: No. 3 Company'],
  ['Ferrand, Oakhaven Volunteers', 'Oakhaven Volunteers: Oakhaven Volunteers'],
  ['Ferrand H.M.S. Triton', 'H.M.S. Triton: H.M.S. Triton'],
  ['J. Foot', '-: '],
  ['re Ferrand', '-: '],
])('takeCorps: %s', (text, expected) => expect(taken(text, (words) => takeCorps(words, [], false))).toBe(expected));

test('takeCorps: a lone ordinal beside a rank, and the longest known name', () => {
  expect(taken('Ferrand 2nd', (words) => takeCorps(words, [], true))).toBe('2nd: 2nd');
  const known = ['Survey', 'Coast Survey', 'Inland Survey'];
  expect(taken('Ferrand Coast Survey', (words) => takeCorps(words, known, false))).toBe('Coast Survey: Coast Survey');
});

test.each([
  ['Ferrand Oakhaven', 'Oakhaven: Oakhaven'],
  ['Ferrand of Oakhaven', 'Oakhaven: of Oakhaven'],
  ['J. Oakhaven', '-: '],
  ['Oakhaven', '-: '],
  ['Holt / Oakhaven', 'Oakhaven: Oakhaven'],
])('takeKnownPlace: %s', (text, expected) =>
  expect(taken(text, (words) => takeKnownPlace(words, ['Oakhaven', 'Holt']))).toBe(expected),
);

test.each([
  ['of Oakhaven in Fenshire', 'Oakhaven: of Oakhaven'],
  ['Oakhaven', '-: '],
])('takeSeat: %s', (text, expected) => expect(taken(text, (words) => takeSeat(words, 0, []))).toBe(expected));

test.each([
  ['Ashby upon Marsh', 'Ashby upon Marsh: Ashby upon Marsh'],
  ['at Ashby', 'Ashby: at Ashby'],
  ['maker', '-: '],
  ['Royal Artillery', '-: '],
  ['One Two Three Four Five', '-: '],
])('takePlace: %s', (text, expected) => expect(taken(text, (words) => takePlace(words, 0, []))).toBe(expected));

test('takeNumbers: numbers that belong to nothing', () => {
  const take = (words: ReturnType<typeof markText>['words']): undefined => {
    takeNumbers(words);
    return undefined;
  };
  expect(taken('No. 4 Ferrand 12', take)).toBe('-: No. 4 12');
});
