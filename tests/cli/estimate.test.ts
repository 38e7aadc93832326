import { expect, test } from 'vitest';
import { makePlace } from './heldby.ts';

test('assume --estimate reckons from the ledger and records it as an act, with what it was reckoned from', () => {
  const place = makePlace();
  place.json('init');
  const rows = Array.from({ length: 20 }, (_, at) => [
    `f${at},1810,1810-01-01,J. Ferrand,Lieut.,1 Jan. 1810`,
    `f${at},1816,1816-01-01,J. Ferrand,Captain,1 Jan. 1814`,
  ]).flat();
  const input = `person,edition,as_at,name,rank,dated\n${rows.join('\n')}\n`;
  expect(place.with({ input }, 'import', '-', '--format', 'csv', '--series', 'Roster').status).toBe(0);
  expect(place.json('assume', '--estimate', 'tenure.mean', '--dry-run')).toMatchObject({ dryRun: true, act: null });
  expect(place.json('assume', '--estimate', 'tenure.mean')).toEqual({
    act: 2,
    estimates: [{ name: 'tenure.mean.lieutenant', value: '4', was: '8', from: '20 closed tenures' }],
  });
  expect(place.json('list', 'assumptions').records[0].fields).toEqual({
    name: 'tenure.mean.lieutenant',
    value: '4',
    why: 'reckoned from 20 closed tenures of this ledger',
  });
  expect(place.json('assume', '--estimate', 'tenure.mean.lieutenant').act).toBeNull();
  const refused = place.run('assume', '--estimate', 'name.frequency');
  expect([refused.status, refused.err.split('\n')[0]]).toEqual([
    4,
    'heldby: The ledger holds 20 people; names are counted from 5000 on.',
  ]);
  place.json('undo');
  expect(
    place.json('assume').assumptions.find(({ name }: { name: string }) => name.startsWith('tenure.mean.')),
  ).toBeUndefined();
  place.remove();
});
