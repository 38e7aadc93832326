import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';
import { errorIn, expectRefused, fillLedger, hashOf } from './refusals.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  fillLedger(place);
  copyFileSync(place.path('heldby.sqlite'), place.path('filled'));
});
beforeEach(() => copyFileSync(place.path('filled'), place.path('heldby.sqlite')));
afterAll(() => place.remove());

const HEADER = 'series,edition,as_at,person,name,rank,corps,dated,page,kind,note';
const FIRST = 'al,1840,1 Jan. 1840,ferrand,J. P. Ferrand,Captain,2nd Fencibles,8 Feb. 1839,213,,';
const SECOND = 'al,1840,1 Jan. 1840,,R. Holt,Ensign,,,xii,,';

function csv(name: string, text: string | Buffer | readonly string[]): string {
  writeFileSync(
    place.path(name),
    Array.isArray(text) ? text.map((line) => `${line}\n`).join('') : (text as string | Buffer),
  );
  return name;
}

describe('a list with faults is refused whole, with line, column and what to do', () => {
  const bad = (line: string) => [HEADER, FIRST, line];
  test.each<[what: string, text: readonly string[] | Buffer, where: RegExp, message: RegExp, hint: RegExp]>([
    [
      'an unknown rank',
      bad(SECOND.replace('Ensign', 'Bellfounder')),
      /^line 3, column rank$/,
      /"Bellfounder"/,
      /rank add army/,
    ],
    [
      'a misspelt one',
      bad(SECOND.replace('Ensign', 'Ensing')),
      /^line 3, column rank$/,
      /"Ensing"/,
      /Nearest: Ensign\b/,
    ],
    ['no rank', bad(SECOND.replace('Ensign', '')), /^line 3, column rank$/, /no rank/, /\w/],
    [
      'a day that there is not',
      bad(FIRST.replace('8 Feb. 1839', '31 Feb. 1839')),
      /^line 3, column dated$/,
      /February 1839 has 28 days/,
      /28 February/,
    ],
    [
      'a span that ends before it begins',
      bad(FIRST.replace('8 Feb. 1839', '1839/1830')),
      /^line 3, column dated$/,
      /ends before it begins/,
      /\w/,
    ],
    [
      'an edition as at no day',
      bad(FIRST.replace('1840,1 Jan. 1840', '1841,banana')),
      /^line 3, column as_at$/,
      /banana/,
      /\w/,
    ],
    [
      'a new edition without its day',
      bad(FIRST.replace('1840,1 Jan. 1840', '1841,')),
      /^line 3, column as_at$/,
      /1841/,
      /\w/,
    ],
    [
      'an edition as at two days',
      bad(FIRST.replace('1 Jan. 1840', '1 Feb. 1840')),
      /^line 3, column as_at$/,
      /1840/,
      /\w/,
    ],
    [
      'a known edition as at another day',
      bad(FIRST.replace('1840,1 Jan. 1840', '1838,1839')),
      /^line 3, column as_at$/,
      /another day/,
      /amend ed3 asAt/,
    ],
    ['no edition', bad(FIRST.replace(',1840,', ',,')), /^line 3, column edition$/, /edition/, /\w/],
    ['no series', bad(FIRST.replace('al,', ',')), /^line 3, column series$/, /series/, /--series/],
    ['no name', bad(SECOND.replace('R. Holt', '')), /^line 3, column name$/, /name/, /\w/],
    ['a name without a surname', bad(SECOND.replace('R. Holt', '","')), /^line 3, column name$/, /no surname/, /\w/],
    [
      'no such kind of appointment',
      bad(SECOND.replace('xii,', 'xii,honorary')),
      /^line 3, column kind$/,
      /"honorary"/,
      /brevet/,
    ],
    [
      'a short row',
      bad('al,1840,1 Jan. 1840,,R. Holt,Ensign'),
      /^line 3, column corps$/,
      /6 fields, the header has 11/,
      /corps/,
    ],
    ['a row of one field', bad('R. Holt'), /^line 3, column edition$/, /1 field\b/, /\w/],
    ['a long row', bad(`${FIRST},more`), /^line 3, column 12$/, /12 fields/, /quotation marks/],
    ['two headers alike', [`${HEADER},rank`, `${FIRST},Captain`], /^line 1, column rank$/, /"rank"/, /another name/],
    ['two headers for one field', [`${HEADER},Rank`, `${FIRST},Captain`], /^line 1/, /rank/i, /\w/],
    ['no header for the rank', ['edition,as_at,name', '1840,1840,R. Holt'], /^line 1/, /rank/, /--map rank=COLUMN/],
    ['no header for the name', ['edition,as_at,rank', '1840,1840,Ensign'], /^line 1/, /name/, /--map name=COLUMN/],
    [
      'no header for the list',
      ['edition,as_at,rank,name', '1840,1840,Ensign,R. Holt'],
      /^line 1/,
      /--series/,
      /--map series=COLUMN/,
    ],
    ['an open quotation mark', bad(SECOND.replace('R. Holt', '"R. Holt')), /^line 3/, /never closed/, /\w/],
    [
      'a quotation mark within',
      bad(SECOND.replace('R. Holt', 'R. "Holt')),
      /^line 3/,
      /quotation mark inside/,
      /double/,
    ],
    ['nothing', [], /^line 1/, /empty/, /first line/],
    [
      'Latin-1',
      Buffer.from(`${HEADER}\n${SECOND.replace('R. Holt', 'Raïph Holt')}\n`, 'latin1'),
      /^line 2, column name$/,
      /not UTF-8/,
      /UTF-8/,
    ],
    ['Latin-1 in a header', Buffer.from(`${HEADER},größe\n${SECOND},1\n`, 'latin1'), /^line 1/, /UTF-8/, /UTF-8/],
    [
      'Latin-1 in a column that is not used',
      Buffer.from(`${HEADER},size\n${SECOND},größe\n`, 'latin1'),
      /^line 2, column size$/,
      /UTF-8/,
      /UTF-8/,
    ],
    ['UTF-16', Buffer.from(`\ufeff${HEADER}\n${SECOND}\n`, 'utf16le'), /^line 1/, /not UTF-8/, /UTF-8/],
    [
      'a picture',
      Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13]),
      /^line 1/,
      /not UTF-8/,
      /UTF-8/,
    ],
    [
      'a zero byte far down',
      [HEADER, ...Array(100).fill(SECOND), SECOND.replace('R. Holt', 'R. H\0lt')],
      /^line 102/,
      /\w/,
      /\w/,
    ],
  ])('%s', async (_what, text, where, message, hint) => {
    await expectRefused(place, ['import', csv('list.csv', text)], {
      status: 4,
      code: 'INPUT_FILE',
      message,
      hint,
      where,
    });
  });

  test('one misspelt rank in a list that is not known yet makes no service of its own', () => {
    const file = csv('list.csv', [
      'series,edition,as_at,name,rank',
      ...['Lieut.', 'Captain', 'Ensign', 'Captian'].map((rank) => `New List,1840,1840,R. Holt,${rank}`),
    ]);
    const ran = place.run('import', file, '--json');
    expect([ran.status, ran.out]).toEqual([4, '']);
    expect(errorIn(ran)).toMatchObject({ where: 'line 5, column rank', hint: expect.stringContaining('Captain') });
  });

  test('every fault of the file is named at once', () => {
    const file = csv('list.csv', [
      HEADER,
      SECOND.replace('R. Holt', ''),
      FIRST.replace('Captain', 'Bellfounder'),
      FIRST.replace('8 Feb.', '31 Feb.'),
      FIRST.replace('ferrand,J. P. Ferrand', 'x,'),
    ]);
    const { message } = errorIn(place.run('import', file, '--json'));
    for (const line of ['line 2, column name', 'line 3, column rank', 'line 4, column dated', 'line 5, column name'])
      expect(message).toContain(line);
  });

  test('of very many faults the first are named, and how many there are', () => {
    const file = csv('list.csv', [
      HEADER,
      ...Array.from({ length: 50 }, (_, i) =>
        SECOND.replace('Ensign', `Rank of no kind ${String.fromCharCode(97 + i)}`).replace('1840', '1840'),
      ),
    ]);
    const { message } = errorIn(place.run('import', file, '--json'));
    expect(message).toContain('50 faults');
    expect(message.split('\n').length).toBeLessThan(15);
  });

  test('a fault is said once, in a line that can be read', () => {
    const latin = csv('list.csv', Buffer.from(`${HEADER}\n${SECOND.replace('R. Holt', 'Raïph Holt')}\n`, 'latin1'));
    const { err } = place.run('import', latin);
    expect(err.match(/line 2/gi)).toHaveLength(1);
    expect(err.match(/nothing was recorded/gi)).toHaveLength(1);
    const long = csv('list.csv', [HEADER, SECOND.replace('Ensign', 'Ensign '.repeat(100_000))]);
    expect(place.run('import', long).err.length).toBeLessThan(1000);
  });

  test.each<[what: string, words: string[], status: number, code: string, message: RegExp]>([
    ['a file that is not there', ['import', 'no.csv'], 4, 'INPUT_FILE', /no\.csv/],
    ['a folder', ['import', 'folder.csv'], 4, 'INPUT_FILE', /folder/],
    ['a file of no known kind', ['import', 'list.doc'], 2, 'USAGE', /list\.doc/],
    ['an unknown format', ['import', 'list.csv', '--format', 'pdf'], 2, 'USAGE', /pdf|not clear/],
    ['standard input of no known kind', ['import', '-'], 2, 'USAGE', /-/],
    ['a mapped column that is not there', ['import', 'list.csv', '--map', 'rank=office'], 4, 'INPUT_FILE', /"office"/],
    ['the past', ['import', 'list.csv', '--as-of', '1'], 2, 'USAGE', /past/],
  ])('%s', async (_what, words, status, code, message) => {
    csv('list.csv', [HEADER, FIRST]);
    mkdirSync(place.path('folder.csv'), { recursive: true });
    await expectRefused(place, words, { status, code, message });
  });

  test('a list named beside a file that names its own is not passed over in silence', () => {
    const ran = place.run('import', csv('list.csv', [HEADER, FIRST]), '--series', 'Nowhere');
    expect(ran.err).toMatch(/--series|Nowhere/);
  });

  test('a header alone is nothing new', () => {
    const before = hashOf(place.path('heldby.sqlite'));
    expect(place.run('import', csv('list.csv', [HEADER]))).toMatchObject({
      status: 0,
      out: expect.stringMatching(/^Nothing new to record/),
    });
    expect(hashOf(place.path('heldby.sqlite'))).toBe(before);
  });
});
