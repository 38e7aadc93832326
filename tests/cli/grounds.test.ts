import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

const RECORDS = [
  { type: 'series', key: 'al', name: 'Annual List of the Coast Survey', service: 'army' },
  ...[1834, 1836, 1838].map((year) => ({
    type: 'edition',
    key: `al-${year}`,
    series: 'al',
    label: `${year}`,
    asAt: `${year}-01-01`,
  })),
  { type: 'person', key: 'ferrand', name: 'Julian Peter Ferrand' },
  {
    type: 'entry',
    edition: 'al-1834',
    person: 'ferrand',
    name: 'J. P. Ferrand',
    rank: 'Lieut.',
    corps: '2nd Fencibles',
    page: '213',
  },
  {
    type: 'entry',
    edition: 'al-1838',
    person: 'ferrand',
    name: 'J. P. Ferrand',
    rank: 'Captain',
    corps: '2nd Fencibles',
    dated: '8 Feb. 1837',
    page: '210',
  },
  { type: 'object', key: 'slope', ref: '214', title: 'Brass-bound writing slope' },
  { type: 'feature', object: 'slope', text: 'patent lock', window: '1830/..', force: 'hard' },
  { type: 'mark', key: 'm-a', object: 'slope', text: 'Lieut. J. Ferr[..]d', role: 'owner' },
];

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  writeFileSync(place.path('records.jsonl'), RECORDS.map((record) => JSON.stringify(record)).join('\n'));
  place.json('import', 'records.jsonl');
});
afterAll(() => place.remove());

describe('heldby grounds', () => {
  test('a tree from the bound down to entry, page, edition and act', () => {
    const { out, status } = place.run('grounds', 'p1.1', 'endLatest');
    expect(status).toBe(0);
    expect(out).toBe(`Julian Peter Ferrand, Lieutenant, 2nd Fencibles  p1.1

endLatest: Lieutenant, 2nd Fencibles ended at the latest on 8 February 1837
├─ Captain, 2nd Fencibles begins no earlier than it ends
└─ Captain, 2nd Fencibles began at the latest on 8 February 1837  p1.2
   └─ dated 8 Feb. 1837 as Captain, 2nd Fencibles, edition 1838, p. 210  e2
      └─ J. P. Ferrand, Captain, 2nd Fencibles, dated 8 Feb. 1837, Annual List
         of the Coast Survey 1838, p. 210, p1 Julian Peter Ferrand  e2
         ├─ Annual List of the Coast Survey 1838, as at 1838-01-01  ed3
         │  ├─ Annual List of the Coast Survey, army  s1
         │  │  └─ ${act()}
         │  └─ act 1  (as above)
         └─ act 1  (as above)
`);
  });

  const act = (): string =>
    `act 1, ${new Date().toISOString().slice(0, 10)}, tester: heldby import records.jsonl --json`;

  test('the same figure without a record', () => {
    const { figures, without, about } = place.json('grounds', 'p1.2', 'startLatest', '--without', 'e2');
    expect(figures[0]).toMatchObject({ figure: 'startLatest', value: '1837-02-08', without: { value: null } });
    expect(without.ids).toEqual(['e2']);
    expect(place.run('grounds', 'p1.1', 'startEarliest', '--without', 'e2').out).toMatch(/^ {2}without: the same$/m);
    expect(about.act).toBe(1);
    expect(place.run('grounds', 'm1', 'share', '--without', 'f1', '--depth', '1').out).toContain(
      '  without: Julian Peter Ferrand has a share of',
    );
    expect(place.json('tenures', 'p1').tenures).toHaveLength(2);
  });

  test('a wrong figure: the right ones are listed', () => {
    const ran = place.run('grounds', 'm1', 'sahre');
    expect(ran.status).toBe(2);
    expect(ran.err).toContain('share [PERSON]');
    expect(place.run('grounds', 'p9').status).toBe(3);
  });

  test('--help names every figure', () => {
    const { out } = place.run('grounds', '--help');
    for (const name of ['startEarliest', 'share [PERSON]', 'window', 'spanWithMarks', 'gain EDITION'])
      expect(out).toContain(name);
  });
});

describe('a correction tried first', () => {
  test('bounds and shares before and after', () => {
    const { out } = place.run('set-aside', 'e2', '--why', 'slid a line', '--dry-run');
    expect(out).toContain('Would be recorded as x1');
    expect(out).toContain('Captain, 2nd Fencibles: is gone');
    expect(out).toContain('“Lieut. J. Ferr[..]d”  m1: led by Julian Peter Ferrand');
    const { effect, dryRun } = place.json('amend', 'e2', 'dated', '8 Feb. 1836', '--why', 'misread', '--dry-run');
    expect(dryRun).toBe(true);
    expect(effect.tenures).toMatchObject([
      {
        post: 'Lieutenant, 2nd Fencibles',
        before: { end: { latest: '1837-02-08' } },
        after: { end: { latest: '1836-02-08' } },
      },
      { post: 'Captain, 2nd Fencibles' },
    ]);
    expect(place.json('withdraw', 'f1', '--why', 'not original', '--dry-run').effect.objects).toHaveLength(1);
    expect(place.json('history').acts).toHaveLength(1);
  });

  test('what was set aside is shown as the researcher’s', () => {
    place.json('set-aside', 'e2', '--why', 'slid a line');
    expect(place.run('tenures', 'p1').out).toContain('Set aside by tester in act 2: slid a line  e2');
    expect(place.json('tenures', 'p1').setAside).toEqual([
      { id: 'e2', key: null, why: 'slid a line', who: 'tester', act: 2 },
    ]);
    expect(place.run('grounds', 'p1.1').out).toContain('set aside by the researcher: slid a line  e2');
  });
});
