import { describe, expect, test } from 'vitest';
import { candidatesForText } from '../../src/inquiry/candidates.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import { ledgerOf, SMALL } from '../report/ledgers.ts';

const db = ledgerOf([
  ...SMALL,
  { type: 'person', key: 'clerk', surname: 'Ferrand', forenames: 'Charles' },
  { type: 'person', key: 'holt-2', surname: 'Holt', forenames: 'James' },
]);
/** Everybody of the name of a lieutenant who is no candidate between two years. */
const ruledOut = (text: string, first: number, last: number) =>
  candidatesForText(
    db,
    { text, role: 'owner', parts: {} },
    { tried: 0, between: { from: gregorianDay(first, 1, 1), until: gregorianDay(last + 1, 1, 1) } },
  ).ruledOut.map(({ person, ground, inRank }) => [person.key, ground, inRank.length]);

describe('others of the name, and on which ground they are no candidates', () => {
  test('in the rank at another time: with those days', () =>
    expect(ruledOut('Lieut. Ferrard', 1836, 1838)).toContainEqual(['ferrard', 'time', 1]));
  test('never in the rank', () => expect(ruledOut('Lieut. Ferrand', 1834, 1838)).toContainEqual(['clerk', 'rank', 0]));
  test('nobody of another name, and no candidate', () => {
    const keys = ruledOut('Lieut. Ferrand', 1834, 1838).map(([key]) => key);
    expect(keys).not.toContain('holt-2');
    expect(keys).not.toContain('ferrand');
  });
  test('the nearest name first', () => {
    const { ruledOut: found } = candidatesForText(
      db,
      { text: 'Lieut. Ferr[..]d', role: 'owner', parts: {} },
      { tried: 0, between: { from: gregorianDay(1820, 1, 1), until: gregorianDay(1821, 1, 1) } },
    );
    const bits = found.map((each) => each.bits);
    expect(bits).toEqual([...bits].sort((a, b) => a - b));
    expect(bits.length).toBeGreaterThan(1);
  });
});
