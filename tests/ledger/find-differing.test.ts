import { expect, test } from 'vitest';
import { dictionary } from '../../src/ledger/dictionary.ts';
import type { EntryColumns } from '../../src/ledger/entry-bulk.ts';
import { knownEntries } from '../../src/ledger/entry-bulk.ts';
import { differingRows } from '../../src/ledger/find-differing.ts';
import { addTo, type Line, listOf } from '../inquiry/made-up-ledger.ts';
import { inOneAct, newLedger } from './new-ledger.ts';

type Row = { name: string; rank?: string; corps?: string; page?: string; person?: number };

/** What the rows of a file are to a ledger that has these lines in its edition of 1834: the field in which each differs. */
function differ(recorded: readonly Row[], file: readonly Row[]): (string | undefined)[] {
  const db = newLedger();
  const people: Line[] = [1, 2].map((number) => ({ type: 'person', key: `p${number}`, name: `Somebody ${number}` }));
  addTo(db, [
    ...listOf(1834),
    ...people,
    ...recorded.map(
      ({ person, ...row }): Line => ({
        type: 'entry',
        edition: 'al-1834',
        rank: 'Captain',
        ...row,
        ...(person ? { person: `p${person}` } : {}),
      }),
    ),
  ]);
  const { result } = inOneAct(db, (into) => {
    const words = dictionary(db, into.act);
    const column = (of: (row: Row) => number): Int32Array => Int32Array.from(file, of);
    const pages: (string | number | null)[] = [null];
    const columns: EntryColumns = {
      count: file.length,
      surname: column(({ name }) => words.name(name).surnameId),
      edition: column(() => 1),
      name: column(({ name }) => words.name(name).id),
      rank: column(({ rank }) => words.rank('army', rank ?? 'Captain').id),
      corps: column(({ corps }) => (corps === undefined ? 0 : words.corps(corps))),
      dated: column(() => 0),
      page: column(({ page }) => (page === undefined ? 0 : pages.push(Number(page)) - 1)),
      pages,
      person: column(({ person }) => person ?? 0),
      appointment: column(() => 0),
      appointments: [null],
    };
    into.act.flush();
    const known = knownEntries(db, columns, new Set([1]));
    const found = differingRows(db, columns, known, new Set([1]));
    return file.map((_, row) => (known[row] === 1 ? 'known' : found.find((each) => each.row === row)?.field));
  });
  db.close();
  return result;
}

const holt: Row = { name: 'R. Holt', corps: '2nd Fencibles', page: '213' };
test.each<[rule: string, recorded: Row[], file: Row[], expected: (string | undefined)[]]>([
  ['the same line', [holt], [holt], ['known']],
  ['another page', [holt], [{ ...holt, page: '214' }], ['page']],
  ['another corps', [holt], [{ ...holt, corps: 'Beacon Corps' }], ['corps']],
  ['another rank', [holt], [{ ...holt, rank: 'Major' }], ['rank']],
  ['a page where there was none', [{ ...holt, page: undefined }].map(({ page: _, ...row }) => row), [holt], ['page']],
  ['two things: somebody else of the name', [holt], [{ ...holt, rank: 'Major', page: '214' }], [undefined]],
  ['beside the same line: another man', [holt], [holt, { ...holt, page: '214' }], ['known', undefined]],
  [
    'each recorded line answers for one',
    [holt],
    [
      { ...holt, page: '214' },
      { ...holt, page: '215' },
    ],
    ['page', undefined],
  ],
  ['another name of the same person', [{ ...holt, person: 1 }], [{ ...holt, name: 'Ralph Holt', person: 1 }], ['name']],
  ['another name of nobody named', [holt], [{ ...holt, name: 'Ralph Holt' }], [undefined]],
  ['another person', [{ ...holt, person: 1 }], [{ ...holt, page: '214', person: 2 }], [undefined]],
  ['a person found since', [{ ...holt, person: 1 }], [{ ...holt, page: '214' }], ['page']],
])('%s', (_rule, recorded, file, expected) => expect(differ(recorded, file)).toEqual(expected));
