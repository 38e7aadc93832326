import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { xlsxFile } from '../intake/xlsx-file.ts';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeEach(() => {
  place = makePlace();
  place.json('init');
});
afterEach(() => place.remove());

const HEADER = 'edition,as_at,person,name,rank,corps,page';
const FERRAND = '1834,1834-01-01,f,J. P. Ferrand,Lieut.,2nd Fencibles,213';
const HOLT = '1834,1834-01-01,h,R. Holt,Captain,2nd Fencibles,213';
const file = (name: string, content: string | Buffer): string => {
  writeFileSync(place.path(name), content);
  return name;
};
const list = (name: string, ...lines: string[]): string => file(name, `${[HEADER, ...lines].join('\n')}\n`);
const entries = (): number => place.json('list', 'entries').total;

describe('--accept-good records the good lines and hands back the others', () => {
  const BAD = '1834,1834-01-01,q,I. Quill,Captian,2nd Fencibles,214';
  const SHORT = '1834,1834-01-01,z,Z. Zeal';

  test('in one act, with what is wrong beside each', () => {
    const ran = place.run(
      'import',
      list('a.csv', FERRAND, BAD, HOLT, SHORT, BAD),
      '--series',
      'Roster',
      '--service',
      'army',
      '--accept-good',
      '--rejects',
      'mend.csv',
    );
    expect([ran.status, ran.out]).toEqual([
      6,
      'Recorded in act 1: a.csv: 2 new, 3 to mend (1 edition, 2 people, 2 entries)\n',
    ]);
    const rejects = readFileSync(place.path('mend.csv'), 'utf8').split('\n');
    expect([rejects[0], rejects.length]).toEqual([`${HEADER},fault`, 5]);
    expect(rejects.slice(1, 4).map((line) => line.slice(0, line.indexOf(',"line')))).toEqual([BAD, SHORT, BAD]);
    expect(rejects[1]).toContain('"line 3: rank: ""Captian"" is no rank');
    expect(ran.err).toContain('3 lines to mend: mend.csv');
    expect(place.json('verify').findings).toEqual([]);
  });
  test.each<[what: string, bad: string]>([
    ['a rank that is none', '1834,1834-01-01,,I. Quill,Captian,2nd Fencibles,214'],
    ['no name', '1834,1834-01-01,,,Captain,2nd Fencibles,214'],
    ['no edition', ',,,I. Quill,Captain,2nd Fencibles,214'],
    ['an edition of another day', '1834,1835-01-01,,I. Quill,Captain,2nd Fencibles,214'],
  ])('300 lines with one fault: %s', (_what, bad) => {
    const words = ['--series', 'Roster', '--service', 'army', '--accept-good', '--rejects', 'mend.csv'];
    const lines = [FERRAND, ...Array.from({ length: 300 }, (_, at) => `${bad}${at}`), HOLT];
    const ran = place.run('import', list('a.csv', ...lines), ...words);
    expect([ran.status, ran.out]).toEqual([
      6,
      'Recorded in act 1: a.csv: 2 new, 300 to mend (1 edition, 2 people, 2 entries)\n',
    ]);
    expect(readFileSync(place.path('mend.csv'), 'utf8').split('\n')).toHaveLength(302);
  });
  test('what was mended is imported, and the file itself again: all is known', () => {
    place.run(
      'import',
      list('a.csv', FERRAND, BAD),
      '--series',
      'Roster',
      '--service',
      'army',
      '--accept-good',
      '--rejects',
      'mend.csv',
    );
    const mended = readFileSync(place.path('mend.csv'), 'utf8').replace('Captian', 'Captain');
    expect(place.run('import', file('mend.csv', mended), '--series', 'Roster', '--service', 'army').status).toBe(0);
    const again = place.run(
      'import',
      list('a.csv', FERRAND, BAD.replace('Captian', 'Captain')),
      '--series',
      'Roster',
      '--service',
      'army',
    );
    expect(again.out).toBe('Nothing new to record: a.csv: 2 known\n');
  });
  test('nothing is overwritten, and without a fault nothing is written', () => {
    file('there.csv', 'mine');
    expect(
      place.run(
        'import',
        list('a.csv', BAD),
        '--series',
        'R',
        '--service',
        'army',
        '--accept-good',
        '--rejects',
        'there.csv',
      ).status,
    ).toBe(4);
    expect(readFileSync(place.path('there.csv'), 'utf8')).toBe('mine');
    expect(
      place.run(
        'import',
        list('b.csv', FERRAND),
        '--series',
        'R',
        '--service',
        'army',
        '--accept-good',
        '--rejects',
        'mend.csv',
      ).status,
    ).toBe(0);
    expect(existsSync(place.path('mend.csv'))).toBe(false);
    expect(place.run('import', 'b.csv', '--accept-good').status).toBe(2);
  });
  test('--dry-run says so and leaves nothing', () => {
    const answer = JSON.parse(
      place.run(
        'import',
        list('a.csv', FERRAND, BAD),
        '--series',
        'R',
        '--service',
        'army',
        '--accept-good',
        '--rejects',
        'mend.csv',
        '--dry-run',
        '--json',
      ).out,
    );
    expect([
      answer.act,
      answer.new,
      answer.rejected.map(({ line }: { line: number }) => line),
      existsSync(place.path('mend.csv')),
      entries(),
    ]).toEqual([null, 1, [3], false, 0]);
  });
  test('records in JSON Lines, with those that rest on a bad one', () => {
    const lines = [
      { type: 'person', key: 'f', name: 'J. P. Ferrand' },
      { type: 'object', key: 'o' },
      { type: 'mark', object: 'o', text: 'J. Ferrand', role: 'owner' },
      { type: 'person', key: 'h', name: 'R. Holt' },
    ].map((line) => JSON.stringify(line));
    const answer = JSON.parse(
      place.run(
        'import',
        file('r.jsonl', `${lines.join('\n')}\n`),
        '--accept-good',
        '--rejects',
        'mend.jsonl',
        '--json',
      ).out,
    );
    expect([answer.new, answer.rejected.map(({ line }: { line: number }) => line)]).toEqual([2, [2, 3]]);
    expect(readFileSync(place.path('mend.jsonl'), 'utf8')).toBe(`${lines[1]}\n${lines[2]}\n`);
  });
});

test('what is new, what is known, and what differs in one thing', () => {
  place.json('import', list('a.csv', FERRAND, HOLT), '--series', 'Roster', '--service', 'army');
  const b = list('b.csv', FERRAND, HOLT.replace('213', '214'), '1834,1834-01-01,q,I. Quill,Ensign,,215');
  const left = place.run('import', b, '--series', 'Roster', '--service', 'army', '--leave-differing');
  expect([left.status, left.out]).toEqual([
    6,
    'Recorded in act 2: b.csv: 1 new, 1 known, 1 differs (1 person, 1 entry)\n',
  ]);
  expect(left.err).toContain('Line 3 is not recorded: it differs from e2 in its page, 214 (recorded: 213).');
  expect(entries()).toBe(3);
  const kept = place.run('import', b, '--series', 'Roster', '--service', 'army');
  expect([kept.status, kept.out]).toEqual([0, expect.stringContaining('1 new, 2 known, 1 differs')]);
  expect(kept.err).toContain('Line 3 is recorded, and differs from e2 in its page, 214 (recorded: 213).');
  expect(entries()).toBe(4);
});

describe('--mapping keeps the columns under a name', () => {
  const OTHER = 'list,on,id,who,office\n1834,1834-01-01,f,J. P. Ferrand,Lieut.\n';
  test('given once, used again', () => {
    const map = [
      '--map',
      'edition=list',
      '--map',
      'as_at=on',
      '--map',
      'person=id',
      '--map',
      'name=who',
      '--map',
      'rank=office',
    ];
    expect(
      place.run(
        'import',
        file('a.csv', OTHER),
        ...map,
        '--series',
        'Roster',
        '--service',
        'army',
        '--mapping',
        'roster',
      ).status,
    ).toBe(0);
    expect(place.run('import', file('b.csv', OTHER.replaceAll('1834', '1836')), '--mapping', 'roster').status).toBe(0);
    expect(entries()).toBe(2);
    const unknown = place.run('import', 'a.csv', '--mapping', 'rooster');
    expect([unknown.status, unknown.err]).toEqual([3, expect.stringContaining('There are: roster.')]);
  });
});

describe('columns of other names', () => {
  const ROW = '1834,"Ferrand, J. P.",Lieut.,2nd Fencibles,16 May 1833,213,7';
  const SENT = `Year,Surname & Initials,Rank held,Regt.,Date of rank,Page No.,Shelf\n${ROW}\n`;
  const series = ['--series', 'Roster', '--service', 'army'];

  test('are guessed, and told before and when they are recorded', () => {
    const told =
      /guessed by their headers: "Year" for edition, "Surname & Initials" for name, "Rank held" for rank, "Regt\.".*--mapping NAME/;
    for (const more of [['--dry-run'], []]) {
      const ran = place.run('import', file('a.csv', SENT), ...series, ...more);
      expect([ran.status, ran.err]).toEqual([0, expect.stringMatching(told)]);
      expect(ran.err).toContain('Columns not used: Shelf.');
      expect(entries()).toBe(more.length === 0 ? 1 : 0);
    }
    expect(place.json('show', 'e1').record.fields).toMatchObject({
      surname: 'Ferrand',
      forenames: 'J. P.',
      rank: 'Lieut.',
      corps: '2nd Fencibles',
      dated: '16 May 1833',
      page: '213',
    });
  });

  test('are corrected, also to none, and kept as they were corrected', () => {
    const map = ['--map', 'page=Shelf', '--map', 'corps=', '--mapping', 'sender'];
    const { guessed } = place.json('import', file('a.csv', SENT), ...series, ...map);
    expect(guessed.map(({ field }: { field: string }) => field)).toEqual(['edition', 'name', 'rank', 'dated']);
    const next = place.run('import', file('b.csv', SENT.replaceAll('1834', '1836')), '--mapping', 'sender');
    expect([next.status, next.err]).toEqual([0, expect.not.stringContaining('guessed')]);
    for (const id of ['e1', 'e2']) {
      const { fields } = place.json('show', id).record;
      expect([fields.page, fields.corps]).toEqual(['7', undefined]);
    }
  });

  test('of which two may be one field are refused until it is said which', () => {
    const two = SENT.replace('Shelf', 'Unit');
    const refused = place.run('import', file('a.csv', two), ...series);
    expect([refused.status, refused.err]).toEqual([
      4,
      expect.stringMatching(/"Regt\." and "Unit" may both.*\n.*--map corps=/s),
    ]);
    expect(entries()).toBe(0);
    expect(place.run('import', 'a.csv', ...series, '--map', 'corps=Regt.').status).toBe(0);
  });

  test('of a ship list with the long s are guessed', () => {
    const text = 'Iſſue of,Corrected to,Officer’s Name,Rank,"Ship, &c."\n1811,1 Jan. 1811,"Holt, Jno.",Lieut.,Gannet\n';
    const answer = place.json(
      'import',
      file('ships.csv', text),
      '--series',
      'Sea List',
      '--service',
      'navy',
      '--dry-run',
    );
    expect(answer.guessed.map(({ field }: { field: string }) => field)).toEqual(['edition', 'as_at', 'name', 'corps']);
  });

  test('that can mean several things are not guessed', () => {
    const vague = 'list,date,id,Surname and forenames,office\n1834,1834,1,Ferrand Julian,Lieut.\n';
    const refused = place.run('import', file('a.csv', vague), ...series);
    expect([refused.status, refused.err]).toEqual([4, expect.stringContaining('no column for name')]);
  });

  test('of a spreadsheet are guessed as well', () => {
    const sheet = xlsxFile({
      List: SENT.trim()
        .split('\n')
        .slice(0, 1)
        .map((line) => line.split(','))
        .concat([['1834', 'Ferrand, J. P.', 'Lieut.', '2nd Fencibles', '16 May 1833', '213', '7']]),
    });
    const ran = place.run('import', file('a.xlsx', sheet), ...series);
    expect([ran.status, ran.err]).toEqual([0, expect.stringContaining('"Page No." for page')]);
  });
});

describe('what a file does not say in full', () => {
  const series = ['--series', 'Roster', '--service', 'army'];
  test.each([
    ['a ditto for a name', 'name', FERRAND.replace('J. P. Ferrand', 'do.')],
    ['for a part of one', 'name', FERRAND.replace('J. P. Ferrand', 'do. James')],
    ['for a rank', 'rank', FERRAND.replace('Lieut.', 'Ditto')],
    ['for a corps, as a sign', 'corps', FERRAND.replace('2nd Fencibles', '""""')],
    ['for a corps, as a dash', 'corps', FERRAND.replace('2nd Fencibles', '—')],
    ['for a page', 'page', FERRAND.replace('213', '〃')],
  ])('%s is refused, and can be set aside to be mended', (_what, column, line) => {
    const refused = place.run('import', list('a.csv', HOLT, line), ...series);
    expect([refused.status, refused.err]).toEqual([
      4,
      expect.stringMatching(`Line 3, column ${column}: ".+" stands for what is above it, or for nothing`),
    ]);
    expect(entries()).toBe(0);
    const part = place.run('import', 'a.csv', ...series, '--accept-good', '--rejects', 'mend.csv');
    expect([part.status, entries()]).toEqual([6, 1]);
  });
  test('names that only begin like one are names', () => {
    const names = ['J. do Carmo', 'do Carmo', 'Ditton', 'Idems', 'Dolan'];
    const lines = names.map((name, at) => HOLT.replace('R. Holt', name).replace(',h,', `,k${at},`));
    expect(place.run('import', list('a.csv', ...lines), ...series)).toMatchObject({ status: 0 });
  });
  test.each(['16 May 33', '3/5/33', "'33"])('a year of two figures is refused: %s', (dated) => {
    const content = `${HEADER},dated\n${FERRAND},${dated}\n`;
    const refused = place.run('import', file('a.csv', content), ...series);
    expect([refused.status, refused.err]).toEqual([4, expect.stringMatching(/column dated.*33/s)]);
    expect(entries()).toBe(0);
  });
});

describe('text in other encodings', () => {
  const text = `${HEADER}\n${FERRAND.replace('J. P. Ferrand', 'Jérôme Ferrand')}\n`;
  test.each<[encoding: string, bytes: Buffer]>([
    ['windows-1252', Buffer.from(text, 'latin1')],
    ['utf-16le', Buffer.from(`\ufeff${text}`, 'utf16le')],
  ])('%s: refused with what it looks like, read where it is said', (encoding, bytes) => {
    const refused = place.run('import', file('a.csv', bytes), '--series', 'Roster', '--service', 'army');
    expect([refused.status, refused.err]).toEqual([
      4,
      expect.stringContaining(`import it with --encoding ${encoding}`),
    ]);
    const ran = place.run('import', 'a.csv', '--series', 'Roster', '--service', 'army', '--encoding', encoding);
    expect([ran.status, ran.err]).toEqual([0, expect.stringMatching(/Read as (Windows-1252|UTF-16)\./)]);
    expect(place.json('list', 'people').records[0].called).toBe('Jérôme Ferrand');
    expect(
      place.run('import', 'a.csv', '--series', 'Roster', '--service', 'army', '--encoding', encoding).out,
    ).toContain('is recorded already');
  });
});

describe('a spreadsheet', () => {
  const sheet = xlsxFile({
    List: [
      ['edition', 'as_at', 'person', 'name', 'rank', 'page', 'dated'],
      [1834, '1834-01-01', 'f', 'J. P. Ferrand', 'Lieut.', 213, '16 May 1833'],
      [1834, '1834-01-01', 'h', 'R. Holt', 'Captian', 213, null],
    ],
    Notes: [['nothing']],
  });
  test('is read like a list, faults by its rows', () => {
    const refused = place.run('import', file('a.xlsx', sheet), '--series', 'Roster', '--service', 'army');
    expect([refused.status, refused.err]).toEqual([4, expect.stringContaining('Line 3, column rank')]);
    const ran = place.run(
      'import',
      'a.xlsx',
      '--series',
      'Roster',
      '--service',
      'army',
      '--accept-good',
      '--rejects',
      'mend.csv',
    );
    expect([ran.status, ran.out]).toEqual([
      6,
      'Recorded in act 1: a.xlsx: 1 new, 1 to mend (1 edition, 1 person, 1 entry)\n',
    ]);
    expect(ran.err).toContain('Read the sheet "List"; --sheet NAME reads another: Notes.');
    expect(place.json('show', 'e1').record.fields).toMatchObject({
      name: 'J. P. Ferrand',
      page: '213',
      dated: '16 May 1833',
    });
  });
  test('of another sheet, or none', () => {
    expect(place.run('import', file('a.xlsx', sheet), '--sheet', 'Notes').err).toContain(
      'The file has no column for rank',
    );
    expect(place.run('import', 'a.xlsx', '--sheet', 'Quill').err).toContain('Its sheets: List, Notes.');
    expect(place.run('import', list('a.csv', FERRAND), '--sheet', 'List').status).toBe(2);
  });
});

test('what is worth saying of ranks as they were written is told once for each', () => {
  const ranks = ['Capt. h.p.', 'Capt. h.p.', 'Troop Quartermaster', 'Major'];
  const lines = ranks.map((rank, at) => `1834,1834-01-01,k${at},A. Moss,${rank},2nd Fencibles,213`);
  const { err } = place.run('import', list('ranks.csv', ...lines), '--series', 'Roster', '--service', 'army');
  expect(err.match(/“Capt\. h\.p\.” is taken as half-pay/g)).toHaveLength(1);
  expect(err).toContain(
    '“Troop Quartermaster”: Troop Quartermaster is known in the army ladder until about 1810 only.',
  );
  expect(place.json('show', 'e1').record.fields).toMatchObject({ kind: 'half-pay' });
});

test('a date of rank that looks wrong beside its edition is told, by line', () => {
  const dated = ['16 May 1833', '3 June 1834', '1200', '1830'];
  const lines = dated.map((date, at) => `1834,1834-01-01,k${at},A. Moss,Captain,2nd Fencibles,213,${date}`);
  const name = file('dates.csv', `${HEADER},dated\n${lines.join('\n')}\n`);
  const { err, status } = place.run('import', name, '--series', 'Roster', '--service', 'army');
  expect(err.match(/Line .* looks wrong.*/g)).toEqual([
    'Line 3 looks wrong: it is dated 3 June 1834, after its edition.',
    'Line 4 looks wrong: it is dated 1200, more than 632 years before its edition.',
  ]);
  expect(status).toBe(0);
});

test('of a spreadsheet it is told which sheet was read, also where that one was refused', () => {
  const sheets = xlsxFile({ Cover: [['The list'], ['see the next sheet', 'please']], List: [['rank', 'name']] });
  const { err, status } = place.run('import', file('a.xlsx', sheets));
  expect(status).toBe(4);
  expect(err).toContain('Read the sheet "Cover"; --sheet NAME reads another: List.');
  expect(err).toContain('Left out above the headers: “The list”.');
  expect(JSON.parse(place.run('import', 'a.xlsx', '--json').err).error.code).toBe('INPUT_FILE');
});
