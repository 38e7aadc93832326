import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';
import { expectRefusalInWords } from './refusals.ts';

let place: Place;
beforeEach(() => {
  place = makePlace();
  place.json('init');
  place.json('series', 'add', 'Annual List of the Coast Survey', '--service', 'army', '--lag', '60');
  for (const year of ['1834', '1836', '1838'])
    place.json('edition', 'add', 'Coast Survey', year, '--as-at', `1 Jan. ${year}`);
});
afterEach(() => place.remove());

const ferrand = (...more: string[]) =>
  place.json(
    'entry',
    'add',
    '1834',
    '--person',
    'Julian Peter Ferrand',
    '--rank',
    'Lieut.',
    '--corps',
    '2nd Fencibles',
    ...more,
  );

describe('recording prints the new id and act', () => {
  test('as JSON', () => expect(ferrand('--new')).toEqual({ id: 'e1', act: 5 }));
  test('in words, the id last', () => {
    const { out } = place.run(
      'person',
      'add',
      'Anne Ferrand',
      '--born',
      '1790',
      '--place',
      'Oakhaven',
      '--place',
      'Sandwell',
    );
    expect(out).toBe('Recorded in act 5: p1\n');
  });
  test('--dry-run records nothing', () => {
    expect(place.json('person', 'add', 'Anne Ferrand', '--dry-run')).toEqual({ dryRun: true, id: 'p1' });
    expect(place.json('list', 'people').total).toBe(0);
    expect(place.json('history').acts).toHaveLength(4);
  });
});

describe('corrections add acts and lose nothing', () => {
  test('amend, history, undo', () => {
    ferrand('--new', '--page', '213');
    expect(place.json('amend', 'e1', 'page', '214', '--why', 'misread')).toEqual({ id: 'e1', act: 6 });
    expect(place.json('show', 'e1').record.fields.page).toBe('214');
    expect(place.json('history', 'e1').acts.map(({ id }: { id: number }) => id)).toEqual([6, 5]);
    expect(place.json('show', 'e1', '--as-of', '5').record.fields.page).toBe('213');
    place.json('undo');
    expect(place.json('show', 'e1').record.fields.page).toBe('213');
    place.json('undo', '7');
    expect(place.json('show', 'e1').record.fields.page).toBe('214');
  });

  test('a person’s name, by which they are found', () => {
    const { id } = place.json('person', 'add', 'Julian Ferand');
    place.json('amend', id, 'name', 'Julian Peter Ferrand', '--why', 'the page has two r');
    expect(place.json('show', 'Julian Peter Ferrand').record.id).toBe(id);
    expect(place.run('show', 'Julian Ferand').status).toBe(3);
  });

  test('withdraw takes a record out of what is current, unless others rest on it', () => {
    ferrand('--new');
    const refused = place.run('withdraw', 'p1', '--why', 'wrong man');
    expect(refused.status).toBe(4);
    expect(refused.err).toContain('e1');
    place.json('withdraw', 'e1', '--why', 'wrong volume');
    expect(place.json('list', 'entries').total).toBe(0);
    place.json('withdraw', 'p1', '--why', 'wrong man');
    expect(place.json('history').acts).toHaveLength(7);
  });

  test('an act on which later ones rest is not undone', () => {
    ferrand('--new');
    place.json('notice', 'add', '--person', 'p1', '--event', 'died', '--date', '1850', '--source', 'Gazette');
    const refused = place.run('undo', '5');
    expect(refused.status).toBe(4);
    expect(refused.err).toContain('rest on act 5');
    expect(place.json('undo').act).toBe(7);
    expect(place.json('undo').act).toBe(8);
    expect(place.json('list', 'people').total).toBe(0);
  });

  test('a correction without a reason is refused', () => {
    ferrand('--new');
    expect(place.run('amend', 'e1', 'page', '3').status).toBe(4);
  });
});

describe('every kind of record can be recorded from the command line', () => {
  test.each<[what: string, ...words: string[]]>([
    ['a name', 'person', 'name', 'p1', 'Julian Ferrand-Holt', '--from', '1851'],
    ['two that are one', 'person', 'same', 'p1', 'p2', '--why', 'same seniority'],
    ['two that are not', 'person', 'differ', 'p1', 'p2', '--why', 'both in one list'],
    ['kinship', 'kin', 'add', 'p1', 'parent', 'p2'],
    ['a nil search', 'search', 'add', '1838', '--person', 'p1', '--not-found'],
    ['a sweep', 'search', 'add', '1836', '--surname', 'Ferrand', '--all-taken', '--found', '1'],
    [
      'a notice',
      'notice',
      'add',
      '--person',
      'p1',
      '--event',
      'promoted',
      '--date',
      '8 Feb. 1837',
      '--rank',
      'Captain',
      '--vice',
      'p2',
      '--source',
      'Gazette',
    ],
    ['a condition', 'condition', 'add', '--rank', 'Captain', '--at-least', '730'],
    ['a feature', 'feature', 'add', '214', 'hand-filed screws', '--window', '../1850'],
    ['a mark over another', 'mark', 'add', '214', 'J. HOLT', '--role', 'owner', '--over', 'm1'],
    ['a reading', 'reading', 'add', 'm1', 'Lieut. J. Ferrond', '--by', 'second reader'],
    ['an attribution', 'attribute', 'm1', 'p1', '--grade', 'probably', '--why', 'the only one'],
    ['an assumption', 'assume', 'circa', '10', '--why', 'house rule'],
    ['an assumption for one rank', 'assume', 'in-post.captain', '320', '--why', 'counted'],
    ['a setting aside', 'set-aside', 'e1', '--why', 'slid a line'],
    ['a service', 'service', 'add', 'lighthouses'],
    ['a rank', 'rank', 'add', 'lighthouses', 'Principal Keeper', '--order', '20', '--abbreviation', 'Princ. Kpr.'],
    ['a corps', 'corps', 'add', '4th Fencibles'],
  ])('%s', (_what, ...words) => {
    ferrand('--new');
    place.json('person', 'add', 'Anne Holt');
    place.json('object', 'add', '214', '--title', 'Brass-bound writing slope');
    place.json('mark', 'add', '214', 'Lieut. J. Ferr[..]d', '--role', 'owner', '--technique', 'ink');
    const { id } = place.json(...words);
    expect(place.json('show', id).record.id).toBe(id);
    expect(place.run('show', id).status).toBe(0);
    expect(place.json('verify').findings).toEqual([]);
  });
});

test('the ledger that was left is one file, and a backup is the same', () => {
  ferrand('--new');
  place.json('backup', 'copy.sqlite');
  const entries = (file: string) => place.json('list', 'entries', '--ledger', file);
  expect(entries('copy.sqlite')).toEqual(entries('heldby.sqlite'));
  expect(place.run('backup', 'copy.sqlite').status).toBe(4);
});

test('a changed row is found by verify', async () => {
  ferrand('--new', '--page', '213');
  const { default: Database } = await import('better-sqlite3');
  const db = new Database(place.path('heldby.sqlite'));
  db.exec('DROP TRIGGER entry_fixed; UPDATE entry SET page = 9');
  db.close();
  const ran = place.run('verify', '--json');
  expect(ran.status).toBe(5);
  expect(JSON.parse(ran.out).findings).toEqual([
    { what: 'tables, views or triggers are other than heldby made: trigger entry_fixed', where: 'the file' },
    { what: 'the rows of the act are not those that were sealed', where: 'act 5' },
    { what: 'is not as it was recorded, act 5', where: 'e1' },
  ]);
  expect(place.run('list', 'entries'), 'nothing else reads it').toMatchObject({ status: 5 });
});

test.each([
  ['a table', 'CREATE TABLE notes (x)', 'table notes'],
  ['a virtual table', 'CREATE VIRTUAL TABLE v USING fts5(x)', 'table v'],
  [
    'a column that is worked out',
    'ALTER TABLE act ADD COLUMN g TEXT GENERATED ALWAYS AS (hex(why)) VIRTUAL',
    'table act',
  ],
  ['an index on an expression', 'CREATE INDEX evil ON act (hex(why))', 'index evil'],
  ['another view', 'DROP VIEW current_person; CREATE VIEW current_person AS SELECT 1 AS row', 'view current_person'],
])('nothing that somebody else put into a ledger is read by verify: %s', async (_what, sql, named) => {
  const { default: Database } = await import('better-sqlite3');
  const db = new Database(place.path('heldby.sqlite'));
  db.exec(sql);
  db.close();
  const ran = place.run('verify', '--json');
  expect([ran.status, JSON.parse(ran.out).findings]).toEqual([
    5,
    [{ what: expect.stringContaining(named), where: 'the file' }],
  ]);
  expect(JSON.parse(ran.out).findings[0].what).toMatch(/its rows were not looked at$/);
  expect(place.run('person', 'add', 'Ann Holt')).toMatchObject({ status: 5, out: '' });
});

test('a ledger that gives itself out for a new one is no such', async () => {
  const { default: Database } = await import('better-sqlite3');
  const db = new Database(place.path('heldby.sqlite'));
  db.pragma('user_version = 0');
  db.close();
  expectRefusalInWords(place.run('person', 'add', 'Ann Holt'), { status: 5, message: /other than heldby made/ });
});

test('asking changes no byte of the ledger', () => {
  ferrand('--new');
  const hash = () =>
    createHash('sha256')
      .update(readFileSync(place.path('heldby.sqlite')))
      .digest('hex');
  const before = hash();
  for (const words of [
    ['tenures', 'p1'],
    ['list', 'people'],
    ['show', 'e1'],
    ['history'],
    ['candidates', '--text', 'Lieut. Ferrand'],
    ['assume'],
    ['verify'],
  ])
    expect(place.run(...words).status).toBe(0);
  expect(hash()).toBe(before);
});

test('that two are one person and are not is told when the second of the two is recorded', () => {
  const place = makePlace();
  place.json('init');
  for (const name of ['Ann Holt', 'A. Holt', 'Anne Holt']) place.json('person', 'add', name);
  expect(place.run('person', 'same', 'p1', 'p2').err).toBe('');
  expect(place.run('person', 'differ', 'p2', 'p3').err).toBe('');
  expect(place.run('person', 'same', 'p1', 'p3').err).toContain('Both cannot be true: df1 says that they are two.');
  expect(place.run('withdraw', 'sm2', '--why', 'no').status).toBe(0);
  expect(place.run('person', 'differ', 'p2', 'p1').err).toMatch(
    /they are recorded as one\. .* heldby withdraw df2 --why/,
  );
  place.remove();
});
