import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import {
  byRecording,
  conditionClaim,
  datedClaim,
  givesWayBefore,
  lifeClaim,
  listedClaim,
  nilClaim,
  noticeClaim,
  type RecordedClaim,
  sayClaim,
} from '../../src/careers/claims.ts';
import { captain, condition, date, lieutenant, life, listed, major, notFound, notice } from './recorded.ts';

const dated = date('1833-05-16');
const entry = { ...listed('e1', '1838-01-01', captain), page: '213', dated };

describe('claims', () => {
  test.each<[words: string, claim: RecordedClaim]>([
    ['listed as Captain, 2nd Fencibles, edition 1838, p. 213, as at 1 January 1838', listedClaim(entry, DEFAULTS)],
    [
      'listed as Major (brevet), edition 1838, as at 1 January 1838',
      listedClaim(listed('e1', '1838-01-01', major, { kind: 'brevet', corps: undefined }), DEFAULTS),
    ],
    ['dated 16 May 1833 as Captain, 2nd Fencibles, edition 1838, p. 213', datedClaim(entry, dated, DEFAULTS)],
    [
      'promoted Captain, 5th Rangers, 8 February 1839 (Gazette)',
      noticeClaim(notice('n1', 'promoted', '1839-02-08', { rank: captain, corps: '5th Rangers' }), 'start', DEFAULTS),
    ],
    [
      'exchanged, Captain, 5th Rangers, 8 February 1839 (Gazette)',
      noticeClaim(notice('n1', 'exchanged', '1839-02-08', { rank: captain, corps: '5th Rangers' }), 'start', DEFAULTS),
    ],
    [
      'placed on half-pay, 8 February 1839 (Gazette)',
      noticeClaim(notice('n1', 'half-pay', '1839-02-08'), 'end', DEFAULTS),
    ],
    [
      'resigned, 5th Rangers, 8 February 1839 (Gazette)',
      noticeClaim(notice('n1', 'resigned', '1839-02-08', { corps: '5th Rangers' }), 'end', DEFAULTS),
    ],
    ['born 1812-01-01/1812-12-31', lifeClaim(life('p1', '1812-01-01', '1812-12-31'), 'born', DEFAULTS)],
    ['died 4 March 1871 (Gazette)', lifeClaim(notice('n1', 'died', '1871-03-04'), 'died', DEFAULTS)],
    ['not found in edition 1836, as at 1 January 1836', nilClaim(notFound('s1', '1836-01-01'), DEFAULTS)],
    ['at least 730 days in post as Lieutenant', conditionClaim(condition('c1', lieutenant, 730), DEFAULTS)],
    [
      'at least 30 and at most 900 days in post as Lieutenant',
      conditionClaim(condition('c1', lieutenant, 30, 900), DEFAULTS),
    ],
  ])('in words: %s', (words, claim) =>
    expect(sayClaim(claim)).toEqual({ id: claim.record.id, part: claim.part, claim: words }),
  );

  const uncertain = { ...dated, uncertain: true };
  test.each<[rule: string, claim: RecordedClaim, reliability: number]>([
    ['a life date', lifeClaim(life('p1', '1812-01-01'), 'born', DEFAULTS), 10],
    ['a notice', noticeClaim(notice('n1', 'retired', '1839-02-08'), 'end', DEFAULTS), 6],
    ['a condition, as printed as a notice', conditionClaim(condition('c1', captain, 1), DEFAULTS), 6],
    ['a date of rank', datedClaim(entry, dated, DEFAULTS), 4],
    ['a listing', listedClaim(entry, DEFAULTS), 3],
    ['a nil search', nilClaim(notFound('s1', '1836-01-01'), DEFAULTS), 2],
    ['an uncertain date of rank is hearsay', datedClaim(entry, uncertain, DEFAULTS), 1],
    [
      'an uncertain notice is hearsay',
      noticeClaim(notice('n1', 'retired', '1839-02-08', { uncertain: true }), 'end', DEFAULTS),
      1,
    ],
    [
      'a listing in an edition of uncertain date is hearsay',
      listedClaim(listed('e1', '1838-01-01', captain, { uncertain: true }), DEFAULTS),
      1,
    ],
    [
      'a certain date of rank in such an edition is not',
      datedClaim(listed('e1', '1838-01-01', captain, { uncertain: true }), dated, DEFAULTS),
      4,
    ],
  ])('reliability of %s', (_rule, claim, reliability) => expect(claim.reliability).toBe(reliability));

  const keyed = (id: string, key: string) => listedClaim(listed(id, '1838-01-01', captain, { key }), DEFAULTS);
  test.each<[rule: string, first: RecordedClaim, second: RecordedClaim]>([
    [
      'the later source',
      listedClaim(listed('e1', '1839-01-01', captain), DEFAULTS),
      listedClaim(listed('e2', '1838-01-01', captain), DEFAULTS),
    ],
    ['the greater key, whichever was recorded first', keyed('e1', 'zeta'), keyed('e2', 'alpha')],
    [
      'without keys what is said: the rank',
      listedClaim(listed('e1', '1838-01-01', lieutenant), DEFAULTS),
      listedClaim(listed('e2', '1838-01-01', captain), DEFAULTS),
    ],
    [
      'with a key on one side only what is said',
      listedClaim(listed('e1', '1838-01-01', lieutenant), DEFAULTS),
      keyed('e2', 'zeta'),
    ],
    [
      'of two that say the same the greater id',
      listedClaim(listed('e10', '1838-01-01', captain), DEFAULTS),
      listedClaim(listed('e9', '1838-01-01', captain), DEFAULTS),
    ],
    [
      'the date of rank has the day of its list, not its own',
      datedClaim(listed('e1', '1840-01-01', captain), dated, DEFAULTS),
      listedClaim(listed('e2', '1838-01-01', captain), DEFAULTS),
    ],
    [
      'a condition, which has no day, last',
      listedClaim(listed('e1', '1838-01-01', captain), DEFAULTS),
      conditionClaim(condition('c1', captain, 1), DEFAULTS),
    ],
  ])('gives way first: %s', (_rule, first, second) => {
    expect(givesWayBefore(first, second)).toBeLessThan(0);
    expect(givesWayBefore(second, first)).toBeGreaterThan(0);
  });

  test('recorded first: by id, then by what is claimed', () => {
    const claims = [
      listedClaim(entry, DEFAULTS),
      nilClaim(notFound('d1', 1), DEFAULTS),
      datedClaim(entry, dated, DEFAULTS),
    ];
    expect(claims.sort(byRecording).map(({ record, part }) => `${record.id} ${part}`)).toEqual([
      'd1 nil',
      'e1 dated',
      'e1 listed',
    ]);
  });
});
