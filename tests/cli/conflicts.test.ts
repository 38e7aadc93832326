import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

/** A captain with a misprinted date of rank and an omission, his mother born too late, and a slope with two windows. */
const RECORDS = [
  { type: 'series', key: 'al', name: 'Annual List of the Coast Survey', service: 'army' },
  ...[1834, 1835, 1836, 1837].map((year) => ({
    type: 'edition',
    key: `al-${year}`,
    series: 'al',
    label: `${year}`,
    asAt: `${year}-01-01`,
  })),
  { type: 'person', key: 'ferrand', name: 'Julian Peter Ferrand', born: '1812' },
  { type: 'person', key: 'anne', name: 'Anne Ferrand', born: '1815' },
  { type: 'kin', person: 'ferrand', relation: 'parent', relative: 'anne' },
  ...[1834, 1835, 1837].map((year) => ({
    type: 'entry',
    edition: `al-${year}`,
    person: 'ferrand',
    name: 'J. P. Ferrand',
    rank: 'Captain',
    corps: '2nd Fencibles',
    page: '213',
    ...(year === 1837 ? { dated: '5 May 1836' } : {}),
  })),
  { type: 'search', edition: 'al-1836', person: 'ferrand', outcome: 'not found' },
  { type: 'object', key: 'slope', ref: '214', title: 'Brass-bound writing slope' },
  { type: 'feature', key: 'lock', object: 'slope', text: 'patent lock', window: '1850/..', force: 'hard' },
  {
    type: 'feature',
    key: 'maker',
    object: 'slope',
    text: 'maker closed',
    window: '../1840',
    force: 'hard',
    confidence: 'low',
  },
];

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  writeFileSync(place.path('records.jsonl'), RECORDS.map((record) => JSON.stringify(record)).join('\n'));
  place.json('import', 'records.jsonl');
});
afterAll(() => place.remove());

describe('heldby conflicts', () => {
  test('the whole ledger in words', () => {
    const { out, status } = place.run('conflicts');
    expect(status).toBe(0);
    expect(out).toContain('Julian Peter Ferrand  p1');
    expect(out).toContain('listed as Captain, 2nd Fencibles, editions 1834–1835  e1–e2');
    expect(out).toContain('listed as Captain, 2nd Fencibles, edition 1837, p. 213, as at 1 January 1837');
    expect(out).toContain('together with any of these:');
    expect(out).toContain('Set aside: the date of rank in e3. The least reliable way out: reliability');
    expect(out).toContain('It clears 2 conflicts.');
    expect(out).toContain('Reliability: a date of life 10, a notice 6, a date of rank 4, a listing 3, a');
    expect(out).toContain('Anne Ferrand is parent of Julian Peter Ferrand  k1');
    expect(out).toContain('heldby set-aside k1 --why TEXT');
    expect(out).toContain('Set aside: the window of f2. The less sure of the two (low; the other');
    expect(out).toContain('Editions are of the Annual List of the Coast Survey.');
    expect(Math.max(...out.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(80);
  });

  test('one person as JSON, as the contract has it', () => {
    const { conflicts, of, about } = place.json('conflicts', 'Julian Peter Ferrand');
    expect(of.id).toBe('p1');
    expect(about.act).toBe(1);
    expect(conflicts.length).toBeGreaterThan(2);
    for (const { members, setAside, frees } of conflicts) {
      expect(members.length).toBeGreaterThan(1);
      expect(setAside.length).toBeGreaterThan(0);
      expect(frees).toBeGreaterThan(0);
      for (const { id, claim } of [...members, ...setAside])
        expect([typeof id, typeof claim]).toEqual(['string', 'string']);
    }
  });

  test('one object, by a mark’s or its own name; nobody else’s conflicts', () => {
    const { conflicts } = place.json('conflicts', '214');
    expect(conflicts.map(({ kind }: { kind: string }) => kind)).toEqual(['object']);
    expect(conflicts[0].members).toMatchObject([
      { id: 'f1', key: 'lock' },
      { id: 'f2', key: 'maker' },
    ]);
  });

  test('CSV has a line for each claim', () => {
    const lines = place.run('conflicts', '214', '--csv').out.trim().split('\r\n');
    expect(lines[0]).toBe('conflict,kind,concerns,id,key,claim,source,setAside,why,frees');
    expect(lines).toHaveLength(3);
  });

  test('what is set aside by the researcher is shown as theirs, and only in its time', () => {
    place.json('set-aside', 'e3', '--why', 'the clerk slid a line');
    const { out } = place.run('conflicts', 'p1');
    expect(out).toContain('Decided by you');
    expect(out).toContain('the clerk slid a line (tester, act 2)');
    expect(place.json('conflicts', 'p1').decided.length).toBeGreaterThan(0);
    expect(place.json('conflicts', 'p1', '--as-of', '1').decided).toEqual([]);
  });

  test('grounds of a kinship and of a trait say what they contradict', () => {
    const kinship = place.run('grounds', 'k1').out;
    expect(kinship).toContain('records contradict; to be set aside, if you say so: Anne Ferrand is parent of');
    expect(kinship).toContain('Anne Ferrand: born 1815  p2');
    const trait = place.run('grounds', 'f2').out.replaceAll(/[\s│├└─]+/g, ' ');
    expect(trait).toContain('records contradict; set aside is: maker closed: made before 1841.');
  });

  test('grounds of all figures of somebody tell the same once', () => {
    const { out } = place.run('grounds', 'p1', '--as-of', '1');
    expect(out.match(/records contradict; set aside is\n/g)).toHaveLength(1);
    expect(out).toContain('records contradict; set aside is  (as above)');
  });

  test('what setting a kinship or a trait aside does to conflicts is told beforehand', () => {
    expect(place.run('set-aside', 'k1', '--why', 'x', '--dry-run').out).toMatch(
      /Conflicts of those concerned: \d+ {2}→ {2}0/,
    );
    expect(place.run('set-aside', 'f2', '--why', 'x', '--dry-run').out).toContain(
      'Conflicts of those concerned: 1  →  0',
    );
  });

  test('a line that is odd but right is noted sic, and not told again; it counts as before', () => {
    const own = makePlace();
    own.json('init');
    const years = [1834, 1835, 1836, 1837, 1838];
    const records = [
      RECORDS[0] as object,
      ...years.map((year) => ({
        type: 'edition',
        key: `al-${year}`,
        series: 'al',
        label: `${year}`,
        asAt: `${year}-01-01`,
      })),
      { type: 'person', key: 'brind', name: 'Adam Brind' },
      ...years.map((year) => ({
        type: 'entry',
        key: `e-${year}`,
        edition: `al-${year}`,
        person: 'brind',
        name: 'Adam Brind',
        rank: 'Lieut.',
        corps: year === 1836 ? 'Beacon Corps' : '2nd Fencibles',
      })),
    ];
    writeFileSync(own.path('own.jsonl'), records.map((record) => JSON.stringify(record)).join('\n'));
    own.json('import', 'own.jsonl');
    const before = own.json('conflicts');
    expect(before.slips).toMatchObject([{ kind: 'corps', contradicts: false }]);
    const { id } = before.slips[0];
    const told = own.run('conflicts').out.replaceAll(/\s+/g, ' ');
    expect(told).toContain(`if it is right: heldby amend ${id} note sic --why TEXT`);
    const tenures = own.json('tenures', 'Adam Brind').tenures;
    own.json('amend', id, 'note', 'Sic: an exchange, and back', '--why', 'the gazette has both');
    expect(own.json('conflicts').slips).toEqual([]);
    expect(own.run('conflicts').out).not.toContain('second look');
    expect(own.json('tenures', 'Adam Brind').tenures).toEqual(tenures);
    own.remove();
  });

  test('a search in an edition that lists the name is worth a second look; two people of one name are taken apart', () => {
    const own = makePlace();
    own.json('init');
    const line = (year: number, name: string, more: object) => ({
      type: 'entry',
      edition: `al-${year}`,
      person: name,
      name,
      rank: 'Lieut.',
      corps: '2nd Fencibles',
      ...more,
    });
    const records = [
      ...RECORDS.slice(0, 5),
      ...['Adam Brind', 'Caleb Cran', 'Hugh Dunst'].map((name) => ({ type: 'person', key: name, name })),
      ...[1834, 1835, 1836].flatMap((year) => [
        line(year, 'Adam Brind', { dated: year === 1835 ? '3 March 1831' : '1 Feb. 1830' }),
        line(year, 'Caleb Cran', { dated: year === 1835 ? '1 Feb. 1830' : '3 March 1831' }),
        line(year, 'Hugh Dunst', { dated: '4 May 1829' }),
        line(year, 'Hugh Dunst', { rank: 'Captain', corps: 'Beacon Corps', dated: '4 May 1828' }),
      ]),
      line(1837, 'Adam Brind', { dated: '1 Feb. 1830' }),
      { type: 'search', edition: 'al-1837', person: 'Adam Brind', outcome: 'not found' },
    ];
    writeFileSync(own.path('own.jsonl'), records.map((record) => JSON.stringify(record)).join('\n'));
    own.json('import', 'own.jsonl');
    const brind = own.run('conflicts', 'Adam Brind').out;
    const flat = (text: string): string => text.replaceAll(/\s+/g, ' ');
    expect(flat(brind)).toContain('(Caleb Cran) may have been exchanged');
    expect(flat(brind)).toContain('lists the name');
    expect(brind).toContain('heldby withdraw q1 --why TEXT');
    const aside = /heldby set-aside\s+(e\d+,e\d+) --why/.exec(flat(brind))?.[1] ?? '';
    const { ids, act } = own.json('set-aside', aside, '--why', 'exchanged');
    expect(ids).toHaveLength(2);
    expect(own.json('conflicts', 'Caleb Cran').conflicts).toEqual([]);
    expect(own.run('set-aside', 'e1-e999999', '--why', 'x')).toMatchObject({ status: 2 });
    expect(own.json('history').acts[0].id).toBe(act);
    const dunst = flat(own.run('conflicts', 'Hugh Dunst').out);
    expect(dunst.indexOf('perhaps two people of one name. The other’s would be')).toBeGreaterThan(0);
    expect(dunst.indexOf('perhaps two people')).toBeLessThan(dunst.indexOf('cannot'));
    const theirs = /heldby amend (\S+) person KEY/.exec(dunst)?.[1] ?? '';
    own.json('person', 'add', 'Hugh Dunst', '--key', 'younger');
    expect(own.json('amend', theirs, 'person', 'younger', '--why', 'two of one name').ids).toHaveLength(3);
    expect(own.json('conflicts').slips).toMatchObject([{ kind: 'search', id: 'q1', contradicts: true }]);
    own.remove();
  });

  test('nobody of that name', () => expect(place.run('conflicts', 'Nobody').status).toBe(3));
});
