import { copyFileSync, mkdirSync, truncateSync, writeFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';
import { errorIn, expectNoTrace, expectRefused, fillLedger, hashOf, type Refusal } from './refusals.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  fillLedger(place);
  copyFileSync(place.path('heldby.sqlite'), place.path('filled'));
});
beforeEach(() => copyFileSync(place.path('filled'), place.path('heldby.sqlite')));
afterAll(() => place.remove());

type Row = [what: string, words: string[], code: string, message: RegExp, more?: Partial<Refusal>];

const refusedWith =
  (status: number) =>
  (_what: string, words: string[], code: string, message: RegExp, more: Partial<Refusal> = {}) =>
    expectRefused(place, words, { status, code, message, ...more });

const entry = (...more: string[]) => ['entry', 'add', '1838', '--person', 'p1', ...more];

describe('a value that cannot be is rejected with 4', () => {
  test.each<Row>([
    [
      'an unknown rank',
      entry('--rank', 'Bellfounder'),
      'RANK',
      /"Bellfounder" is no rank of the service army/,
      { hint: /rank add army/ },
    ],
    [
      'a misspelt rank, with the nearest',
      entry('--rank', 'Captin'),
      'RANK',
      /"Captin"/,
      { hint: /Nearest: Captain\b/ },
    ],
    [
      'a misspelt abbreviation, with the nearest',
      entry('--rank', 'Lietu.'),
      'RANK',
      /"Lietu."/,
      { hint: /Nearest: (?:.*, )?Lieutenant[,.]/ },
    ],
    [
      'a day that there is not',
      entry('--rank', 'Lieut.', '--dated', '31 Feb. 1833'),
      'DATE',
      /February 1833 has 28 days/,
      { hint: /28 February 1833/ },
    ],
    ['no date at all', ['person', 'add', 'Anne Holt', '--born', 'banana'], 'DATE', /banana/, { hint: /16 May 1834/ }],
    [
      'a date that ends before it begins',
      ['feature', 'add', '214', 'screws', '--window', '1850/1840'],
      'DATE',
      /ends before it begins/,
    ],
    [
      'a death before the birth',
      ['person', 'add', 'Anne Holt', '--born', '1850', '--died', '1840'],
      'VALUE',
      /death ends before the birth/,
      { where: /died/ },
    ],
    [
      'a name given up before it was borne',
      ['person', 'name', 'p1', 'Julian Holt', '--from', '1850', '--to', '1840'],
      'VALUE',
      /last day of use lies before the first/,
    ],
    [
      'a corps that ends before it begins',
      ['corps', 'add', '4th Fencibles', '--from', '1850', '--to', '1840'],
      'VALUE',
      /last day of use lies before the first/,
    ],
    [
      'at least more than at most',
      ['condition', 'add', '--rank', 'Captain', '--at-least', '9', '--at-most', '3'],
      'VALUE',
      /At least is more than at most/,
    ],
    ['a condition of nothing', ['condition', 'add', '--rank', 'Captain'], 'VALUE', /at least or at most/],
    ['a mark over itself', ['amend', 'm1', 'over', 'm1', '--why', 'tried'], 'VALUE', /cannot lie over itself/],
    [
      'a mark over itself by way of another',
      ['amend', 'm1', 'over', 'm3', '--why', 'tried'],
      'VALUE',
      /cannot lie over itself/,
    ],
    [
      'a mark over one of another object',
      ['mark', 'add', '214', 'X', '--role', 'owner', '--over', 'm2'],
      'VALUE',
      /on another object/,
    ],
    ['kin to himself', ['kin', 'add', 'p1', 'parent', 'p1'], 'VALUE', /kin to himself/],
    ['no such kinship', ['kin', 'add', 'p1', 'uncle', 'p2'], 'VALUE', /"uncle"/, { hint: /parent, child/ }],
    ['the same as himself', ['person', 'same', 'p1', 'p1'], 'VALUE', /one record already/],
    [
      'no such event',
      ['notice', 'add', '--person', 'p1', '--event', 'sneezed', '--date', '1834', '--source', 'x'],
      'VALUE',
      /"sneezed"/,
      { hint: /promoted/ },
    ],
    [
      'no such kind of appointment',
      entry('--rank', 'Lieut.', '--kind', 'honorary'),
      'VALUE',
      /"honorary"/,
      { hint: /brevet/ },
    ],
    ['no such role', ['mark', 'add', '214', 'X', '--role', 'thief'], 'VALUE', /"thief"/, { hint: /maker/ }],
    ['a feature without a window', ['feature', 'add', '214', 'screws'], 'VALUE', /no window/, { hint: /--window/ }],
    ['no number', ['search', 'add', '1834', '--surname', 'Holt', '--all-taken', '--found', 'many'], 'VALUE', /"many"/],
    ['less than none', ['search', 'add', '1834', '--surname', 'Holt', '--all-taken', '--found', '-1'], 'VALUE', /"-1"/],
    [
      'a nil search for nobody',
      ['search', 'add', '1834', '--surname', 'Holt', '--not-found'],
      'VALUE',
      /names the person/,
    ],
    [
      'a reading whose sign is never closed',
      ['mark', 'add', '214', 'A [', '--role', 'owner'],
      'READING',
      /never closed/,
    ],
    ['a reading that says nothing', ['mark', 'add', '214', '', '--role', 'owner'], 'READING', /says nothing/],
    ['a person without a name', ['person', 'add', ''], 'VALUE', /needs its name/],
    [
      'a rank of a mark that no service has',
      ['mark', 'add', '214', 'Holt', '--role', 'owner', '--rank', 'zzz'],
      'RANK',
      /"zzz" is no rank/,
    ],
    ['the same, by a correction', ['amend', 'm1', 'rank', 'zzz', '--why', 'tried'], 'RANK', /"zzz" is no rank/],
    ['a name as long as a book', ['person', 'add', 'x'.repeat(100_000)], 'VALUE', /100000 signs/],
    ['a year of the far future', ['mark', 'add', '214', 'Holt', '--role', 'owner', '--made', 'Y99999'], 'DATE', /9999/],
    ['a horizon of all time', ['assume', 'horizon', 'Y-17E7/1900', '--why', 'tried'], 'DATE', /0000 to 9999/],
    ['an assumption beyond all days', ['assume', 'circa', '1e20', '--why', 'tried'], 'VALUE', /at most 10000/],
    ['a name without a surname', ['person', 'add', ','], 'VALUE', /no surname/],
    ['an assumption that there is not', ['assume', 'nosuch', '5', '--why', 'tried'], 'VALUE', /"nosuch"/],
    ['an assumption that can have no such value', ['assume', 'circa', 'banana', '--why', 'tried'], 'VALUE', /"banana"/],
    ['a correction without its reason', ['amend', 'e1', 'page', '214'], 'VALUE', /needs its reason/, { hint: /--why/ }],
    [
      'a correction of a field that there is not',
      ['amend', 'e1', 'colour', 'red', '--why', 'tried'],
      'VALUE',
      /no field colour/,
      { hint: /page/ },
    ],
    ['a conclusion without its reason', ['attribute', 'm1', 'p1'], 'VALUE', /needs its reason/, { hint: /--why/ }],
    ['what others rest on', ['withdraw', 'p1', '--why', 'tried'], 'CONFLICT', /e1/, { hint: /first/ }],
    ['an object that there is', ['object', 'add', '214', '--title', 'Another'], 'CONFLICT', /214/],
    [
      'a series that there is',
      ['series', 'add', 'Annual List of the Coast Survey', '--service', 'army'],
      'CONFLICT',
      /Annual List/,
    ],
    ['an edition that there is', ['edition', 'add', 's1', '1834', '--as-at', '1834'], 'CONFLICT', /1834/],
    ['a service that ships with the program', ['service', 'add', 'army'], 'CONFLICT', /army/],
    ['a key that stands for somebody else', ['person', 'add', 'Somebody Else', '--key', 'holt'], 'CONFLICT', /holt/],
    [
      'what the page prints, without what is meant',
      entry('--rank', 'Lieut.', '--as-printed', '31 Feb. 1833'),
      'VALUE',
      /dated|printed/,
    ],
    ['a ledger where there is one', ['init'], 'CONFLICT', /exists already/],
    ['a backup over a file', ['backup', 'heldby.sqlite'], 'CONFLICT', /exists already/],
  ])('%s', refusedWith(4));

  test.each<[option: string, words: string[]]>([
    ['born', ['person', 'add', 'Anne Holt', '--born', '31 Feb. 1834', '--died', '1850']],
    ['died', ['person', 'add', 'Anne Holt', '--born', '1834', '--died', '31 Feb. 1850']],
    ['dated', entry('--rank', 'Lieut.', '--dated', 'banana')],
    ['asAt', ['edition', 'add', 's1', '1840', '--as-at', 'banana']],
    ['born', ['amend', 'p1', 'born', 'banana', '--why', 'tried']],
  ])('a date that is wrong is named by its field: %s', (option, words) =>
    expect(errorIn(place.run(...words, '--json')).where).toMatch(new RegExp(option)),
  );

  test('the same service, and the same rank of it, twice', async () => {
    const own = makePlace();
    own.json('init');
    own.json('service', 'add', 'lighthouses');
    own.json('rank', 'add', 'lighthouses', 'Keeper', '--order', '1');
    await expectRefused(own, ['service', 'add', 'lighthouses'], {
      status: 4,
      code: 'CONFLICT',
      message: /lighthouses/,
    });
    await expectRefused(own, ['rank', 'add', 'lighthouses', 'Keeper', '--order', '1'], {
      status: 4,
      code: 'CONFLICT',
      message: /Keeper/,
    });
    own.remove();
  });
});

describe('a record that there is not, or not one, ends with 3', () => {
  test.each<Row>([
    ['nobody of the name', entry('--rank', 'Lieut.').with(4, 'Nobody'), 'REFERENCE', /"Nobody"/, { hint: /--new/ }],
    [
      'two people of the name, listed',
      entry('--rank', 'Lieut.').with(4, 'Ferrand'),
      'AMBIGUOUS',
      /"Ferrand" fits 2/,
      { hint: /p1 .*\n.*p3 / },
    ],
    ['an edition', ['entry', 'add', '1899', '--person', 'p1', '--rank', 'Lieut.'], 'REFERENCE', /"1899"/],
    [
      'words that fit several editions, listed',
      ['entry', 'add', 'Coast Survey', '--person', 'p1', '--rank', 'Lieut.'],
      'AMBIGUOUS',
      /fits 3 editions/,
      { hint: /ed1 .*\n.*ed2 .*\n.*ed3 / },
    ],
    ['a series', ['edition', 'add', 'Nowhere', '1840', '--as-at', '1840'], 'REFERENCE', /"Nowhere"/],
    ['a mark beneath', ['mark', 'add', '214', 'X', '--role', 'owner', '--over', 'm9'], 'REFERENCE', /"m9"/],
    ['a mark to be read again', ['reading', 'add', 'm9', 'X'], 'REFERENCE', /"m9"/],
    ['a record to be corrected', ['amend', 'm9', 'text', 'X', '--why', 'tried'], 'REFERENCE', /"?m9"?/],
    ['a record to be withdrawn', ['withdraw', 'q9', '--why', 'tried'], 'REFERENCE', /"?q9"?/],
    ['a record to be set aside', ['set-aside', 'zz', '--why', 'tried'], 'REFERENCE', /"zz"/],
    ['an act', ['undo', '99'], 'REFERENCE', /act 99/, { hint: /heldby history/ }],
    ['a person asked for', ['tenures', 'p9'], 'REFERENCE', /"p9"/],
    ['a mark asked for', ['candidates', 'm9'], 'REFERENCE', /"m9"/],
    ['the past after an act that there is not', ['list', 'people', '--as-of', '99'], 'REFERENCE', /act 99/],
    [
      'a ledger',
      ['list', 'people', '--ledger', 'no.sqlite'],
      'NO_LEDGER',
      /no\.sqlite/,
      { hint: /heldby init no\.sqlite/ },
    ],
  ])('%s', refusedWith(3));

  test('a ledger, where there is none in the folder or above', () => {
    const empty = makePlace();
    for (const words of [
      ['list', 'people'],
      ['person', 'add', 'Anne Holt'],
      ['import', 'x.csv'],
    ]) {
      const ran = empty.run(...words, '--json');
      expect([ran.status, errorIn(ran).code, errorIn(ran).hint]).toEqual([
        3,
        'NO_LEDGER',
        expect.stringContaining('heldby init'),
      ]);
    }
    empty.remove();
  });
});

describe('a question that cannot be understood ends with 2', () => {
  test.each<Row>([
    ['no date', ['when', 'banana'], 'DATE', /banana/],
    ['a day that there is not', ['when', '31 Feb. 1834'], 'DATE', /28 days/],
    [
      'a span that ends before it begins',
      ['candidates', '--text', 'Lieut. Ferrand', '--between', '1840', '1830'],
      'USAGE',
      /before/,
    ],
    ['a reading that is not closed', ['candidates', '--text', 'A ['], 'READING', /never closed/],
    ['nothing to look for', ['candidates'], 'USAGE', /which mark, or which words/],
    ['no such kind', ['list', 'peoples'], 'USAGE', /"peoples"/, { hint: /people/ }],
    ['no such field', ['list', 'people', '--where', 'colour=red'], 'USAGE', /colour/],
    ['no number', ['list', 'people', '--limit', 'x'], 'USAGE', /"x"/],
    ['no act', ['list', 'people', '--as-of', 'yesterday'], 'USAGE', /"yesterday"/],
    ['recording in the past', ['person', 'add', 'Anne Holt', '--as-of', '1'], 'USAGE', /past cannot be recorded in/],
    ['a search that says nothing', ['search', 'add', '1834', '--person', 'p1'], 'USAGE', /what came of the search/],
  ])('%s', refusedWith(2));
});

describe('what is no ledger ends with 5, and is left as it was', () => {
  const changed = (name: string, change: (file: string) => void): string => {
    copyFileSync(place.path('heldby.sqlite'), place.path(name));
    change(place.path(name));
    return name;
  };
  const pragma = (words: string) => (file: string) => {
    const db = new Database(file);
    db.pragma(words);
    db.close();
  };
  test.each<[what: string, code: string, message: RegExp, make: () => string]>([
    [
      'a text file',
      'LEDGER_DAMAGED',
      /no SQLite file/,
      () => changed('text', (file) => writeFileSync(file, 'name,rank\n')),
    ],
    ['an empty file', 'LEDGER_DAMAGED', /no SQLite file/, () => changed('empty', (file) => writeFileSync(file, ''))],
    [
      'a file of another program',
      'LEDGER_DAMAGED',
      /not a ledger of heldby/,
      () => changed('other', pragma('application_id = 1')),
    ],
    [
      'a ledger of a newer program',
      'LEDGER_NEWER',
      /newer heldby/,
      () => changed('newer', pragma('user_version = 99')),
    ],
    [
      'a ledger that was cut off',
      'LEDGER_DAMAGED',
      /damaged/,
      () => changed('short', (file) => truncateSync(file, 40_000)),
    ],
  ])('%s', (_what, code, message, make) => {
    const name = make();
    const before = hashOf(place.path(name));
    for (const words of [['list', 'people'], ['person', 'add', 'Anne Holt'], ['verify']]) {
      const ran = place.run(...words, '--ledger', name, '--json');
      expectNoTrace(ran);
      expect([ran.status, ran.out]).toEqual([5, '']);
      expect(errorIn(ran)).toMatchObject({ code, message: expect.stringMatching(message) });
    }
    expect(hashOf(place.path(name))).toBe(before);
  });

  test('a folder', () => {
    mkdirSync(place.path('folder.sqlite'));
    const ran = place.run('list', 'people', '--ledger', 'folder.sqlite', '--json');
    expect([ran.status, errorIn(ran).code]).toEqual([5, 'LEDGER_DAMAGED']);
  });
});

describe('a trace is shown to those who ask for it, and to nobody else', () => {
  const broken = () => {
    copyFileSync(place.path('heldby.sqlite'), place.path('broken.sqlite'));
    const db = new Database(place.path('broken.sqlite'));
    // An edition that is not there: nothing of heldby's writes such an entry, and no question expects it.
    db.exec(`INSERT INTO entry (surname_id, edition_id, row, act_id, name_id, rank_id, person_id)
      SELECT surname_id, 9999, row + 9999, act_id, name_id, rank_id, 1 FROM entry LIMIT 1`);
    db.exec('INSERT OR IGNORE INTO bearer_surname (person_id, surname_id) SELECT person_id, surname_id FROM entry');
    db.close();
    return ['tenures', 'p1', '--ledger', 'broken.sqlite'];
  };
  test('an unforeseen failure', () => {
    const words = broken();
    const quiet = place.run(...words);
    expect(quiet.status).not.toBe(0);
    expect(quiet.err).not.toMatch(/^\s+at /m);
    expect(quiet.err).toContain('HELDBY_DEBUG=1');
    const loud = place.with({ env: { HELDBY_DEBUG: '1' } }, ...words);
    expect([loud.status, loud.err]).toEqual([quiet.status, expect.stringMatching(/^\s+at /m)]);
    expect(errorIn(place.with({ env: { HELDBY_DEBUG: '1' } }, ...words, '--json')).message).toMatch(/\n\s+at /);
  });
  test('a failure that the user can put right has none', () =>
    expectNoTrace(place.with({ env: { HELDBY_DEBUG: '1' } }, 'person', 'add', 'Anne Holt', '--born', 'banana')));
});

test('an error in JSON has every field of the contract, null where there is no place to name', () => {
  const { error } = JSON.parse(place.run('tenures', 'Nobody', '--json').err);
  expect(Object.keys(error)).toEqual(['code', 'message', 'hint', 'where']);
  expect(error.where).toBeNull();
});
