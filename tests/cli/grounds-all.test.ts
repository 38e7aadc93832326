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
