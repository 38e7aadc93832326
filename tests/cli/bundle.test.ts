import { appendFileSync, existsSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { SMALL } from '../report/ledgers.ts';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeEach(() => {
  place = makePlace();
  writeFileSync(place.path('small.jsonl'), SMALL.map((line) => JSON.stringify(line)).join('\n'));
  writeFileSync(place.path('flap.jpg'), 'a picture');
  for (const words of [
    ['init'],
    ['import', 'small.jsonl'],
    ['photo', 'add', 'm1', 'flap.jpg'],
    ['init', 'theirs.sqlite'],
  ])
    place.run(...words);
});
afterEach(() => place.remove());

const theirs = (...words: string[]) => place.run('--ledger', 'theirs.sqlite', ...words);

describe('bundle and import', () => {
  test('an object is carried to a colleague with its picture, once', () => {
    const wrote = place.run('bundle', '214', 'slope.jsonl');
    expect(wrote.out).toMatch(/^Wrote slope.jsonl: 1 object, \d+ records in all, and 1 picture in slope.jsonl.photos/);
    expect(theirs('import', 'slope.jsonl', '--dry-run').out).toMatch(/^Would be recorded: slope.jsonl: \d+ new/);
    expect(existsSync(place.path('theirs.sqlite.photos')), 'a dry run copies nothing').toBe(false);
    expect(theirs('import', 'slope.jsonl').out).toMatch(/^Recorded in act 1: slope.jsonl: \d+ new, 0 known/);
    expect(theirs('verify').status).toBe(0);
    expect(theirs('import', 'slope.jsonl').out).toMatch(/^Nothing new to record: slope.jsonl: 0 new, \d+ known/);
    expect(JSON.parse(theirs('history', '--json').out).acts).toHaveLength(1);
    expect(place.run('bundle', '214', 'slope.jsonl')).toMatchObject({ status: 4 });
    expect(place.run('bundle', 'slope.jsonl')).toMatchObject({ status: 2 });
    expect(place.run('bundle', '999', 'x.jsonl')).toMatchObject({ status: 3 });
  });

  test('a bundle or a history is known by its beginning on standard input as well', () => {
    rmSync(place.path('heldby.sqlite.photos'), { recursive: true });
    const input = (name: string) => ({ input: readFileSync(place.path(name)) });
    place.run('bundle', '214', 'slope.jsonl');
    const given = place.with(input('slope.jsonl'), '--ledger', 'theirs.sqlite', 'import', '-');
    expect([given.status, given.out]).toEqual([
      0,
      expect.stringMatching(/^Recorded in act 1: standard input: \d+ new, 0/),
    ]);
    expect(given.err).toContain('The picture flap.jpg does not lie beside the file');
    expect(theirs('import', 'slope.jsonl').out).toMatch(/^Nothing new/);

    writeFileSync(place.path('acts.jsonl'), place.run('export', '--all', '--acts').out);
    place.run('init', 'empty.sqlite');
    const again = place.with(input('acts.jsonl'), '--ledger', 'empty.sqlite', 'import', '-', '--format', 'jsonl');
    expect([again.status, again.out]).toEqual([0, expect.stringMatching(/^Recorded again: 2 acts/)]);
    expect(place.run('--ledger', 'empty.sqlite', 'export', '--all', '--acts').out).toBe(
      readFileSync(place.path('acts.jsonl'), 'utf8'),
    );

    place.run('init', 'other.sqlite');
    const records = place.with(input('small.jsonl'), '--ledger', 'other.sqlite', 'import', '-', '--format', 'jsonl');
    expect(records).toMatchObject({ status: 0, out: expect.stringMatching(/^Recorded in act 1: standard input/) });
    expect(place.with(input('small.jsonl'), 'import', '-')).toMatchObject({ status: 2 });
  });

  test('differences are listed, written to a file, decided there', () => {
    place.run('bundle', '214', 'slope.jsonl');
    theirs('object', 'add', '214', '--title', 'Iron kettle');
    const open = theirs('import', 'slope.jsonl', '--questions', 'ask.csv');
    expect(open.status).toBe(4);
    expect(open.err).toMatch(/One thing has to be decided:\n {2}object 214 is o1, Iron kettle, but title: here/);
    const asked = JSON.parse(theirs('import', 'slope.jsonl', '--json').err).error;
    expect(asked.questions).toMatchObject([{ record: 'object 214', here: 'o1' }]);
    const csv = readFileSync(place.path('ask.csv'), 'utf8');
    writeFileSync(place.path('ask.csv'), csv.replace('object 214,o1,,', 'object 214,o1,other,'));
    expect(theirs('import', 'slope.jsonl', '--decisions', 'ask.csv').status).toBe(0);
    expect(theirs('show', '214-2').out).toContain('Brass-bound writing slope');
    expect(theirs('import', 'slope.jsonl').out).toMatch(/^Nothing new/);
  });

  test('pictures are looked for beside the file, and a wrong one is refused', () => {
    place.run('bundle', '214', 'slope.jsonl');
    renameSync(place.path('slope.jsonl.photos'), place.path('elsewhere'));
    rmSync(place.path('flap.jpg'));
    expect(theirs('import', 'slope.jsonl').err).toContain('The picture flap.jpg does not lie beside the file');
    expect(theirs('verify').status).toBe(5);
    renameSync(place.path('elsewhere'), place.path('slope.jsonl.photos'));
    theirs('import', 'slope.jsonl');
    expect(theirs('verify').status, 'it comes with the next import').toBe(0);
    place.run('init', 'third.sqlite');
    rmSync(place.path('slope.jsonl.photos'), { recursive: true });
    writeFileSync(place.path('flap.jpg'), 'another picture');
    const refused = place.run('--ledger', 'third.sqlite', 'import', 'slope.jsonl');
    expect(refused).toMatchObject({ status: 4 });
    expect(refused.err).toContain('is not the one that was recorded');
  });
});

describe('photo lines', () => {
  test('a line keeps a copy of its picture; what is written reads back with it', () => {
    const lines = [...SMALL, { type: 'photo', key: 'ph1', of: 'm1', file: 'flap.jpg' }];
    writeFileSync(place.path('lines.jsonl'), lines.map((line) => JSON.stringify(line)).join('\n'));
    expect(theirs('import', 'lines.jsonl').status).toBe(0);
    expect(JSON.parse(theirs('show', 'ph1', '--json').out).record.fields).toMatchObject({ bytes: 9 });
    rmSync(place.path('flap.jpg'));
    expect(theirs('verify').status).toBe(0);
    expect(theirs('import', 'lines.jsonl').out, 'also when the picture is gone').toMatch(/^Nothing new/);
    expect(theirs('export', '--all', '--out', 'all.jsonl').out).toContain('all.jsonl.photos');
    place.run('init', 'third.sqlite');
    expect(place.run('--ledger', 'third.sqlite', 'import', 'all.jsonl').status).toBe(0);
    expect(place.run('--ledger', 'third.sqlite', 'verify').status).toBe(0);
  });

  test('a line reaches for nothing outside the folder of its file', () => {
    const secret = makePlace();
    writeFileSync(secret.path('secret.txt'), 'private');
    writeFileSync(place.path('o.jsonl'), '{"type":"object","key":"9","ref":"9","title":"x"}\n');
    for (const [key, file] of [
      ['a', secret.path('secret.txt')],
      ['b', `../${secret.folder.split('/').at(-1)}/secret.txt`],
    ])
      appendFileSync(place.path('o.jsonl'), `${JSON.stringify({ type: 'photo', key, of: '9', file })}\n`);
    const ran = theirs('import', 'o.jsonl');
    expect(ran.status).toBe(0);
    expect(ran.err).toContain('no copy of it is kept');
    expect(existsSync(place.path('theirs.sqlite.photos'))).toBe(false);
    secret.remove();
  });
});

test('two ledgers of one project are brought together', () => {
  place.run('backup', 'copy.sqlite');
  const copy = (...words: string[]) => place.run('--ledger', 'copy.sqlite', ...words);
  place.run('amend', 'e2', 'page', '218', '--why', 'looked again');
  copy('person', 'add', 'Amos Pell');
  copy('amend', 'e2', 'page', '214', '--why', 'looked again');
  copy('export', '--all', '--acts', '--out', 'theirs.jsonl');
  const open = place.run('import', 'theirs.jsonl');
  expect(open).toMatchObject({ status: 4 });
  expect(open.err).toMatch(
    /entry e2 page is e2, .+, and was corrected here too, in act 3: its page is "\d+" here and "\d+" in the file/,
  );
  expect(place.run('import', 'theirs.jsonl', '--differences', 'theirs').out).toMatch(
    /^Recorded: theirs.jsonl: 2 acts \(1 record, 1 correction\); 2 acts of it were here already/,
  );
  expect(place.run('import', 'theirs.jsonl').out).toMatch(/^Nothing new to record/);
  expect(place.run('verify').status).toBe(0);
});
