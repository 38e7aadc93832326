import { writeFileSync } from 'node:fs';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeEach(() => {
  place = makePlace();
  place.json('init');
});
afterEach(() => place.remove());

const importing = (name: string, text: string, ...more: string[]) => {
  writeFileSync(place.path(name), text);
  return place.json('import', name, ...more);
};
const importLines = (...records: object[]) =>
  importing('records.jsonl', records.map((record) => JSON.stringify(record)).join('\n'));
const keyOf = (words: string) => place.json('show', words).record.key;
const person = (key: string) => ({ type: 'person', key, surname: `Holt${key.replace(/\d/, '')}`, forenames: 'Ann' });

test('keys that look like ids are the ids of their own records, in whatever order they come', () => {
  importLines(
    { type: 'mark', key: 'm2', object: 'slope', text: 'A. Holt', role: 'owner' },
    { type: 'mark', key: 'm1', object: 'slope', text: 'B. Holt', role: 'owner' },
    { type: 'object', key: 'slope', ref: '214', title: 'Slope' },
    ...['p3', 'p0', 'holt', 'p2', 'p1', 'p7'].map(person),
  );
  for (const key of ['p0', 'p1', 'p2', 'p3', 'p7', 'holt', 'm1', 'm2', 'slope']) expect(keyOf(key), key).toBe(key);
  expect(place.json('show', 'holt').record.id).not.toBe('p0');
  expect(place.run('verify').status).toBe(0);
});

test('people of a list, and of the next one', () => {
  const list = (...people: string[]) =>
    `edition,as_at,person,name,rank\n${people.map((one) => `1834,1834-01-01,${one},"${one}x, Ann",Lieut.`).join('\n')}`;
  importing('one.csv', list('p3', 'p1', 'holt', 'p2'), '--series', 'Coast List', '--service', 'army');
  importing('two.csv', list('p9', 'p2', 'p6'), '--series', 'Coast List');
  for (const key of ['p1', 'p2', 'p3', 'p6', 'p9', 'holt']) expect(keyOf(key), key).toBe(key);
  expect(place.run('verify').status).toBe(0);
});

test('a correction of what is one record by its id and another by its key is refused, with the way to name each', () => {
  importLines(
    { type: 'series', key: 'al', name: 'Coast List', service: 'army' },
    { type: 'edition', key: 'al-1834', series: 'al', label: '1834', asAt: '1834-01-01' },
    { type: 'search', key: 's1', edition: 'al-1834', surname: 'Holt', outcome: 'all taken', found: 1 },
  );
  const refused = place.run('amend', 's1', 'note', 'seen again', '--why', 'tried', '--json');
  expect(refused.status).toBe(3);
  expect(JSON.parse(refused.err).error).toMatchObject({ code: 'AMBIGUOUS', hint: expect.stringContaining('id:q1') });
  expect(place.json('amend', 'id:q1', 'note', 'seen again', '--why', 'tried').id).toBe('q1');
  expect(place.json('amend', 'id:s1', 'lagDays', '60', '--why', 'tried').id).toBe('s1');
});
