import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.run('init');
  writeFileSync(
    place.path('list.csv'),
    [
      'edition,as_at,person,name,rank,dated,corps',
      '1834,1 Jan. 1834,a,Jno. Tollerby,Lieut.,4 May 1832,Petrel',
      '1836,1 Jan. 1836,a,John Tollerby,Lieut.,4 May 1832,h.p.',
      '1834,1 Jan. 1834,,Amos Gort,Lieut.,4 May 1831,Half Pay',
      '1836,1 Jan. 1836,,Amos Gort,Lieut.,4 May 1831,Petrel',
    ].join('\n'),
  );
  place.json('import', 'list.csv', '--series', 'Sea List', '--service', 'navy');
});
afterAll(() => place.remove());

test('whoever is printed with h.p. for a ship has none, and is on half-pay', () => {
  expect(place.json('show', 'e3').record.fields.corps).toBe('h.p.'); // as it is printed
  const { tenures } = place.json('tenures', 'a');
  expect(tenures.map(({ corps, kind }: { corps: string | null; kind: string }) => [corps, kind])).toEqual([
    ['Petrel', 'substantive'],
    [null, 'half-pay'],
  ]);
});

test('lines are not kept apart by it', () => {
  const [joined] = place.json('grounds', 'e2', 'chance', 'e4').figures;
  expect(JSON.stringify(joined.grounds)).not.toMatch(/corps: another|ship: another/);
});
