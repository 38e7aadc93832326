import { copyFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

type Told = { what: string; says: string; id: string | null; value: unknown; grounds: Told[] };

/** The records and lists of the examples. */
let place: Place;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  for (const name of ['records.jsonl', 'lists.csv'])
    place.json('import', resolve(import.meta.dirname, '../../examples', name));
});
afterAll(() => place.remove());

const figure = (...words: string[]) => place.json('grounds', ...words).figures[0];
const within = (grounds: readonly Told[]): Told[] => grounds.flatMap((each) => [each, ...within(each.grounds)]);
const ids = (grounds: readonly Told[]): Set<string | null> => new Set(within(grounds).map(({ id }) => id));

/** What a figure would be without a record, and what it is in a copy from which that record is withdrawn. */
function withoutAndWithdrawn(record: string, ...words: string[]) {
  const { without } = place.json('grounds', ...words, '--without', record).figures[0];
  const copy = place.path(`without-${record}.sqlite`);
  copyFileSync(place.path('heldby.sqlite'), copy);
  place.json('withdraw', record, '--why', 'a trial', '--ledger', copy);
  return { without, withdrawn: place.json('grounds', ...words, '--ledger', copy).figures[0] };
}

describe('conflicts', () => {
  test('what each frees, by its number, by a record in it, of a person and of the whole ledger', () => {
    const { conflicts, people, objects } = place.json('conflicts');
    expect(conflicts.length).toBeGreaterThan(10);
    for (const at of [0, conflicts.length - 1]) {
      const { frees, members, setAside } = conflicts[at];
      const told = figure('conflicts', 'frees', `${at + 1}`);
      expect(told.value).toBe(frees);
      for (const { id, claim } of members) {
        const said = (told.grounds as Told[]).find((each) => each.id === id && each.says.includes(claim));
        expect([...ids(said?.grounds ?? [])].some((each) => /^ed\d+$/.test(each ?? ''))).toBe(id[0] !== 'n');
      }
      expect(within(told.grounds).some(({ what }) => what === 'act')).toBe(true);
      expect(figure(setAside[0].id, 'frees').value).toBe(frees);
      expect(figure('conflicts', 'frees', setAside[0].id).value).toBe(frees);
    }
    expect(figure('conflicts', 'count').value).toBe(conflicts.length);
    expect(place.json('grounds', 'conflicts').figures.map(({ value }: Told) => value)).toEqual([
      conflicts.length,
      people,
      objects,
    ]);
    const [{ concerns }] = conflicts;
    expect(figure(concerns[0].id, 'conflicts').value).toBe(place.json('conflicts', concerns[0].id).conflicts.length);
  });

  test('without a record: as many as if it were withdrawn, and the same conflict, whatever its number then', () => {
    const { conflicts } = place.json('conflicts');
    const [{ setAside, frees }, next] = conflicts;
    const other = next.members.find(({ id }: Told) => id !== setAside[0].id).id;
    const { without, withdrawn } = withoutAndWithdrawn(other, setAside[0].id, 'frees');
    expect(without.value).toBe(withdrawn.value);
    expect(without.value).toBeLessThan(frees);
    expect(
      place.json('grounds', 'conflicts', 'frees', '--without', setAside[0].id).figures[0].without.value,
    ).toBeNull();
  });

  test('a record that contradicts nothing, a conflict that there is not', () => {
    expect(figure('p17', 'frees').value).toBeNull();
    expect(figure('e1', 'frees')).toMatchObject({ value: null, says: 'e1 contradicts nothing' });
    expect(figure('o1', 'conflicts').value).toBe(0);
    expect(place.run('grounds', 'conflicts', 'frees', '999').status).toBe(3);
  });
});

describe('candidates', () => {
  test('the share of those behind the first so many is the sum of their own', () => {
    const { candidates } = place.json('candidates', 'm1');
    const { further } = place.json('candidates', 'm1', '--limit', '1');
    const told = figure('m1', 'further', '1');
    expect(told.value).toEqual(further);
    const shares = (told.grounds as Told[]).map(({ value }) => Number(value));
    expect(shares).toHaveLength(candidates.length - 1);
    expect(shares.reduce((sum, each) => sum + each, 0)).toBeCloseTo(further.share, 12);
    expect(place.run('grounds', 'm1', 'further', 'few').status).toBe(2);
  });

  test('why somebody of the name is no candidate', () => {
    const [out] = place.json('candidates', 'm3').ruledOut;
    const told = figure('m3', 'ruledOut', out.person.id);
    expect(told.value).toEqual({ ground: out.ground, bits: out.bits, inRank: out.inRank });
    expect(told.says).toContain('in that rank on none of its days');
    expect([...ids(told.grounds)]).toEqual(expect.arrayContaining([out.person.id, 'm3', `${out.person.id}.1`]));
    expect(within(told.grounds).some(({ id, says }) => /^e\d+$/.test(id ?? '') && /, p\. \d+/.test(says))).toBe(true);
    expect(figure('m3', 'ruledOut').value).toEqual(told.value);
    expect(figure('m3', 'ruledOut', 'p5')).toMatchObject({ value: null });
    expect(place.run('grounds', 'm1', 'ruledOut', 'p22').err).toContain('is a candidate for m1');
  });

  test('the limits of every assumption, and of each by itself', () => {
    const { vary } = place.json('candidates', 'm1', '--vary');
    expect(vary.varied.length).toBeGreaterThan(0);
    expect(figure('m1', 'vary').value).toEqual(vary);
    const [first] = vary.varied;
    expect(figure('m1', 'vary', first.name).value).toEqual(first);
    expect(figure('m1', 'vary', vary.steady[0]).value).toEqual({ from: null, to: null });
    expect(figure('m1', 'vary', 'circa').value).toBeNull();
    expect(place.run('grounds', 'm1', 'vary', 'hats').status).toBe(3);
  });
});

describe('what a mark is', () => {
  test('holders, successions and making under each role, and the share that names no holder', () => {
    const copy = place.path('roles.sqlite');
    copyFileSync(place.path('heldby.sqlite'), copy);
    const at = ['--ledger', copy];
    place.json('amend', 'm7', 'role', 'owner 0.6, retailer 0.4', '--why', 'a trial', ...at);
    const [uncertain] = place.json('provenance', '230', ...at).uncertainRoles;
    const ask = (...words: string[]) => place.json('grounds', '230', ...words, ...at).figures[0];
    expect(uncertain.roles).toHaveLength(2);
    for (const told of uncertain.roles) {
      const asked = ask('role', 'm7', told.role);
      expect(asked.value).toEqual(told);
      expect(asked.says).toContain(`made ${told.made}`);
      for (const { person } of told.holders) if (person !== null) expect(ids(asked.grounds)).toContain(person.id);
      expect(within(asked.grounds).some(({ what, says }) => what === 'act' && says.includes('a trial'))).toBe(true);
    }
    expect(uncertain.noHolder).toBeGreaterThan(0);
    expect(ask('noHolder').value).toBe(uncertain.noHolder);
    const { marks } = place.json('made', '230', ...at).withMarks;
    const { roles } = marks.find(({ id }: Told) => id === 'm7');
    for (const { role, phrase } of roles) expect(ask('phraseIfRole', role, 'm7').value).toBe(phrase);
    expect(ask('phraseIfRole').value).toBe(roles[0].phrase);
    const [{ without }] = place.json('grounds', '230', 'role', '--without', 'f8', ...at).figures;
    expect(without.says).toContain('made ');
    expect(place.run('grounds', '230', 'role', 'm7', 'carrier', ...at).err).toContain('m7 has no role carrier');
    expect(place.run('grounds', '221', 'role', 'm3', ...at).status).toBe(3);
    expect(place.json('grounds', '221', 'noHolder', ...at).figures[0].value).toBe(0);
  });
});

describe('what is reckoned before it is done', () => {
  test('a plan of look-ups: what all of it is worth, and what each adds', () => {
    const { plan } = place.json('lookups', '238', '--plan', '3');
    expect(plan).toHaveLength(3);
    for (const room of [1, 2, 3]) {
      const told = figure('238', 'plan', `${room}`);
      expect(told.value).toBe(plan[room - 1].gain);
      const steps = (told.grounds as Told[]).slice(0, room);
      expect(steps.reduce((sum, { value }) => sum + Number(value), 0)).toBeCloseTo(told.value, 12);
      for (const [at, { grounds }] of steps.entries()) expect(grounds[0]?.id).toBe(plan[at].edition.id);
    }
    expect(figure('m8', 'plan').value).toBe(plan[2].gain);
    const [{ without }] = place.json('grounds', '238', 'plan', '--without', plan[0].edition.id).figures;
    expect(without.value).toBeLessThan(plan[2].gain);
    expect(place.run('grounds', '238', 'plan', '6').status).toBe(2);
  });

  test('an estimate, from the tenures that it averages', () => {
    const { estimates } = place.json('assume', '--estimate', 'tenure.mean', '--dry-run');
    const told = figure('tenure.mean', 'estimate');
    expect(told.value).toEqual(estimates);
    const [first] = estimates;
    const own = figure(first.name, 'estimate');
    expect(own.value).toEqual([first]);
    const tenures = own.grounds[0].grounds as Told[];
    expect(`${tenures.length} closed tenures`).toBe(first.from);
    const days = tenures.reduce((sum, { value }) => sum + Number(value), 0);
    expect(days / tenures.length / 365.25).toBeCloseTo(Number(first.value), 2);
    expect(ids(tenures)).toContain('p2.1');
    expect(within(tenures).some(({ id }) => /^ed\d+$/.test(id ?? ''))).toBe(true);
    const { without, withdrawn } = withoutAndWithdrawn('e474', first.name, 'estimate');
    expect(without.value).toEqual(withdrawn.value);
    expect(place.run('grounds', first.name).status).toBe(3);
    expect(place.run('grounds', 'name.frequency', 'estimate').err).toContain('names are counted from 5000 on');
    expect(place.run('grounds', 'circa', 'estimate').err).toContain('cannot be reckoned');
  });

  test('what was looked up of a person, edition by edition', () => {
    const { people } = place.json('searches', '--person', 'p6');
    for (const name of ['listed', 'notFound', 'notLooked']) {
      const told = figure('p6', name);
      expect(told.value).toBe(people[0][name]);
      expect(told.grounds).toHaveLength(told.value);
    }
    expect([...ids(figure('p6', 'notFound').grounds)]).toContain('q4');
    const [{ without }] = place.json('grounds', 'p6', 'notFound', '--without', 'q4').figures;
    expect(without.value).toBe(0);
  });
});

test('the figures of what was named are completed, and whose', () => {
  const offered = (...words: string[]): string[] =>
    place
      .run('completion', 'words', 'bash', '--', 'grounds', ...words)
      .out.split('\n')
      .filter((each) => each !== '');
  expect(offered('m1', '')).toEqual(expect.arrayContaining(['window', 'share', 'ruledOut', 'vary']));
  expect(offered('p1.2', 'start')).toEqual(['startEarliest', 'startLatest']);
  expect(offered('conflicts', 'f')).toEqual(['frees']);
  expect(offered('m1', 'vary', 'circa')).toContain('circa');
  expect(offered('o3', 'phraseIfRole', 'm')).toContain('m7');
  expect(offered('m1', 'share', 'Ferrol')).toEqual(['Ferrold,\\ John']);
  expect(offered('m1', 'window', '')).toEqual([]);
});
