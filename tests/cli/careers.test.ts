import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  place.json('series', 'add', 'al', '--service', 'army', '--lag', '60');
  const lines = readFileSync(resolve(import.meta.dirname, '../../examples/lists.csv'), 'utf8').split('\n');
  const withoutPerson = lines.map((line) =>
    line
      .split(',')
      .filter((_, at) => at !== 3)
      .join(','),
  );
  writeFileSync(place.path('lists.csv'), withoutPerson.join('\n'));
  place.json('import', 'lists.csv');
});
afterAll(() => place.remove());

const COUNT = 592;

test('propose, accept, decide by a file, and take back', { timeout: 180_000 }, () => {
  const proposed = place.run('careers', '--limit', '2');
  expect(proposed.status).toBe(0);
  expect(proposed.out).toContain(`${COUNT} entries of 24 editions`);
  expect(proposed.out).toContain('heldby careers --accept');
  expect(proposed.out).toContain('Did P. Anstey become P. Anstey-Vole?');
  const trial = place.json('careers', '--accept', '--dry-run');
  expect(trial).toMatchObject({ dryRun: true });
  expect(place.json('list', 'people').total).toBe(0);

  const accepted = place.json('careers', '--accept');
  expect(accepted.entries).toBe(trial.entries);
  expect(place.json('list', 'people').total).toBe(accepted.newPeople);
  expect(place.run('careers', '--accept').out).toContain('There is nothing certain to record.');

  const listed = place.json('list', 'entries', '--limit', '600').records;
  const placed = listed.filter(({ borneBy }: { borneBy: string | null }) => borneBy !== null);
  expect(placed).toHaveLength(accepted.entries);
  const [{ id, borneBy }] = placed;
  expect(place.run('show', id).out.replaceAll(/\s+/g, ' ')).toMatch(
    new RegExp(`Borne by [^.]+ \\(${borneBy}\\), by decision l\\d+: .*To take it back: heldby withdraw l\\d+`),
  );
  const own = place.json('list', 'entries', '--where', `person=${borneBy}`).records;
  expect(own.map((each: { borneBy: string }) => each.borneBy)).toContain(borneBy);
  expect(own.map((each: { called: string }) => each.called).join()).not.toContain('not placed');
  const waiting = listed.find((each: { borneBy: string | null }) => each.borneBy === null);
  expect(waiting.called).toContain('not placed');
  expect(place.run('show', waiting.id).out).toContain('Nobody’s yet. Who it may be: heldby careers');

  const file = place.run('careers', '--csv').out;
  const [header, ...rows] = file.trim().split('\r\n');
  expect(header).toMatch(/^one,other,decision,why,/);
  expect(rows.length).toBeGreaterThan(1);
  writeFileSync(
    place.path('doubts.csv'),
    [
      header,
      ...rows.map((row) => row.replace(/^(e\d+,e\d+),,/, row.includes(',renamed,') ? '$1,renamed,' : '$1,differ,')),
    ].join('\r\n'),
  );
  const decided = place.json('careers', '--decisions', 'doubts.csv');
  expect(decided.decisions).toBe(rows.length);
  expect(decided.findings.length).toBe(rows.length);
  expect(place.json('careers').doubts).toEqual([]);
  expect(place.json('verify').findings).toEqual([]);

  place.json('undo');
  place.json('undo');
  expect(place.json('list', 'people').total).toBe(0);
  expect(place.json('careers').entries.placed).toBe(0);
});

test('--review asks only where both ends are a terminal', () => {
  const { out, status } = place.with({ input: 'y\n\nq\n' }, 'careers', '--review');
  expect(status).toBe(0);
  expect(out).toContain('Are these one?');
  expect(place.json('careers').entries.placed).toBe(0);
});

test('--weights shows the weights', () => {
  expect(place.run('careers', '--weights').out).toContain('how they agree');
  expect(place.json('careers', '--weights').weights.rows.length).toBeGreaterThan(10);
});

test('what cannot be', () => {
  expect(place.run('careers', '--accept', '--review').status).toBe(2);
  expect(place.run('careers', '--whole', 'some').status).toBe(2);
  expect(place.run('careers', '--decisions', 'none.csv').status).toBe(4);
  writeFileSync(place.path('bad.csv'), 'one,other,decision\ne1,e2,perhaps\n');
  const bad = place.run('careers', '--decisions', 'bad.csv');
  expect(bad.status).toBe(4);
  expect(bad.err).toContain('line 2');
});

test('lines that may have been exchanged are told, though they contradict nothing, until they are decided', () => {
  const own = makePlace();
  own.json('init');
  const held = (name: string, corps: string, page: number) =>
    [1834, 1835, 1836, 1837, 1838].map((year) => ({ year, name, corps, page }));
  const [first, second] = [held('Adam Brind', '1st Fencibles', 10), held('Caleb Cran', 'Harbour Artillery', 20)];
  const rows = [...first, ...second, ...held('Hugh Dunst', 'Beacon Corps', 30)].map((row) => {
    if (row.year !== 1836 || row.name === 'Hugh Dunst') return row;
    return { ...row, corps: row.name === 'Adam Brind' ? 'Harbour Artillery' : '1st Fencibles' };
  });
  const lines = rows.map(({ year, name, corps, page }) => `List,${year},${year}-01-01,${name},Lieut.,${corps},${page}`);
  writeFileSync(own.path('own.csv'), ['series,edition,as_at,name,rank,corps,page', ...lines].join('\n'));
  own.json('series', 'add', 'List', '--service', 'army');
  own.json('import', 'own.csv');
  const { exchanged } = own.json('careers');
  expect(exchanged).toHaveLength(1);
  expect(exchanged[0].one.says).toBe('Adam Brind, Lieutenant, Harbour Artillery, edition 1836, p. 10');
  expect(exchanged[0].other.says).toContain('Caleb Cran');
  const { out } = own.run('careers', '--review');
  expect(out).toContain('Lines that may have been exchanged');
  const [, ids] = /heldby\s+set-aside\s+(e\d+,e\d+)\s+--why/.exec(out) ?? [];
  const { value } = own.json('grounds', exchanged[0].one.id, 'exchanged').figures[0];
  expect(value).toEqual(exchanged[0]);
  expect(out.replaceAll(/\s+/g, ' ')).toContain(`if they are right, heldby amend ${ids} note sic --why TEXT`);
  own.json('amend', exchanged[0].one.id, 'note', 'sic', '--why', 'looked at the page again');
  expect(own.json('careers').exchanged).toEqual([]);
  expect(own.json('grounds', exchanged[0].one.id, 'exchanged').figures[0].value).toBeNull();
  own.json('undo');
  expect(own.json('careers').exchanged).toEqual(exchanged);
  own.json('set-aside', ids ?? '', '--why', 'exchanged by the printer');
  expect(own.json('careers').exchanged).toEqual([]);
  own.remove();
});
