import { resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

/** The records and lists of the examples. */
let place: Place;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  for (const name of ['records.jsonl', 'lists.csv'])
    place.json('import', resolve(import.meta.dirname, '../../examples', name));
});
afterAll(() => place.remove());

type Told = { says: string; id: string | null; value: unknown; grounds: Told[] };

const figure = (...words: string[]) => place.json('grounds', ...words).figures[0];
const ids = (grounds: readonly Told[]): (string | null)[] => grounds.map(({ id }) => id);

describe('whether a conclusion stands', () => {
  test('of a candidate: without any one record, and by which reading', () => {
    for (const { person, robust, readAs } of place.json('candidates', 'm5').candidates.slice(0, 2)) {
      expect(figure('m5', 'robust', person.id).value).toBe(robust);
      expect(figure('m5', 'readAs', person.id).value).toBe(readAs);
    }
    const { value, grounds } = figure('m5', 'robust');
    expect(value).toBe(false);
    expect(ids(grounds)).toEqual(figure('m5', 'hangsOn').value.concat('hang.ratio'));
  });

  test('of a holder over all successions, with as many told as were asked for', () => {
    const { holders } = place.json('provenance', '230');
    const fourth = holders.find(({ robust }: { robust: boolean | null }) => robust === null);
    const { person, share, ...said } = holders[0];
    for (const [name, value] of Object.entries({ holder: share, ...said }))
      expect(figure('230', name, person.id).value, name).toEqual(value);
    expect(figure('230', 'robust', fourth.person?.id ?? 'unrecorded').value).toBeNull();
    const more = ['--chains', '20'];
    const told = place.json('provenance', '230', ...more);
    expect(told.holders[0].share).not.toBe(holders[0].share);
    expect(figure('230', 'holder', ...more).value).toBe(told.holders[0].share);
    expect(figure('230', 'leftOut', ...more).value).toEqual(told.leftOut);
    expect(figure('230', 'chain', '12', ...more).value).toEqual(told.chains[11]);
    const asked = ['230', 'hangsOn', 'Margaret Harcomb', '--without', 'nm2'];
    const { value, without } = figure(...asked);
    expect(value).toContain('nm2');
    expect(without.value).not.toContain('nm2');
  });
});

test.each([
  [['p1', '--chains', '10'], 'Successions are of an object only.'],
  [['p1', '--cost', '10'], 'Look-ups are of a mark or an object only.'],
  [['230', 'holder', '--chains', '0'], 'is no number of successions'],
])('%j', (words, says) => {
  const { status, err } = place.run('grounds', ...words);
  expect(status).toBe(2);
  expect(err).toContain(says);
});
