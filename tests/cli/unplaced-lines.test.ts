import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.run('init');
  place.json('series', 'add', 'Annual list', '--key', 'al', '--service', 'navy');
  writeFileSync(
    place.path('list.csv'),
    'edition,name,rank,dated\n1834,John Tollerby,Lieut.,1830\n1835,John Tollerby,Lieut.,1830\n1835,Henry Tollerby,Commander,1831\n1835,John Rask,Lieut.,1829\n',
  );
});
afterAll(() => place.remove());

const ask = (...more: string[]) =>
  ['candidates', '--text', 'Lieut. J. Toll[..]by', '--between', '1834', '1836', ...more] as const;

test('a list without people says what comes next, and a question what it could not weigh', () => {
  const recorded = place.run('import', 'list.csv', '--series', 'al');
  expect(recorded.err).toContain('4 entries are nobody’s yet');
  expect(recorded.err).toContain('Next: heldby careers');
  const asked = place.json(...ask());
  expect(asked.candidates).toEqual([]);
  // Henry contradicts the initial, Rask is another name.
  expect(asked.unplaced).toEqual({ count: 2, entries: ['e1', 'e2'] });
  const told = place.run(...ask()).out.replaceAll(/\s+/g, ' ');
  expect(told).toContain('2 lines of such a name are nobody’s yet, and not weighed (e1, e2). Put them together');

  place.json('careers', '--accept');
  expect(place.json(...ask()).unplaced.count).toBe(1); // the second year's line is left to the researcher
  writeFileSync(place.path('decided.csv'), 'one,other,decision,why\ne1,e2,same,one date of rank\n');
  place.json('careers', '--decisions', 'decided.csv');
  expect(place.json(...ask()).unplaced).toEqual({ count: 0, entries: [] });
  expect(place.json(...ask()).candidates).toHaveLength(1);

  // Taken from its bearer again, a line is nobody's; an undo makes it somebody's.
  const links: { id: string; fields: { entry: string } }[] = place.json('list', 'links').records;
  const id = links.find(({ fields }) => fields.entry === 'e2')?.id ?? '';
  place.json('amend', id, 'person', '', '--why', 'another man');
  expect(place.json(...ask()).unplaced).toEqual({ count: 1, entries: ['e2'] });
  expect(place.run(...ask()).out.replaceAll(/\s+/g, ' ')).toContain('A line of such a name is nobody’s yet');
  place.json('undo');
  expect(place.json(...ask()).unplaced.count).toBe(0);

  // Also one that was recorded with its bearer; and the ledger as a whole counts as the question does.
  const added = [
    'entry',
    'add',
    '1835',
    '--person',
    'p1',
    '--name',
    'John Tollerby',
    '--rank',
    'Lieut.',
    '--page',
    '9',
  ];
  const entry = place.json(...added).id;
  const before = place.json().unplaced;
  writeFileSync(place.path('off.jsonl'), JSON.stringify({ type: 'link', entry, person: null, why: 'another man' }));
  place.json('import', 'off.jsonl');
  expect(place.json(...ask()).unplaced).toEqual({ count: 1, entries: [entry] });
  expect(place.json().unplaced).toBe(before + 1);
});

test('records say it too, unless the same file says whose an entry is', () => {
  const records = [
    { type: 'edition', series: 'al', key: '1840', label: '1840', asAt: '1840' },
    { type: 'person', key: 'gort', name: 'Amos Gort' },
    { type: 'entry', key: 'one', edition: '1840', name: 'Amos Gort', rank: 'Lieut.' },
    { type: 'entry', key: 'two', edition: '1840', name: 'Silas Gort', rank: 'Lieut.' },
    { type: 'link', entry: 'one', person: 'gort', why: 'alone of the name' },
  ];
  writeFileSync(place.path('more.jsonl'), records.map((each) => JSON.stringify(each)).join('\n'));
  expect(place.json('import', 'more.jsonl', '--dry-run').unplaced).toBe(1);
  expect(place.run('import', 'more.jsonl').err).toContain('One entry is nobody’s yet');
});
