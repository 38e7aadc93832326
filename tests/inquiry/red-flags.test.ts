import { describe, expect, test } from 'vitest';
import { mayBeLiving, redFlags } from '../../src/inquiry/red-flags.ts';
import { saidDate } from '../../src/inquiry/report-dates.ts';

const TODAY = '2026-11-25';
const person = (name: string) => ({ id: 'p1', key: null, name });
const lot = (changes: Partial<Parameters<typeof redFlags>[0]> = {}) => ({
  texts: [],
  made: { from: '1830-01-01', to: '1840-12-31' },
  holders: [],
  people: [],
  ...changes,
});
const flags = (changes: Parameters<typeof lot>[0]) => redFlags(lot(changes), TODAY).map(({ flag }) => flag);

describe('1933 to 1945', () => {
  const holder = (from: string, to: string, again = false) => ({ person: person('A'), from, to, again });
  const whole = { flag: 'gap', from: '1933-01-30', to: '1945-05-08' };
  test.each<[rule: string, holders: ReturnType<typeof holder>[], expected: unknown[]]>([
    ['nobody is known to have held it', [], [whole]],
    [
      'one mark, at some time between 1911 and 1960, accounts for no day',
      [holder('1911-01-01', '1960-01-01')],
      [whole],
    ],
    [
      'two marks of one person, before and after',
      [holder('1911-01-01', '1920-01-01'), holder('1950-01-01', '1960-01-01', true)],
      [],
    ],
    [
      'two marks of one person, before and in them',
      [holder('1911-01-01', '1920-01-01'), holder('1940-01-01', '1941-01-01', true)],
      [{ flag: 'gap', from: '1940-01-01', to: '1945-05-08' }],
    ],
    [
      'two marks of one person, both in them',
      [holder('1934-01-01', '1935-01-01'), holder('1940-01-01', '1941-01-01', true)],
      [
        { flag: 'transfer', person: person('A'), from: '1934-01-01', to: '1935-01-01' },
        { flag: 'gap', from: '1933-01-30', to: '1935-01-01' },
        { flag: 'gap', from: '1940-01-01', to: '1945-05-08' },
      ],
    ],
    [
      'somebody’s mark that cannot be older than a day in them',
      [holder('1938-11-01', '1960-01-01')],
      [{ flag: 'transfer', person: person('A'), from: '1938-11-01', to: '1945-05-08' }, whole],
    ],
  ])('%s', (_rule, holders, expected) =>
    expect(redFlags(lot({ holders }), TODAY).filter(({ flag }) => flag === 'gap' || flag === 'transfer')).toEqual(
      expected,
    ),
  );

  test('made after them', () => expect(flags({ made: { from: '1950-01-01', to: '1955-12-31' } })).not.toContain('gap'));
});

describe('protected species', () => {
  test.each<[text: string, expected: boolean]>([
    ['ivory scales', true],
    ['Rosewood, brass gimbals', true],
    ['a whale’s tooth', true],
    ['TORTOISESHELL veneer', true],
    ['leopard skin lining', true],
    ['ivory-coloured paint', false],
    ['vegetable ivory knob', false],
    ['faux tortoiseshell', false],
    ['mahogany, feather banding', false],
    ['Corallian Society', false],
    ['oak', false],
  ])('%s: %s', (text, expected) =>
    expect(flags({ texts: [{ where: 'note', text }] }).includes('species')).toBe(expected),
  );
  test('both the material and where it stands are told', () =>
    expect(redFlags(lot({ texts: [{ where: 'f5', text: 'Ivory knob' }] }), TODAY)).toContainEqual({
      flag: 'species',
      material: 'ivory',
      word: 'Ivory',
      where: 'f5',
    }));
});

describe('who may be living', () => {
  test.each<[rule: string, born: string | null, died: string | null, lastKnown: string | null, living: boolean]>([
    ['1 known to have died', '1990', '2020', '2020-01-01', false],
    ['2 born more than a hundred years ago', '1926-01-01', null, '1950-01-01', false],
    ['3 born less than a hundred years ago', '1927', null, null, true],
    ['3 born about then', '1925/1928', null, null, true],
    ['4 grown up more than ninety years ago', null, null, '1936-01-01', false],
    ['4 grown up since', null, null, '1940-01-01', true],
    ['4 nothing known', null, null, null, true],
  ])('%s', (_rule, born, died, lastKnown, living) =>
    expect(mayBeLiving({ born: saidDate(born), died: saidDate(died), lastKnown }, TODAY)).toBe(living),
  );
});

test('the age for rules on export', () => {
  expect(flags({})).toContain('export');
  expect(flags({ made: { from: '1990-01-01', to: '1991-12-31' } })).toEqual([]);
});
