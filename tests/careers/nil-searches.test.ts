import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { findAppointments } from '../../src/careers/appointments.ts';
import { makeModel } from '../../src/careers/constraints.ts';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { placeNilSearches } from '../../src/careers/nil-searches.ts';
import {
  captain,
  colonel,
  condition,
  date,
  evidence,
  lieutenant,
  listed,
  major,
  notFound,
  notice,
  office,
} from './recorded.ts';

/** What becomes of each nil search: "gap 1", "omission against e1 e2", or the reason why it is not used. */
function place(parts: Partial<CareerEvidence>, aside: readonly string[] = []): string[] {
  const whole = evidence(parts);
  const model = makeModel(whole, findAppointments(whole), DEFAULTS);
  const off = new Uint8Array(model.positive.length + model.nilSearches.length);
  [...model.positive, ...model.nilSearches].forEach(({ record, part }, k) => {
    if (aside.includes(`${record.id} ${part}`)) off[k] = 1;
  });
  const { used, omissions, unused } = placeNilSearches(model, off);
  return model.nilSearches.flatMap(({ record }, k) => {
    const claim = model.positive.length + k;
    return [
      ...used
        .filter((one) => one.claim === claim)
        .map(({ gapAfter, edges }) => `used ${gapAfter ?? '-'}: ${edges.join('; ')}`),
      ...omissions
        .filter((one) => one.claim === claim)
        .map(({ against }) => `omission against ${against.map((other) => model.positive[other]?.record.id).join(' ')}`),
      ...unused.filter(({ id }) => id === record.id).map(({ reason }) => reason),
    ];
  });
}

const SEVERAL = 'It could lie in more than one gap of the succession.';

describe('placeNilSearches', () => {
  test.each<[rule: string, parts: Partial<CareerEvidence>, expected: readonly string[]]>([
    [
      'before the first: the start comes after it',
      { entries: [listed('e1', 100, captain)], nilSearches: [notFound('s1', 50)] },
      ['used -: 0,1,-51'],
    ],
    [
      'after the last: the end comes no later',
      { entries: [listed('e1', 100, captain)], nilSearches: [notFound('s1', 150)] },
      ['used -: 2,0,150'],
    ],
    [
      'between two posts: one ended and the other not begun',
      { entries: [listed('e1', 100, lieutenant), listed('e2', 200, captain)], nilSearches: [notFound('s1', 150)] },
      ['used 0: 2,0,150; 0,3,-151; 2,3,-1'],
    ],
    [
      'an edition that lags reaches back, one that stands for a time reaches on',
      { entries: [listed('e1', 100, captain)], nilSearches: [notFound('s1', 150, { last: 160, lag: 20 })] },
      ['used -: 2,0,160'],
    ],
    [
      'before or after, where the post can lie on both sides of it',
      { entries: [listed('e1', 100, captain, { last: 200 })], nilSearches: [notFound('s1', 150)] },
      [SEVERAL],
    ],
    [
      'two gaps about an implied rank',
      { entries: [listed('e1', 100, lieutenant), listed('e2', 200, major)], nilSearches: [notFound('s1', 150)] },
      [SEVERAL],
    ],
    [
      'a notice of the next start leaves only the gap before it',
      {
        entries: [listed('e1', 100, lieutenant), listed('e2', 200, captain)],
        notices: [notice('n1', 'promoted', 120, { rank: captain, corps: '2nd Fencibles' })],
        nilSearches: [notFound('s1', 110), notFound('s2', 150)],
      },
      ['used 0: 2,0,110; 0,3,-111; 2,3,-1', 'omission against n1 e2'],
    ],
    [
      'a condition of service can close a gap',
      {
        entries: [listed('e1', 100, lieutenant, { dated: date(100) }), listed('e2', 200, captain)],
        conditions: [condition('c1', lieutenant, 60)],
        nilSearches: [notFound('s1', 150)],
      },
      ['omission against e1 c1'],
    ],
    [
      'between two listings in one post: the printer’s omission, told with the nearest two',
      {
        entries: [
          listed('e1', 100, captain),
          listed('e2', 200, captain),
          listed('e3', 300, captain),
          listed('e4', 400, captain),
        ],
        nilSearches: [notFound('s1', 250)],
      },
      ['omission against e2 e3'],
    ],
    [
      'listed and not found in one edition',
      { entries: [listed('e1', 100, captain)], nilSearches: [notFound('s1', 100)] },
      ['omission against e1'],
    ],
    [
      'of another service',
      { entries: [listed('e1', 100, captain)], nilSearches: [notFound('s1', 150, { service: 'navy' })] },
      ['No post in the service "navy" is known that it could bound.'],
    ],
    [
      'only what is held beside a succession is known',
      { entries: [listed('e1', 100, captain, { kind: 'brevet' })], nilSearches: [notFound('s1', 150)] },
      ['No post in the service "army" is known that it could bound.'],
    ],
    [
      'without a ladder as with one',
      {
        entries: [listed('e1', 100, office('warden')), listed('e2', 200, office('clerk'))],
        nilSearches: [notFound('s1', 150, { service: 'harbour board' })],
      },
      ['used 0: 2,0,150; 0,3,-151; 2,3,-1'],
    ],
  ])('%s', (_rule, parts, expected) => expect(place(parts)).toEqual(expected));

  test('positive claims that are set aside say nothing, and a nil search that is set aside is left out', () => {
    const parts = {
      entries: [listed('e1', 100, captain), listed('e2', 300, captain)],
      nilSearches: [notFound('s1', 200)],
    };
    expect(place(parts)).toEqual(['omission against e1 e2']);
    expect(place(parts, ['e2 listed'])).toEqual(['used -: 2,0,200']);
    expect(place(parts, ['s1 nil'])).toEqual([]);
  });

  const row = (asAt: readonly number[]): Partial<CareerEvidence> => ({
    entries: [listed('e1', 100, captain), listed('e2', 900, captain), listed('e3', 1000, colonel)],
    nilSearches: asAt.map((day, k) => notFound(`s${k}`, day)),
  });
  const breakReason =
    'One of 3 searches in a row that did not find the name between two listings as Captain, 2nd Fencibles: likely a break of service, for the researcher to decide.';

  test.each<[rule: string, parts: Partial<CareerEvidence>, reasons: number]>([
    ['three in a row', row([200, 300, 400]), 3],
    ['two in a row are not enough', row([200, 300]), 0],
    ['three in one edition are one', row([200, 200, 200]), 0],
    [
      'a listing between breaks the row',
      { ...row([200, 300, 500]), entries: [...(row([]).entries ?? []), listed('e4', 400, captain)] },
      0,
    ],
  ])('a likely break of service: %s', (_rule, parts, reasons) => {
    const told = place(parts);
    expect(told.filter((one) => one === breakReason)).toHaveLength(reasons);
    expect(told.filter((one) => one.startsWith('omission'))).toHaveLength(parts.nilSearches?.length ?? 0);
  });
});
