import { expect, test } from 'vitest';
import { titleLines, withoutTitles } from '../../src/intake/title-lines.ts';

test.each<[what: string, head: string, titles: number]>([
  ['headers first', 'edition,name,rank\n1834,J. Holt,Captain\n', 0],
  ['a title of the same width, and an empty line', 'Officers,,\n,,\nedition,name,rank\n1834,J. Holt,Captain\n', 2],
  ['a title by itself', 'Officers of 1834\n\nedition;name;rank\n', 2],
  ['a title in quotation marks', '"Officers, 1834",,\nedition,name,rank\n', 1],
  ['empty lines alone', '\n\nedition,name,rank\n', 0],
  ['one column only', 'name\nJ. Holt\n', 0],
  ['nothing', '', 0],
])('%s', (_what, head, titles) => expect(titleLines(head)).toHaveLength(titles));

test('lines keep their numbers', () =>
  expect(withoutTitles('\ufeffOfficers,,\r\nedition,name,rank\r\n1834,J. Holt,Captain\r\n')).toEqual({
    text: '\nedition,name,rank\n1834,J. Holt,Captain\n',
    titles: ['Officers'],
  }));
