import { expect, test } from 'vitest';
import { sheetAsList } from '../../src/intake/xlsx.ts';
import { type Cell, xlsxFile } from './xlsx-file.ts';

const read = async (sheets: Record<string, Cell[][]>, sheet?: string): Promise<string[]> =>
  (await sheetAsList(xlsxFile(sheets), sheet)).bytes.toString('utf8').split('\n');

test('cells are text: numbers as they are kept, dates as days, quotation marks where a comma stands', async () => {
  expect(
    await read({
      List: [
        ['name', 'page', 'dated', 'note'],
        ['Ferrand, J. "Jack"', 213, '16 May 1833', true],
        ['Zoë Holt', '007', { date: 12_345 }, null],
        [' Quill ', 1.5, { date: 60_000 }, 'two\nlines'],
      ],
    }),
  ).toEqual([
    'name,page,dated,note',
    '"Ferrand, J. ""Jack""",213,16 May 1833,TRUE',
    'Zoë Holt,007,1933-10-18,',
    'Quill,1.5,2064-04-08,two lines',
  ]);
});
test('a row of the sheet is a line of the list, empty ones too, and notes beside it are left out', async () => {
  expect(
    await read({
      List: [
        ['name', 'rank'],
        [null, null],
        ['Holt', 'Captain', 'see the other copy'],
      ],
    }),
  ).toEqual(['name,rank', '', 'Holt,Captain']);
});
test('the first sheet, or the one that is named', async () => {
  const sheets = { One: [['name']], Two: [['rank']] };
  expect(await read(sheets)).toEqual(['name']);
  expect(await read(sheets, 'Two')).toEqual(['rank']);
  expect((await sheetAsList(xlsxFile(sheets), undefined)).others).toEqual(['Two']);
  await expect(sheetAsList(xlsxFile(sheets), 'Three')).rejects.toThrow('The spreadsheet has no sheet "Three".');
});
test('titles above the headers are left out, and what is merged over rows is said of each', async () => {
  const sheet = xlsxFile(
    {
      Cover: [['see the next']],
      'Officers & men': [
        ['Coast Survey, officers', null, null],
        [null, null, null],
        ['name', 'corps', 'page'],
        ['Ferrand', '2nd Fencibles', 213],
        ['Holt', null, 213],
        ['Quill', null, 214],
      ],
    },
    { 'Officers & men': ['A1:C1', 'B4:B5', 'C4:C5'] },
  );
  const { bytes, titles } = await sheetAsList(sheet, 'Officers & men');
  expect(titles).toEqual(['Coast Survey, officers']);
  expect(bytes.toString('utf8').split('\n')).toEqual([
    '',
    '',
    'name,corps,page',
    'Ferrand,2nd Fencibles,213',
    'Holt,2nd Fencibles,213',
    'Quill,,214',
  ]);
});
test.each<[what: string, bytes: Buffer, says: string]>([
  ['text', Buffer.from('name,rank\n'), 'The file is no XLSX spreadsheet.'],
  ['the older binary format', Buffer.from('d0cf11e0a1b11ae100', 'hex'), 'of the older kind'],
  ['an archive of something else', Buffer.from('PK\u0003\u0004 and nothing more'), 'cannot be read'],
])('refused: %s', async (_what, bytes, says) => {
  await expect(sheetAsList(bytes, undefined)).rejects.toThrow(says);
});

test('a bare number among days is the day that it counts, and is told', async () => {
  const sheet = await sheetAsList(
    xlsxFile({
      List: [
        ['name', 'dated', 'page'],
        ['Holt', { date: 12_345 }, 213],
        ['Quill', 12_376, 214],
        ['Orly', { date: 12_400 }, 215],
        ['Rudge', 'May 1834', 1834],
      ],
    }),
    undefined,
  );
  expect(sheet.bytes.toString('utf8').split('\n').slice(2)).toEqual([
    'Quill,1933-11-18,214',
    'Orly,1933-12-12,215',
    'Rudge,May 1834,1834',
  ]);
  expect(sheet.days).toEqual([{ line: 3, column: 'dated', number: '12376', day: '1933-11-18' }]);
});
test('one that can be a year is refused, and by what is to be done', async () => {
  const rows: Cell[][] = [['dated'], [{ date: 12_345 }], [1934], [{ date: 12_346 }]];
  await expect(read({ List: rows })).rejects.toMatchObject({
    message: expect.stringMatching(/1934 in line 3 \(1934 would be 1905-04-17\)/),
    hint: expect.stringMatching(/format text/),
  });
});
test('where days are the fewer, a number is left as it is', async () => {
  const rows: Cell[][] = [['page'], [213], [{ date: 12_345 }], [12_346]];
  expect(await read({ List: rows })).toEqual(['page', '213', '1933-10-18', '12346']);
});
