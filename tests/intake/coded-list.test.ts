import { describe, expect, test } from 'vitest';
import { type CodedList, readCodedList } from '../../src/intake/coded-list.ts';
import { LIST_FIELDS, type ListField } from '../../src/intake/list-fields.ts';
import { inPieces } from './byte-source.ts';

const listOf = (text: string, mapping: Partial<Record<ListField, string>> = {}): CodedList =>
  readCodedList(inPieces(Buffer.from(text, 'utf8')), new Map(Object.entries(mapping) as [ListField, string][]));

/** A column as texts again; undefined where the cell is empty, or the list has no such column. */
const column = (list: CodedList, field: ListField): (string | undefined)[] =>
  Array.from({ length: list.count }, (_, row) => {
    const code = list.codes[field]?.[row] ?? -1;
    return code < 0 ? undefined : list.values[field]?.text(code);
  });

describe('headers', () => {
  test.each<[rule: string, header: string]>([
    ['as the fields are called', 'name,as_at'],
    ['in capitals', 'NAME,As_At'],
    ['with spaces or hyphens', ' Name , as-at '],
    ['in quotation marks', '"name","as at"'],
    ['behind a byte order mark', '\ufeffname,as_at'],
  ])('%s', (_rule, header) => {
    const list = listOf(`${header}\nJ. Ferrand,1834\n`);
    expect([column(list, 'name'), column(list, 'as_at')]).toEqual([['J. Ferrand'], ['1834']]);
    expect(list.ignored).toEqual([]);
  });

  test('a mapped one stands for its field, and no more for its own', () => {
    const list = listOf('rank,office,name\nold,Lieut.,J. Ferrand\n', { rank: 'office', note: 'rank' });
    expect([column(list, 'rank'), column(list, 'note')]).toEqual([['Lieut.'], ['old']]);
    expect(list.header).toEqual({ rank: 'office', note: 'rank', name: 'name' });
  });

  test('those that stand for nothing are told', () =>
    expect(listOf('name,colour,rank,weight\nJ. Ferrand,red,Lieut.,1\n').ignored).toEqual(['colour', 'weight']));

  test('every field can be a column', () => {
    const list = listOf(`${LIST_FIELDS.join(',')}\n${LIST_FIELDS.map((field) => `a ${field}`).join(',')}\n`);
    for (const field of LIST_FIELDS) expect(column(list, field)).toEqual([`a ${field}`]);
  });

  test.each<[rule: string, text: string, mapping: Partial<Record<ListField, string>>, where: string, words: RegExp]>([
    ['two that are alike', 'name,rank,name\na,b,c\n', {}, 'line 1, column name', /Two columns/],
    ['two that stand for one field', 'name,Rank,rank\na,b,c\n', {}, 'line 1', /rank/i],
    ['a mapped one that is not there', 'name,rank\na,b\n', { corps: 'unit' }, 'line 1', /"unit"/],
    ['none at all', '', {}, 'line 1', /empty/],
    ['one that is not UTF-8 text', '\ufffd', {}, 'line 1', /UTF-8/],
  ])('refused: %s', (_rule, text, mapping, where, words) => {
    const bytes = text === '\ufffd' ? Buffer.from('name,r\xe4nk\na,b\n', 'latin1') : Buffer.from(text);
    expect(() => readCodedList(inPieces(bytes), new Map(Object.entries(mapping) as [ListField, string][]))).toThrow(
      expect.objectContaining({
        code: 'INPUT_FILE',
        where: expect.stringContaining(where),
        message: expect.stringMatching(words),
      }),
    );
  });
});

describe('rows', () => {
  test('cells are trimmed, empty ones are none', () =>
    expect(column(listOf('name,rank\n  J. Ferrand\t,\n,   \n"  ",x\n'), 'name')).toEqual([
      'J. Ferrand',
      undefined,
      undefined,
    ]));

  test('a value has one code wherever it stands', () => {
    const list = listOf('name,rank\nA,x\nB,x\nA,y\n"A",x\n');
    expect([...(list.codes.name ?? [])]).toEqual([0, 1, 0, 0]);
    expect([...(list.codes.rank ?? [])]).toEqual([0, 0, 1, 0]);
  });

  test('each knows its line', () => {
    const list = listOf('name,rank\r\nA,x\n\n"B\nb",x\r\nC,x');
    expect([...list.lines]).toEqual([2, 4, 6]);
  });

  test('more of them than the first tables hold', () => {
    const list = listOf(`name,rank\n${Array.from({ length: 10_000 }, (_, i) => `n${i % 5000},r`).join('\n')}\n`);
    expect(list.count).toBe(10_000);
    expect(list.codes.name?.[9_999]).toBe(4_999);
    expect(list.lines.at(9_999)).toBe(10_001);
  });

  test.each<[rule: string, row: string, where: string, hint: RegExp]>([
    ['too few fields', 'A,x', 'line 3, column page', /page/],
    ['too many fields', 'Ferrand, J.,x,3', 'line 3, column 4', /quotation marks/],
  ])('refused: %s', (_rule, row, where, hint) =>
    expect(() => listOf(`name,rank,page\nA,x,1\n${row}\nB,y,2\n`)).toThrow(
      expect.objectContaining({ code: 'INPUT_FILE', where, hint: expect.stringMatching(hint) }),
    ),
  );
});
