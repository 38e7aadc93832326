import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

vi.setConfig({ testTimeout: 240_000, hookTimeout: 120_000 });

type Told = { what: string; says: string; id: string | null; value: unknown; grounds: Told[] };

/** The lists of the examples without who is who, so that all of it is to be worked out. */
let place: Place;
// biome-ignore lint/suspicious/noExplicitAny: answers are looked into freely
let careers: any;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  place.json('series', 'add', 'al', '--service', 'army', '--lag', '60');
  const lines = readFileSync(resolve(import.meta.dirname, '../../examples/lists.csv'), 'utf8').split('\n');
  writeFileSync(
    place.path('lists.csv'),
    lines
      .map((line) =>
        line
          .split(',')
          .filter((_, at) => at !== 3)
          .join(','),
      )
      .join('\n'),
  );
  place.json('import', 'lists.csv');
  careers = place.json('careers');
});
afterAll(() => place.remove());

const figure = (...words: string[]) => place.json('grounds', ...words).figures[0];
const within = (grounds: readonly Told[]): Told[] => grounds.flatMap((each) => [each, ...within(each.grounds)]);
const sum = (grounds: readonly Told[]): number =>
  grounds.filter(({ what }) => what === 'claim').reduce((total, { value }) => total + Number(value), 0);

describe('what careers prints can be asked of grounds', () => {
  test('the chance of every doubt, down to entries, pages, editions and acts, in bits that add up', () => {
    expect(careers.doubts.length).toBeGreaterThan(2);
    for (const { one, other, chance, settles } of careers.doubts) {
      const told = figure(one.id, 'chance', other.id);
      expect(told.value).toBe(chance);
      const [pair] = told.grounds as Told[];
      expect(pair?.says).toContain(`${one.id} and ${other.id} as lines of one person`);
      expect(sum(pair?.grounds ?? [])).toBeCloseTo(Number(pair?.value), 9);
      const otherwise = (told.grounds as Told[]).find(({ says }) => /left apart|the next best/.test(says));
      expect(1 / (1 + 2 ** (Number(otherwise?.value) - Number(pair?.value)))).toBeCloseTo(chance, 9);
      const all = within(told.grounds);
      for (const id of [one.id, other.id]) expect(all.find((each) => each.id === id)?.says).toMatch(/, p\. \d+/);
      expect(all.some(({ id }) => /^ed\d+$/.test(id ?? ''))).toBe(true);
      expect(all.some(({ what }) => what === 'act')).toBe(true);
      expect(all.some(({ id }) => id === 'wording.certain')).toBe(true);
      expect(figure(one.id, 'settles', other.id).value).toBe(settles);
    }
  });

  test('whose line it would be, how surely, and who else it may be', () => {
    const [first] = careers.people;
    const told = figure(first.added[1], 'careers');
    expect(told.value).toMatchObject([{ name: first.name, leastChance: first.leastChance, waits: false }]);
    expect(told.value[0].entries).toEqual(first.entries);
    expect(told.says).toMatch(/would be recorded as of .* \(new\): \d+ lines, every join/);
    const [{ one, other }] = careers.doubts;
    const { out } = place.run('grounds', one.id, 'careers', '--depth', '2');
    expect(out.replaceAll(/[\s│├└─]+/g, ' ')).toContain(`asked is whether ${one.id} and ${other.id} are one`);
  });

  test('a change of name: everything but the surname, added up', () => {
    const [{ last, first, bits }] = careers.nameChanges;
    const told = figure(last.id, 'nameChange', first.id);
    expect(told.value).toBe(bits);
    expect(sum(told.grounds)).toBeCloseTo(bits, 9);
    expect(figure(last.id, 'nameChange').value).toBe(bits);
    expect(figure(careers.people[0].added[0], 'nameChange').value).toBeNull();
  });

  test('the counts, and every weight with what it was estimated from', () => {
    expect(figure('careers', 'certain').value).toEqual(careers.certain);
    expect(figure('careers', 'waiting').value).toBe(careers.waiting);
    expect(figure('careers', 'whole').value).toBe(careers.editions.whole);
    expect(figure('careers', 'whole', '--whole', 'all').value).toBe(careers.editions.all);
    const { weights } = place.json('careers', '--weights');
    const asked = figure('careers', 'weight', 'rank').value;
    const rows = weights.rows.filter(({ field }: { field: string }) => field === 'rank');
    expect(asked.map(({ bits }: { bits: number }) => bits)).toEqual(rows.map(({ bits }: { bits: number }) => bits));
    const [row] = rows;
    const one = figure('careers', 'weight', row.field, row.level);
    expect(one.value).toEqual({ bits: row.bits, sameMan: row.sameMan, twoMen: row.twoMen });
    expect(one.value.bits).toBeCloseTo(Math.log2(one.value.sameMan / one.value.twoMen), 9);
    expect(
      within(one.grounds)
        .map(({ says }) => says)
        .join(),
    ).toContain(`seen ${row.seen.sameMan} times`);
    expect(figure('careers', 'found', '1').value).toBe(weights.found[0].chance);
    expect(figure('careers', 'newShare').value).toBe(weights.newShare);
  });

  test('careers says how to ask', () => {
    const flat = (text: string): string => text.replaceAll(/\s+/g, ' ');
    const [, asked] = /heldby grounds (e\d+ chance e\d+)/.exec(flat(place.run('careers', '--limit', '1').out)) ?? [];
    expect(place.run('grounds', ...(asked ?? '').split(' ')).status).toBe(0);
    expect(place.run('careers', '--review').out).toContain('heldby grounds');
    expect(place.run('careers', '--weights').out).toContain('heldby grounds careers weight');
  });

  test('a figure that there is not, a line that there is not', () => {
    const wrong = place.run('grounds', 'e1', 'chances');
    expect(wrong.status).toBe(2);
    expect(wrong.err).toContain('chance [ENTRY|PERSON]');
    expect(place.run('grounds', 'careers', 'weight', 'hats').err).toContain('forenames');
    expect(place.run('grounds', 'e1', 'chance', 'e99999').status).toBe(3);
    expect(place.run('grounds', 'careers', 'found', '3').status).toBe(2);
    expect(place.run('grounds', 'e1', 'careers', '--whole', 'some').status).toBe(2);
  });
});

describe('without a record', () => {
  test('the figure is that of a ledger from which it was withdrawn', () => {
    const [{ one, other }] = careers.doubts.filter(({ joined }: { joined: boolean }) => joined);
    const ofThem = figure(one.id, 'careers').value[0].entries as string[];
    const gone = ofThem.find((id) => id !== one.id && id !== other.id) ?? careers.people[0].added[3];
    const asked = place.json('grounds', one.id, 'chance', other.id, '--without', gone);
    const [{ value, without }] = asked.figures;
    expect(asked.without.ids).toEqual([gone]);
    const copy = place.path('copy.sqlite');
    copyFileSync(place.path('heldby.sqlite'), copy);
    place.json('withdraw', gone, '--why', 'a trial', '--ledger', copy);
    const then = place.json('grounds', one.id, 'chance', other.id, '--ledger', copy).figures[0];
    expect(without.value).toBe(then.value);
    expect(without.says).toBe(then.says);
    expect(value).not.toBe(without.value);
    const printed = place
      .json('careers', '--ledger', copy)
      .doubts.find(
        (doubt: { one: { id: string }; other: { id: string } }) =>
          doubt.one.id === one.id && doubt.other.id === other.id,
      );
    if (printed !== undefined) expect(printed.chance).toBe(without.value);
    // Nothing was withdrawn here.
    expect(figure(one.id, 'chance', other.id).value).toBe(value);
  });

  test('nor is there a figure without the line itself', () => {
    const [{ one, other }] = careers.doubts;
    const [{ without }] = place.json('grounds', one.id, 'chance', other.id, '--without', other.id).figures;
    expect(without.value).toBeNull();
  });
});

describe('once entries are somebody’s', () => {
  test('a person, the lines that would be added, and a decision', () => {
    const copy = place.path('accepted.sqlite');
    copyFileSync(place.path('heldby.sqlite'), copy);
    const at = ['--ledger', copy];
    place.json('careers', '--accept', ...at);
    const [first] = careers.people;
    const borne = place.json('show', first.added[0], ...at).borne.person.id;
    const told = place.json('grounds', first.added[1], 'chance', first.added[0], ...at).figures[0];
    expect(told).toMatchObject({ value: 1 });
    expect(told.says).toContain('by decision');
    expect(within(told.grounds).some(({ id }) => /^l\d+$/.test(id ?? ''))).toBe(true);
    const before = place.json('grounds', first.added[1], 'chance', first.added[0], '--as-of', '2', ...at).figures[0];
    expect(before.value).toBe(figure(first.added[1], 'chance', first.added[0]).value);
    const [extra] = first.added.slice(-1);
    place.json('amend', extra, 'person', '', '--why', 'a trial', ...at);
    const added = place.json('grounds', borne, 'careers', ...at).figures[0];
    expect(added.value[0]).toMatchObject({ person: { id: borne } });
    expect(place.run('grounds', borne, ...at).out).toContain('startEarliest');
  });
});
