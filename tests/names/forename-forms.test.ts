import { expect, test } from 'vitest';
import data from '../../src/names/forename-forms.json' with { type: 'json' };
import { isShortForename, meantForenames, shortForms } from '../../src/names/forename-forms.ts';

test.each<[word: string, names: string[]]>([
  ['wm', ['wm', 'william']],
  ['jos', ['jos', 'joseph', 'josiah']],
  ['gulielmus', ['gulielmus', 'william']],
  ['phillip', ['philip']],
  ['lawr', ['lawr', 'laurence']],
  ['julian', ['julian']],
  ['tostring', ['tostring']],
])('meantForenames: %s', (word, names) => expect(meantForenames(word)).toEqual(names));

test('shortForms: the way back', () => {
  expect(shortForms('john')).toEqual(expect.arrayContaining(['jno', 'jn']));
  expect(shortForms('ferrand')).toEqual([]);
  expect(isShortForename('jno')).toBe(true);
  expect(isShortForename('john')).toBe(false);
});

test('forename forms: folded, and a shortening begins as its name does or is a known contraction', () => {
  for (const word of [...Object.keys(data.short), ...Object.keys(data.latin), ...Object.keys(data.spelt)])
    expect(word).toMatch(/^[a-z]+$/);
  const exceptions = ['xpher', 'xtopher', 'xtian'];
  for (const [short, names] of Object.entries(data.short))
    for (const name of names)
      if (!exceptions.includes(short)) expect(`${short} ${name[0]}`).toBe(`${short} ${short[0]}`);
});
