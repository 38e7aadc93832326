import { describe, expect, test } from 'vitest';
import { corpsSlip, initialsSlip, rankSlip, rankWithin } from '../../src/intake/compact-line-slips.ts';
import { corpsKey } from '../../src/services/corps-key.ts';
import { customLadder, shippedLadder } from '../../src/services/ladder.ts';
import { readDate } from '../../src/time/read-date.ts';

const army = shippedLadder('army') ?? customLadder('army', []);
const known = new Map(['2nd Fencibles', '21st Foot', 'Harbour Artillery'].map((text) => [corpsKey(text), text]));

describe('a corps that is new, and a known one but for a slip', () => {
  test.each<[typed: string, meant: string | undefined]>([
    ['2nd Fencbles', '2nd Fencibles'],
    ['2d Fencibels', '2nd Fencibles'],
    ['Habour Artillery', 'Harbour Artillery'],
    ['3rd Fencibles', undefined],
    ['3rd Fencbles', undefined],
    ['22nd Foot', undefined],
    ['Harbour Rangers', undefined],
    ['Royal Harbour Artillery', undefined],
  ])('%s', (typed, meant) => {
    const slip = corpsSlip(typed, known);
    if (meant === undefined) expect(slip).toBe(undefined);
    else expect(slip).toContain(`is it ${meant}?`);
  });
});

describe('a rank misspelt before a name, which would become a forename', () => {
  test.each<[name: string, meant: string | undefined]>([
    ['Brigadeer Charles Oakes', 'Brigadier'],
    ['Captian J. Holt', 'Captain'],
    ['Ensing W. Cope', 'Ensign'],
    ['Charles Oakes', undefined],
    ['J. P. Ferrand', undefined],
    ['Sir Hugh Tresilian', undefined],
    ['Corbet J. Holt', undefined],
    ['Brigadeer', undefined],
    ['Mayer, Ivo', undefined],
  ])('%s', (name, meant) => {
    const slip = rankSlip(name, army);
    if (meant === undefined) expect(slip).toBe(undefined);
    else expect(slip).toContain(`is it the rank ${meant}?`);
  });
});

describe('small letters before a name, which are initials or a rank', () => {
  test.each<[typed: string, meant: string | undefined]>([
    ['qm hobday', 'Quartermaster'],
    ['jp ferrand', undefined],
    ['Q. M. Hobday', undefined],
    ['wm hobday', undefined],
  ])('%s', (typed, meant) => {
    const slip = initialsSlip(typed, { ladder: army, asAt: readDate('1871').span, corps: new Map() });
    if (meant === undefined) expect(slip).toBe(undefined);
    else expect(slip).toContain(`is it the rank ${meant} (^qm)?`);
  });
});

describe('a rank within a name', () => {
  test.each<[name: string, rank: string | undefined]>([
    ['Mjor Maj Philip Sarratt', 'Maj'],
    ['Philip Major Sarratt', undefined],
    ['Philip Sarratt', undefined],
    ['J. M. Sarratt', undefined],
    ['Sir Philip Lieut. Sarratt', 'Lieut.'],
  ])('%s', (name, rank) => {
    const slip = rankWithin(name, { ladder: army, asAt: readDate('1834').span, corps: new Map() });
    if (rank === undefined) expect(slip).toBe(undefined);
    else expect(slip).toContain(`“${rank}” stands within the name`);
  });
});
