import { copyFileSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';
import { fillLedger, hashOf, writeLines } from './refusals.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  fillLedger(place);
  copyFileSync(place.path('heldby.sqlite'), place.path('filled'));
});
beforeEach(() => copyFileSync(place.path('filled'), place.path('heldby.sqlite')));
afterAll(() => place.remove());

test.each<[what: string, ...words: string[]]>([
  ['a series', 'series', 'add', 'Roll of the Harbours', '--service', 'navy'],
  ['an edition', 'edition', 'add', 's1', '1840', '--as-at', '1840'],
  ['an entry', 'entry', 'add', '1838', '--person', 'p2', '--rank', 'Ensign', '--page', 'xii'],
  ['an entry with a new person', 'entry', 'add', '1838', '--person', 'Matthias Drewe', '--new', '--rank', 'Ensign'],
  ['a nil search', 'search', 'add', '1838', '--person', 'p1', '--not-found'],
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
    '--source',
    'Gazette',
  ],
  ['a person', 'person', 'add', 'Matthias Drewe', '--born', '1790'],
  ['a name', 'person', 'name', 'p1', 'Julian Ferrand-Holt', '--from', '1851'],
  ['two that are one', 'person', 'same', 'p1', 'p3', '--why', 'tried'],
  ['two that are not', 'person', 'differ', 'p1', 'p3', '--why', 'tried'],
  ['kinship', 'kin', 'add', 'p1', 'sibling', 'p3'],
  ['a condition', 'condition', 'add', '--rank', 'Captain', '--at-least', '730'],
  ['an object', 'object', 'add', '216', '--title', 'Telescope'],
  ['a feature', 'feature', 'add', '214', 'hand-filed screws', '--window', '../1850'],
  ['a mark', 'mark', 'add', '214', 'J. HOLT', '--role', 'owner', '--over', 'm3'],
  ['a reading', 'reading', 'add', 'm1', 'Lieut. J. Ferrond'],
  ['a conclusion', 'attribute', 'm1', 'p1', '--why', 'tried'],
  ['a service', 'service', 'add', 'lighthouses'],
  ['a rank', 'rank', 'add', 'lighthouses', 'Keeper', '--order', '1'],
  ['a corps', 'corps', 'add', '4th Fencibles'],
  ['an assumption', 'assume', 'circa', '10', '--why', 'tried'],
  ['a correction', 'amend', 'e1', 'page', '214', '--why', 'tried'],
  ['a withdrawal', 'withdraw', 'm2', '--why', 'tried'],
  ['a setting aside', 'set-aside', 'e1', '--why', 'tried'],
  ['an undo', 'undo'],
])('--dry-run says what would be recorded, and then it is: %s', (_what, ...words) => {
  const before = hashOf(place.path('heldby.sqlite'));
  const tried = place.json(...words, '--dry-run');
  expect(tried).toMatchObject({ dryRun: true });
  expect(hashOf(place.path('heldby.sqlite'))).toBe(before);
  expect(place.json(...words)).toEqual({ id: tried.id, act: 2 });
});

test('--dry-run in words', () => {
  const before = hashOf(place.path('heldby.sqlite'));
  const said = place.run('person', 'add', 'Matthias Drewe', '--dry-run');
  expect([said.status, said.out]).toEqual([0, 'Would be recorded as p4\n']);
  expect(hashOf(place.path('heldby.sqlite'))).toBe(before);
});

test('--dry-run of what cannot be is refused like the thing itself', () => {
  const words = ['person', 'add', 'Anne Holt', '--born', 'banana', '--json'];
  expect(place.run(...words, '--dry-run')).toEqual(place.run(...words));
});

test('--dry-run of an import', () => {
  const before = hashOf(place.path('heldby.sqlite'));
  const file = writeLines(place, 'list.csv', [
    'series,edition,as_at,person,name,rank',
    'al,1840,1 Jan. 1840,ferrand,J. P. Ferrand,Captain',
    'New List,1840,1840,drewe,M. Drewe,Ensign',
  ]);
  const said = place.json('import', file, '--dry-run');
  expect(said).toMatchObject({ act: null, dryRun: true, added: { editions: 2, people: 1, entries: 2 }, known: 0 });
  expect(hashOf(place.path('heldby.sqlite'))).toBe(before);
  expect(place.json('import', file)).toMatchObject({ act: 2, added: said.added });
});
