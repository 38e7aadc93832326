import { describe, expect, test } from 'vitest';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { gatherPosts } from '../../src/careers/posts.ts';
import { adjutant, captain, evidence, lieutenant, listed, major, notice, office } from './recorded.ts';

/** Each post as "rank, corps: attested; left". */
function told(parts: Partial<CareerEvidence>): string[] {
  return gatherPosts(evidence(parts)).posts.map(({ rank, corps, kind, attested, leavings }) => {
    const name = `${rank.id}${kind === 'substantive' ? '' : ` ${kind}`}, ${corps?.name ?? '?'}`;
    return `${name}: ${attested.map(({ record }) => record.id).join(' ')}; ${leavings.map(({ id }) => id).join(' ')}`;
  });
}

const unusedBy = (parts: Partial<CareerEvidence>): string[] => gatherPosts(evidence(parts)).unused.map(({ id }) => id);

describe('gatherPosts', () => {
  test.each<[rule: string, parts: Partial<CareerEvidence>, posts: readonly string[]]>([
    [
      'the same rank, corps and kind is one post, by the middle of its records',
      { entries: [listed('e1', 200, captain), listed('e2', 100, captain)] },
      ['captain, 2nd Fencibles: e2 e1; '],
    ],
    [
      'another corps, rank or kind is another',
      {
        entries: [
          listed('e1', 100, captain),
          listed('e2', 200, captain, { corps: '5th Rangers' }),
          listed('e3', 300, major),
          listed('e4', 300, major, { kind: 'brevet' }),
        ],
      },
      [
        'captain, 2nd Fencibles: e1; ',
        'captain, 5th Rangers: e2; ',
        'major, 2nd Fencibles: e3; ',
        'major brevet, 2nd Fencibles: e4; ',
      ],
    ],
    [
      'a notice of its start belongs to it',
      {
        entries: [listed('e1', 100, captain)],
        notices: [notice('n1', 'promoted', 90, { rank: captain, corps: '2nd Fencibles' })],
      },
      ['captain, 2nd Fencibles: n1 e1; '],
    ],
    [
      'without a corps, the post in that rank',
      { entries: [listed('e1', 100, captain)], notices: [notice('n1', 'promoted', 90, { rank: captain })] },
      ['captain, 2nd Fencibles: n1 e1; '],
    ],
    [
      'without a corps and with several posts, an entry goes to the one then attested',
      {
        entries: [
          listed('e1', 100, captain),
          listed('e2', 200, captain),
          listed('e3', 300, captain, { corps: '5th Rangers' }),
          listed('e4', 400, captain, { corps: '5th Rangers' }),
          listed('e5', 180, captain, { corps: undefined }),
          listed('e6', 330, captain, { corps: undefined }),
        ],
      },
      ['captain, 2nd Fencibles: e1 e5 e2; ', 'captain, 5th Rangers: e3 e6 e4; '],
    ],
    [
      'without a corps and with several posts, a start goes to the one whose records begin nearest',
      {
        entries: [listed('e1', 100, captain), listed('e2', 300, captain, { corps: '5th Rangers' })],
        notices: [notice('n1', 'exchanged', 290, { rank: captain })],
      },
      ['captain, 2nd Fencibles: e1; ', 'captain, 5th Rangers: n1 e2; '],
    ],
    [
      'without a corps anywhere, a post without one',
      { entries: [listed('e1', 100, captain, { corps: undefined })] },
      ['captain, ?: e1; '],
    ],
    [
      'a start without a rank, but in a known corps',
      {
        entries: [listed('e1', 100, captain), listed('e2', 300, captain, { corps: '5th Rangers' })],
        notices: [notice('n1', 'exchanged', 250, { corps: '5th Rangers' })],
      },
      ['captain, 2nd Fencibles: e1; ', 'captain, 5th Rangers: n1 e2; '],
    ],
    [
      'leaving, by rank and corps',
      {
        entries: [listed('e1', 100, captain)],
        notices: [notice('n1', 'retired', 150, { rank: captain, corps: '2nd Fencibles' })],
      },
      ['captain, 2nd Fencibles: e1; n1'],
    ],
    [
      'leaving without a rank: the post then held is the highest begun by then',
      {
        entries: [listed('e1', 100, lieutenant), listed('e2', 200, captain), listed('e3', 300, major)],
        notices: [notice('n1', 'half-pay', 250)],
      },
      ['lieutenant, 2nd Fencibles: e1; ', 'captain, 2nd Fencibles: e2; n1', 'major, 2nd Fencibles: e3; '],
    ],
    [
      'leaving on the day on which a post began is leaving the one before',
      {
        entries: [listed('e1', 100, lieutenant)],
        notices: [
          notice('n1', 'promoted', 250, { rank: captain, corps: '2nd Fencibles' }),
          notice('n2', 'half-pay', 250),
        ],
      },
      ['lieutenant, 2nd Fencibles: e1; n2', 'captain, 2nd Fencibles: n1; '],
    ],
    [
      'leaving before a list of within its lag',
      { entries: [listed('e1', 100, captain, { lag: 30 })], notices: [notice('n1', 'half-pay', 90)] },
      ['captain, 2nd Fencibles: e1; n1'],
    ],
    [
      'leaving with a rank but no corps: the last post in that rank',
      {
        entries: [listed('e1', 100, captain), listed('e2', 200, captain, { corps: '5th Rangers' })],
        notices: [notice('n1', 'retired', 300, { rank: captain })],
      },
      ['captain, 2nd Fencibles: e1; ', 'captain, 5th Rangers: e2; n1'],
    ],
    [
      'leaving with a rank not otherwise known makes the post known',
      { entries: [listed('e1', 100, captain)], notices: [notice('n1', 'retired', 300, { rank: major })] },
      ['captain, 2nd Fencibles: e1; ', 'major, ?: ; n1'],
    ],
    [
      'leaving a named post that is attested only later is of that post',
      { entries: [listed('e1', 200, captain)], notices: [notice('n1', 'half-pay', 100, { rank: captain })] },
      ['captain, 2nd Fencibles: e1; n1'],
    ],
    [
      'leaving without a service: the service last attested',
      {
        entries: [listed('e1', 100, captain), listed('e2', 200, office('warden'), { corps: undefined })],
        notices: [notice('n1', 'resigned', 300)],
      },
      ['captain, 2nd Fencibles: e1; ', 'warden, ?: e2; n1'],
    ],
    [
      'leaving without a rank never ends what is held beside a post',
      {
        entries: [listed('e1', 100, lieutenant), listed('e2', 200, adjutant)],
        notices: [notice('n1', 'half-pay', 300)],
      },
      ['lieutenant, 2nd Fencibles: e1; n1', 'adjutant, 2nd Fencibles: e2; '],
    ],
    [
      'leaving what is held beside a post, by its rank',
      {
        entries: [listed('e1', 100, lieutenant), listed('e2', 200, adjutant, { kind: 'staff' })],
        notices: [notice('n1', 'resigned', 300, { rank: adjutant, corps: '2nd Fencibles' })],
      },
      ['lieutenant, 2nd Fencibles: e1; ', 'adjutant staff, 2nd Fencibles: e2; n1'],
    ],
  ])('%s', (_rule, parts, posts) => expect(told(parts)).toEqual(posts));

  test.each<[rule: string, parts: Partial<CareerEvidence>]>([
    [
      'a start without rank and corps',
      { entries: [listed('e1', 100, captain)], notices: [notice('n1', 'promoted', 90)] },
    ],
    [
      'a start without a rank in an unknown corps',
      { entries: [listed('e1', 100, captain)], notices: [notice('n1', 'exchanged', 90, { corps: '5th Rangers' })] },
    ],
    [
      'leaving before anything is known to be held',
      { entries: [listed('e1', 100, captain)], notices: [notice('n1', 'half-pay', 90)] },
    ],
    [
      'leaving a corps in which nothing is known',
      { entries: [listed('e1', 100, captain)], notices: [notice('n1', 'half-pay', 190, { corps: '5th Rangers' })] },
    ],
  ])('not used: %s', (_rule, parts) => expect(unusedBy(parts)).toEqual(['n1']));
});
