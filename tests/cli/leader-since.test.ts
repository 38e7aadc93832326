import { writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { makePlace } from './heldby.ts';

test('a correction that gives the lead to another is named with its act and its reason', () => {
  const place = makePlace();
  const entry = (key: string, edition: string, person: string, rank: string) => ({
    type: 'entry',
    key,
    edition,
    person,
    name: 'J. Ferrand',
    rank,
    corps: '2nd Fencibles',
    page: '213',
  });
  const records = [
    { type: 'series', key: 'l', name: 'Coast List', service: 'army' },
    { type: 'edition', key: 'a', series: 'l', label: '1834', asAt: '1834-01-01' },
    { type: 'edition', key: 'b', series: 'l', label: '1836', asAt: '1836-01-01' },
    { type: 'person', key: 'j', name: 'Julian Ferrand' },
    { type: 'person', key: 'm', name: 'James Ferrand' },
    ...[entry('e1', 'a', 'j', 'Lieut.'), entry('e2', 'b', 'j', 'Lieut.')],
    ...[entry('e3', 'a', 'm', 'Ensign'), entry('e4', 'b', 'm', 'Ensign')],
    { type: 'object', key: 'o', ref: '214', title: 'Writing slope' },
    { type: 'mark', key: 'k', object: 'o', text: 'Lieut. J. Ferrand', role: 'owner', made: '1835' },
  ];
  writeFileSync(place.path('r.jsonl'), records.map((each) => JSON.stringify(each)).join('\n'));
  place.json('init');
  place.json('import', 'r.jsonl');
  place.json('person', 'add', 'Ann Holt');
  place.json('amend', 'e1', 'rank', 'Ensign', '--why', 'the line below');
  place.json('amend', 'e2', 'rank', 'Ensign', '--why', 'the line below');
  place.json('amend', 'e3', 'rank', 'Lieut.', '--why', 'the line above');
  place.json('amend', 'e4', 'rank', 'Lieut.', '--why', 'the line above');
  place.json('person', 'add', 'Mary Holt');

  const { lots } = place.json('changes', '1');
  const leader = lots[0].changes.find(({ change }: { change: string }) => change === 'leader');
  const { id, why } = leader.since;
  const first = (act: number) => place.json('candidates', 'k', '--as-of', String(act)).candidates[0]?.person.key;
  expect([first(id - 1) === 'm', first(id), why]).toEqual([false, 'm', expect.stringContaining('the line')]);
  for (const words of [
    ['changes', '1'],
    ['report', '214', '--since', '1'],
  ])
    expect(place.run(...words).out.replaceAll(/\s+/g, ' ')).toMatch(
      new RegExp(`James Ferrand .*(?:not|before,) .*Julian Ferrand.*So since act ${id} of .*, because: ${why}\\.`),
    );
  place.remove();
}, 60_000);
