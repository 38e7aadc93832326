import { expect, test } from 'vitest';
import { ordinalAt } from '../../src/services/ordinals.ts';

test.each([
  ['(1) a figure', ['2'], 2],
  ['(1) a figure with an ending', ['2nd'], 2],
  ['(1) the short ending', ['3d'], 3],
  ['(2) a name', ['second'], 2],
  ['(2) a name of the teens', ['nineteenth'], 19],
  ['(2) a ten', ['fortieth'], 40],
  ['(2) two words', ['twenty', 'second'], 22],
  ['(2) two words in one', ['eightyfirst'], 81],
  ['(3) Roman', ['ii'], 2],
  ['(3) Roman with an ending', ['iind'], 2],
  ['(3) Roman, subtracting', ['xlix'], 49],
  ['(3) a single sign with an ending', ['vth'], 5],
])('ordinalAt: %s', (_rule, words, value) =>
  expect(ordinalAt(words, 0, false)).toEqual({ value, words: words.length }),
);

test.each([
  ['a single Roman sign may be an initial', ['v']],
  ['a word', ['fencibles']],
  ['a ten alone', ['twenty', 'men']],
  ['Roman figures badly written', ['iix']],
  ['a word of Roman signs', ['civil']],
  ['no word', []],
])('no ordinal: %s', (_rule, words) => expect(ordinalAt(words, 0, false)).toBeUndefined());

test('a single Roman sign where it stands alone', () =>
  expect(ordinalAt(['v'], 0, true)).toEqual({ value: 5, words: 1 }));

test('every Roman figure up to 99 is read', () => {
  const tens = ['', 'x', 'xx', 'xxx', 'xl', 'l', 'lx', 'lxx', 'lxxx', 'xc'];
  const units = ['', 'i', 'ii', 'iii', 'iv', 'v', 'vi', 'vii', 'viii', 'ix'];
  for (let value = 1; value < 100; value++) {
    const figures = `${tens[Math.floor(value / 10)]}${units[value % 10]}`;
    expect(ordinalAt([figures], 0, true)?.value).toBe(value);
  }
});
