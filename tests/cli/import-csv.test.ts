import { copyFileSync, writeFileSync } from 'node:fs';
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
const imported = (lines: readonly string[], ...more: string[]) => place.json('import', csv('list.csv', lines), ...more);
const fields = (id: string) => place.json('show', id).record.fields;
const total = (kind: string): number => place.json('list', kind).total;

describe('a list is recorded', () => {
  test('entries with all that the columns say, in one act', () => {
    const answer = imported([
      HEADER,
      FIRST,
      SECOND,
      'al,1840,1 Jan. 1840,drewe,"Drewe, Matthias",Brevet Major,Beacon Corps,1837,0,brevet,"on leave, ""sick"""',
    ]);
    expect(answer).toMatchObject({ act: 2, added: { editions: 1, people: 1, entries: 3 }, known: 0 });
    expect(fields('e3')).toMatchObject({
      edition: 'ed4',
      person: 'p1',
      name: 'J. P. Ferrand',
      rank: 'Captain',
      corps: '2nd Fencibles',
      dated: '8 Feb. 1839',
      page: '213',
    });
    expect(fields('e4')).toMatchObject({ name: 'R. Holt', rank: 'Ensign', page: 'xii' });
    expect(fields('e4').person).toBeUndefined();
    expect(fields('e5')).toMatchObject({
      person: 'p4',
      surname: 'Drewe',
      forenames: 'Matthias',
      kind: 'brevet',
      page: '0',
    });
    expect(place.json('show', 'drewe').record.fields).toMatchObject({ surname: 'Drewe', forenames: 'Matthias' });
    expect(place.json('verify').findings).toEqual([]);
  });

  test('how a post was held is read from its rank where the column of kinds says nothing', () => {
    imported([
      HEADER,
      FIRST.replace('Captain', 'Bt. Major'),
      FIRST.replace('Captain', 'Bt. Major').replace(/,[^,]*,$/, ',staff,'),
    ]);
    expect([fields('e3').kind, fields('e4').kind]).toEqual(['brevet', 'staff']);
  });

  test('with the note of a line', () => {
    imported([HEADER, `${SECOND}on leave`]);
    expect(fields('e3').note).toBe('on leave');
  });

  test('unknown editions are made, known ones are used, by label or key', () => {
    expect(
      imported([
        HEADER,
        FIRST,
        FIRST.replaceAll('1840', '1838'),
        FIRST.replace('1840,', 'al-1836,').replace('1 Jan. 1840', '1 Jan. 1836'),
      ]).added,
    ).toMatchObject({ editions: 1, entries: 3 });
    expect(place.json('list', 'editions').total).toBe(4);
  });

  test('an unknown series is made, in the service that its ranks are of, and said so', () => {
    const ran = place.run('import', csv('list.csv', [HEADER, FIRST.replace('al,', 'Roll of the Harbours,')]));
    expect([ran.status, ran.err]).toEqual([0, expect.stringContaining('Roll of the Harbours')]);
    expect(place.json('show', 's2').record.fields).toMatchObject({ name: 'Roll of the Harbours', service: 'army' });
  });

  test.each<[rule: string, lines: string[], more: string[]]>([
    [
      '--map says which column is which field',
      ['book,issue,stand,who,title', 'al,1840,1840,J. P. Ferrand,Captain'],
      [
        '--map',
        'series=book',
        '--map',
        'edition=issue',
        '--map',
        'as_at=stand',
        '--map',
        'name=who',
        '--map',
        'rank=title',
      ],
    ],
    [
      '--series names the list where no column does',
      ['edition,as_at,name,rank', '1840,1840,J. P. Ferrand,Captain'],
      ['--series', 'Coast Survey'],
    ],
    [
      'a surname and forenames apart',
      ['series,edition,as_at,surname,forenames,rank', 'al,1840,1840,Ferrand,J. P.,Captain'],
      [],
    ],
    ['a label that is a year stands for its day', ['series,edition,name,rank', 'al,1840,J. P. Ferrand,Captain'], []],
    ['parted by semicolons', ['series;edition;as_at;name;rank', 'al;1840;1840;J. P. Ferrand;Captain'], []],
    ['parted by tabs', ['series\tedition\tas_at\tname\trank', 'al\t1840\t1840\tJ. P. Ferrand\tCaptain'], []],
    [
      'with a byte order mark, CRLF and empty lines',
      ['\ufeffseries,edition,as_at,name,rank\r', '\r', 'al,1840,1840,J. P. Ferrand,Captain\r', ''],
      [],
    ],
  ])('%s', (_rule, lines, more) => {
    expect(imported(lines, ...more).added).toMatchObject({ editions: 1, entries: 1 });
    expect(fields('e3')).toMatchObject({ edition: 'ed4', surname: 'Ferrand', forenames: 'J. P.', rank: 'Captain' });
  });

  test('from standard input, and from a pipe', () => {
    const text = `${HEADER}\n${FIRST}\n`;
    expect(place.with({ input: text }, 'import', '-', '--format', 'csv').status).toBe(0);
    expect(total('entries')).toBe(3);
    const other = text.replaceAll('1840', '1841');
    expect(place.with({ input: other }, 'import', '/dev/stdin', '--format', 'csv')).toMatchObject({ status: 0 });
    expect(total('entries')).toBe(4);
  });

  test('columns that stand for nothing are told', () =>
    expect(
      place.run(
        'import',
        csv('list.csv', ['series,edition,as_at,name,rank,colour', 'al,1840,1840,J. P. Ferrand,Captain,red']),
      ).err,
    ).toContain('colour'));

  test('a long list, and a fault at its end', () => {
    const rows = Array.from(
      { length: 90_000 },
      (_, i) =>
        `al,${1840 + (i % 60)},1 Jan. ${1840 + (i % 60)},q${i},J. Ferrand,Captain,2nd Fencibles of the Northern Harbours and Roads,8 Feb. 1839,${i % 300},,`,
    );
    expect(rows.join('\n').length).toBeGreaterThan(1 << 23);
    const faulty = place.run(
      'import',
      csv('list.csv', [HEADER, ...rows, FIRST.replace('Captain', 'Bellfounder')]),
      '--json',
    );
    expect([faulty.status, errorIn(faulty).where]).toEqual([4, 'line 90002, column rank']);
    expect(hashOf(place.path('heldby.sqlite'))).toBe(hashOf(place.path('filled')));
    expect(imported([HEADER, ...rows])).toMatchObject({ added: { editions: 60, people: 90_000, entries: 90_000 } });
    expect(place.json('import', 'list.csv').act).toBeNull();
  });

  test('names in any writing', () => {
    imported([HEADER, SECOND.replace('R. Holt', 'Zoë Ó Brien 😀'), SECOND.replace('R. Holt', 'Ne\u0301e de la Tour')]);
    expect([fields('e3').name, fields('e4').name]).toEqual(['Zoë Ó Brien 😀', 'N\u00e9e de la Tour']);
  });
});

describe('what is recorded already is not recorded again', () => {
  const LINES = [HEADER, FIRST, SECOND, SECOND];
  const again = (lines: readonly string[], ...more: string[]) => {
    const before = hashOf(place.path('heldby.sqlite'));
    const answer = imported(lines, ...more);
    expect(hashOf(place.path('heldby.sqlite'))).toBe(before);
    return answer;
  };

  test('the same file a second time, and under another name', () => {
    imported(LINES);
    expect(again(LINES)).toMatchObject({ act: null });
    copyFileSync(place.path('list.csv'), place.path('other.csv'));
    expect(place.json('import', 'other.csv').act).toBeNull();
    expect(place.run('import', 'list.csv').out).toMatch(/^Nothing new to record/);
    expect(place.run('import', 'list.csv').out).not.toContain('nothing in it');
    expect(total('entries')).toBe(5);
  });

  test('the same lines in another order, or with other line ends', () => {
    imported(LINES);
    expect(again([HEADER, SECOND, FIRST, SECOND])).toMatchObject({ act: null, known: 3 });
    expect(again([`${HEADER}\r`, `${FIRST}\r`])).toMatchObject({ act: null, known: 1 });
  });

  test('of a longer file only what is new; alike lines are counted', () => {
    imported(LINES);
    expect(imported([...LINES, SECOND, SECOND.replace('xii', 'xiii')])).toMatchObject({
      act: 3,
      known: 3,
      added: { entries: 2, editions: 0, people: 0 },
    });
  });

  test('after an undo it can be imported again, and the undo not taken back', async () => {
    imported(LINES);
    place.json('undo');
    expect(total('entries')).toBe(2);
    expect(imported(LINES)).toMatchObject({ act: 4, added: { editions: 1, entries: 3 } });
    expect(total('editions')).toBe(4);
    await expectRefused(place, ['undo', '3'], { status: 4, code: 'CONFLICT', message: /act 4|ed\d|1840/ });
    expect(total('editions')).toBe(4);
    expect(place.json('verify').findings).toEqual([]);
  });
});
