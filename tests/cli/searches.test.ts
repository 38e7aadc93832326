import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  place.json('series', 'add', 'Annual List', '--service', 'army');
  for (const year of ['1834', '1836', '1838', '1840'])
    place.json('edition', 'add', 'Annual List', year, '--as-at', `1 Jan. ${year}`);
  for (const year of ['1834', '1838'])
    place.json(
      'entry',
      'add',
      year,
      '--person',
      'Julian Ferrand',
      '--new',
      '--rank',
      'Captain',
      '--corps',
      '2nd Fencibles',
    );
  place.json('search', 'add', '1836', '--person', 'Julian Ferrand', '--not-found');
});
afterAll(() => place.remove());

test('a table of editions and people, and how each nil search is read', () => {
  const { out, status } = place.run('searches');
  expect(status).toBe(0);
  expect(out).toContain(`
                    1111
                    8888
                    3334
                    4680
Julian Ferrand  p1  ■×■·
`);
  expect(out).toContain('1836: not found, an omission of the printer: no gap of the service can hold it\n  q1');
  expect(place.run('searches', '--csv').out).toBe(
    'person,id,1834,1836,1838,1840\r\nJulian Ferrand,p1,listed: Captain,not found (printer),listed: Captain,not looked\n',
  );
  const { people, about } = place.json('searches', 'Annual List', '--person', 'p1');
  expect(people[0].cells.map(({ state }: { state: string }) => state)).toEqual([
    'listed',
    'not found',
    'listed',
    'not looked',
  ]);
  expect(about.act).toBe(8);
  expect(place.run('searches', 'Navy List').status).toBe(3);
});
