import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

/** Dates that need something known beside their words: where they were written, or on which day. */

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.run('init');
  place.run('series', 'add', 'Coast List', '--service', 'army');
  place.run('edition', 'add', 'Coast List', '1834', '--as-at', '1 Jan. 1834');
});
afterAll(() => place.remove());

const fields = (id: string): Record<string, unknown> => place.json('show', id).record.fields;
const record = (...line: string[]): Record<string, unknown> => fields(String(place.json(...line)['id']));

test('an entry: ult. counts from the day of the paper', () => {
  const line = ['entry', 'add', 'Coast List 1834', '--person', 'Ann Moss', '--new', '--rank', 'Lieut.'];
  const found = record(...line, '--dated', '12th ult.', '--reference', '20 May 1833');
  expect(found).toMatchObject({ dated: '1833-04-12', datedAsPrinted: '12th ult.' });
});

test('without that day it is refused, and the way to give it told', () => {
  const { status, err } = place.run(
    'notice',
    'add',
    '--person',
    'Moss',
    '--event',
    'died',
    '--date',
    '12th ult.',
    '--source',
    'x',
  );
  expect(status).toBe(4);
  expect(err).toContain('--reference');
});

test('a notice, an edition, a person, a name, a mark: the reckoning of the place', () => {
  const notice = ['notice', 'add', '--person', 'Moss', '--event', 'married', '--source', 'register'];
  expect(record(...notice, '--date', '2 Feb. 1708', '--country', 'scotland')).toMatchObject({ date: '1708-02-13' });
  expect(
    record('edition', 'add', 'Coast List', '1708', '--as-at', '25 Mar. 1708', '--country', 'england'),
  ).toMatchObject({
    asAt: '1708-04-05',
    asAtAsPrinted: '25 Mar. 1708',
  });
  expect(record('person', 'add', 'Jane Wood', '--born', '1/2/1780', '--country', 'united states')).toMatchObject({
    born: '1780-01-02',
  });
  expect(
    record('person', 'name', 'Jane Wood', 'Jane Elm', '--from', '1700', '--year-begins', '25 March'),
  ).toMatchObject({
    from: '1700-04-05/1701-04-04',
    fromAsPrinted: '1700',
  });
  place.run('object', 'add', '7', '--title', 'Inkstand');
  expect(
    record('mark', 'add', '7', 'J. Wood', '--role', 'owner', '--made', '3 May 1733', '--calendar', 'julian'),
  ).toMatchObject({
    made: '1733-05-14',
  });
});

test('a correction', () => {
  place.run('amend', 'e1', 'dated', '3d inst.', '--reference', '1833-05', '--why', 'misread');
  expect(fields('e1')).toMatchObject({ dated: '1833-05-03', datedAsPrinted: '3d inst.' });
});

test('a file of records says it line by line, or for all lines; it comes back without', () => {
  const lines = [
    { type: 'notice', key: 'wed', person: 'p1', event: 'other', date: '2 Feb. 1708', country: 'england', source: 'x' },
    { type: 'notice', key: 'late', person: 'p1', event: 'other', date: '2 Feb. 1708', source: 'y' },
  ];
  writeFileSync(join(place.folder, 'n.jsonl'), lines.map((line) => JSON.stringify(line)).join('\n'));
  expect(place.run('import', 'n.jsonl').status).toBe(4);
  const { status, err } = place.run('import', 'n.jsonl', '--country', 'scotland');
  expect(status).toBe(0);
  expect(err).toContain('“2 Feb. 1708” is kept as 13 February 1708 N.S.');
  expect(fields('wed')).toMatchObject({ date: '1709-02-13' });
  expect(fields('late')).toMatchObject({ date: '1708-02-13' });
  expect(place.run('import', 'n.jsonl', '--country', 'scotland').out).toContain('Nothing new');
  const back = place.run('export', '--all', '--format', 'jsonl').out;
  expect(back).toContain('"date":"1709-02-13","dateAsPrinted":"2 Feb. 1708"');
});

test('a list, and lines from the keyboard', () => {
  const rows = ['series,edition,as_at,name,rank,dated', 'Coast List,1710,1 Jan. 1710,J. Fenn,Lieut.,2 Feb. 1708'];
  writeFileSync(join(place.folder, 'l.csv'), rows.join('\n'));
  expect(place.run('import', 'l.csv').status).toBe(4);
  expect(place.run('import', 'l.csv', '--country', 'england').status).toBe(0);
  const typed = place.with(
    { input: 'J. Wood, Lieut., 3 Mar. 1708\n' },
    'entry',
    'take',
    'Coast List 1710',
    '--country',
    'england',
  );
  expect(typed.out).toContain('1709-03-14');
  const again = place.with(
    { input: 'J. Wood, Lieut., 3 Mar. 1708\n' },
    'entry',
    'take',
    'Coast List 1710',
    '--country',
    'england',
  );
  expect(again.out).toContain('known already');
});

test('a country that is not known is refused with those that are', () => {
  const { status, err } = place.run('person', 'add', 'X. Yarrow', '--born', '1708', '--country', 'narnia');
  expect(status).toBe(4);
  expect(err).toContain('Known are');
});

test('an amendment by a line of JSON takes what its field takes, and nothing else', () => {
  const line = (more: object): string =>
    JSON.stringify({ type: 'amendment', record: 'coast-1', why: 'misread', field: 'dated', ...more });
  const entry = { type: 'entry', key: 'coast-1', edition: 'Coast List 1834', name: 'Jas. Vine', rank: 'Capt.' };
  const file = (name: string, ...lines: string[]): string => {
    writeFileSync(join(place.folder, name), [JSON.stringify(entry), ...lines].join('\n'));
    return name;
  };
  place.json('import', file('amended.jsonl', line({ value: '5 Feb. 1739', country: 'england' })));
  expect(fields('coast-1')).toMatchObject({ dated: '1740-02-16', datedAsPrinted: '5 Feb. 1739' });
  expect(place.json('import', 'amended.jsonl')).toMatchObject({ known: 2, new: 0 });
  place.json(
    'import',
    file('printed.jsonl', line({ value: '28 Feb. 1740', asPrinted: '31 Feb. 1740', calendar: 'gregorian' })),
  );
  expect(fields('coast-1')).toMatchObject({ dated: '1740-02-28', datedAsPrinted: '31 Feb. 1740' });
  const refused = place.run('import', file('wrong.jsonl', line({ field: 'page', value: '3', country: 'england' })));
  expect(refused).toMatchObject({ status: 4 });
  expect(refused.err).toContain('An amendment of page has no country.');
  expect(place.run('verify').status).toBe(0);
});

test('a list that writes its dates in its own way says so once', () => {
  expect(place.run('series', 'add', 'Old', '--service', 'army', '--country', 'engeland')).toMatchObject({ status: 4 });
  place.json('series', 'add', 'Old List', '--service', 'army', '--country', 'england');
  const entry = ['entry', 'add', 'Old List 1708', '--person', 'Amos Pell', '--new', '--rank', 'Lieut.', '--dated'];
  expect(record('edition', 'add', 'Old List', '1708', '--as-at', '20 Feb. 1708')).toMatchObject({ asAt: '1709-03-03' });
  expect(record(...entry, '2 Feb. 1707')).toMatchObject({ dated: '1708-02-13', datedAsPrinted: '2 Feb. 1707' });
  // What is said of the one date stands before it.
  expect(record(...entry, '2 Feb. 1707', '--country', 'scotland')).toMatchObject({ dated: '1707-02-13' });
  expect(record(...entry, '2 Feb. 1707', '--calendar', 'gregorian')).toMatchObject({ dated: '1707-02-02' });
  expect(record(...entry, '2 Feb. 1707', '--year-begins', '1 January')).toMatchObject({ dated: '1707-02-13' });
  // Of the day as at which the edition stands, in its calendar.
  expect(record(...entry, '12th ult.')).toMatchObject({ dated: '1709-01-23', datedAsPrinted: '12th ult.' });
  const [first] = place.json('list', 'entries').records as { id: string }[];
  place.json('amend', String(first?.id), 'page', '3', '--why', 'forgotten');
  writeFileSync(
    join(place.folder, 'old.csv'),
    'series,edition,as_at,name,rank,dated\n' +
      'Old List,1709,3 Feb. 1709,Wm. Holt,Capt.,2 Feb. 1709\n' +
      'Old List,1760,20 May 1760,Wm. Holt,Major,4th inst.\n' +
      'Coast List,1834,1 Jan. 1834,Wm. Bolt,Capt.,4th ult.\n',
  );
  place.json('import', 'old.csv');
  const taken = place.run('export', 'entries', '--format', 'jsonl').out;
  for (const [name, day] of [
    ['Wm. Holt', '1710-02-13'],
    ['Wm. Holt', '1760-05-04'],
    ['Wm. Bolt', '1833-12-04'],
  ])
    expect(taken.split('\n').some((line) => line.includes(String(name)) && line.includes(`"dated":"${day}"`))).toBe(
      true,
    );
});

test('what a ledger with such a list exports reads back to the same days, whenever it was said', () => {
  place.json('amend', 'Coast List', 'country', 'england', '--why', 'printed in London');
  writeFileSync(join(place.folder, 'all.jsonl'), place.run('export', '--all').out);
  writeFileSync(join(place.folder, 'acts.jsonl'), place.run('export', '--all', '--acts').out);
  for (const file of ['all.jsonl', 'acts.jsonl']) {
    const copy = `${file}.sqlite`;
    place.run('init', copy);
    expect(place.run('--ledger', copy, 'import', file)).toMatchObject({ status: 0 });
    expect(place.run('--ledger', copy, 'export', '--all').out).toBe(place.run('export', '--all').out);
  }
});
