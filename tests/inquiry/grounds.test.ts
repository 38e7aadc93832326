import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { candidatesForMark } from '../../src/inquiry/candidates.ts';
import { groundsOf } from '../../src/inquiry/grounds.ts';
import { FIGURES } from '../../src/inquiry/grounds-figures.ts';
import type { Ground } from '../../src/inquiry/grounds-tree.ts';
import { lookupsFor } from '../../src/inquiry/lookups.ts';
import { madeOf } from '../../src/inquiry/made.ts';
import { provenanceOf } from '../../src/inquiry/provenance.ts';
import { tenuresOf } from '../../src/inquiry/tenures.ts';
import { parseId } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import { addTo, type Line, ledgerOf, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const entry = (year: number, person: string, rank: string, more: Partial<Line> = {}): Line => ({
  type: 'entry',
  edition: `al-${year}`,
  person,
  name: person,
  rank,
  corps: '2nd Fencibles',
  page: '213',
  ...more,
});

const LINES: readonly Line[] = [
  ...listOf(1832, 1834, 1836, 1838, 1840),
  { type: 'person', key: 'ferrand', name: 'Julian Peter Ferrand', born: '1812' },
  { type: 'person', key: 'other', name: 'James Ferrand' },
  entry(1834, 'ferrand', 'Ensign'),
  entry(1836, 'ferrand', 'Lieut.', { dated: '5 May 1835' }),
  entry(1838, 'ferrand', 'Lieut.', { dated: '5 May 1835' }),
  entry(1840, 'ferrand', 'Captain'),
  entry(1832, 'other', 'Lieut.'),
  entry(1840, 'other', 'Lieut.'),
  { type: 'search', edition: 'al-1832', person: 'ferrand', outcome: 'not found' },
  slope('1800/1900'),
  { type: 'feature', object: 'slope', text: 'patent lock', window: '1830/..', force: 'hard' },
  { type: 'feature', object: 'slope', text: 'hand-filed screws', window: '../1845' },
  { type: 'mark', key: 'm-a', object: 'slope', text: 'Lieut. J. Ferr[..]d', role: 'owner' },
  { type: 'mark', key: 'm-b', object: 'slope', text: 'Asher, stationer', role: 'retailer', made: '1834/1836' },
];

/** Every node of the trees, depth first. */
const nodes = (grounds: readonly Ground[]): Ground[] => grounds.flatMap((each) => [each, ...nodes(each.grounds)]);

const figureOf = (db: Db, id: string, ...words: string[]) => {
  const [first] = groundsOf(db, id, words).figures;
  return first ?? expect.unreachable();
};

describe('every figure has its grounds', () => {
  test('the four bounds of every tenure are those that tenures gives, down to entries, pages, editions and acts', () => {
    const db = ledgerOf(...LINES);
    const { tenures } = tenuresOf(db, 'ferrand');
    expect(tenures).toHaveLength(3);
    for (const { id, start, end, grounds } of tenures) {
      const given = {
        startEarliest: start.earliest,
        startLatest: start.latest,
        endEarliest: end.earliest,
        endLatest: end.latest,
      };
      for (const [bound, value] of Object.entries(given)) {
        const figure = figureOf(db, id, bound);
        expect(figure.value).toBe(value);
        const claims = nodes(figure.grounds).filter(({ what }) => what === 'claim');
        expect([...new Set(claims.map((claim) => claim.id))].sort()).toEqual(
          [...grounds[bound as 'startLatest']].sort(),
        );
        for (const claim of claims.filter(({ id: record }) => record?.startsWith('e'))) {
          const below = nodes(claim.grounds);
          expect(below.some(({ what, says }) => what === 'record' && says.includes('p. 213'))).toBe(true);
          expect(below.some(({ id: edition }) => edition !== null && parseId(edition)?.kind.kind === 'edition')).toBe(
            true,
          );
          expect(below.some(({ what, says }) => what === 'act' && says.includes('tester'))).toBe(true);
        }
      }
    }
  });

  test('a bound that follows from another post goes on to that post', () => {
    const figure = figureOf(ledgerOf(...LINES), 'p1.1', 'end latest');
    expect(figure.figure).toBe('endLatest');
    expect(
      nodes(figure.grounds)
        .filter(({ what }) => ['rule', 'figure', 'claim'].includes(what))
        .map(({ says }) => says),
    ).toEqual([
      'Lieutenant, 2nd Fencibles begins no earlier than it ends',
      'Lieutenant, 2nd Fencibles began at the latest on 5 May 1835',
      'dated 5 May 1835 as Lieutenant, 2nd Fencibles, edition 1836, p. 213',
    ]);
  });

  test('a person: all bounds of all tenures', () => {
    const { figures, of } = groundsOf(ledgerOf(...LINES), 'Julian Peter Ferrand', []);
    expect(of.id).toBe('p1');
    expect(figures.map(({ of: tenure }) => tenure)).toEqual(['p1.1', 'p1.2', 'p1.3'].flatMap((id) => [id, id, id, id]));
  });

  test('figures of a mark are those that candidates gives', () => {
    const db = ledgerOf(...LINES);
    const answer = candidatesForMark(db, 'm-a', { tried: 5 });
    expect(answer.candidates.length).toBe(2);
    expect(figureOf(db, 'm-a', 'window').value).toEqual({ from: answer.window.from, to: answer.window.to });
    expect(figureOf(db, 'm-a', 'unrecorded').value).toBe(answer.unrecorded.share);
    expect(figureOf(db, 'm-a', 'expected').value).toBe(answer.unrecorded.expected);
    for (const candidate of answer.candidates) {
      for (const name of [
        'share',
        'standing',
        'bits',
        'possibleOverlap',
        'certainOverlap',
        'relations',
        'markedBetween',
        'hangsOn',
        'provisional',
        'wording',
      ] as const)
        expect([name, figureOf(db, 'm1', name, candidate.person.id).value]).toEqual([name, candidate[name]]);
    }
    const share = figureOf(db, 'm-a', 'share');
    expect(share.value).toBe(answer.candidates[0]?.share);
    const said = nodes(share.grounds)
      .map(({ says }) => says)
      .join('\n');
    for (const part of [
      'surname:',
      'put on',
      'began at the latest',
      'other candidate',
      'unrecorded',
      'delay.owner.soon',
      'in-post',
      'patent lock',
    ])
      expect(said).toContain(part);
  });

  test('of several readings the one by which a candidate fits', () => {
    const db = ledgerOf(...LINES, { type: 'reading', mark: 'm-a', text: 'Lieut. J. Farrand', by: 'second reader' });
    for (const { person, share } of candidatesForMark(db, 'm-a', { tried: 0 }).candidates) {
      const figure = figureOf(db, 'm1', 'share', person.id);
      expect(figure.value).toBe(share);
      expect(figure.says).toContain(`${(share * 100).toFixed(1)} %`);
      expect(figure.grounds[0]?.says).toContain('one of 2 readings that count alike');
    }
  });

  test('figures of an object are those that made and provenance give', () => {
    const db = ledgerOf(...LINES);
    const made = madeOf(db, '214');
    expect(figureOf(db, '214', 'span').value).toEqual(made.span);
    expect(figureOf(db, '214', 'half').value).toEqual(made.half);
    expect(figureOf(db, '214', 'phrase').value).toBe(made.phrase);
    expect(figureOf(db, '214', 'span with marks').value).toEqual(made.withMarks?.span);
    expect(figureOf(db, '214', 'phraseWithMarks').value).toBe(made.withMarks?.phrase);
    expect(figureOf(db, '214', 'horizon').value).toEqual({ from: '1800-01-01', to: '1900-12-31' });
    const provenance = provenanceOf(db, '214', 3);
    expect(figureOf(db, '214', 'chain', '1').value).toEqual(provenance.chains[0]);
    for (const { person, share } of provenance.holders)
      expect(figureOf(db, '214', 'holder', person?.id ?? 'unrecorded').value).toBe(share);
  });

  test('assumptions, with the act that changed them', () => {
    const db = ledgerOf(...LINES);
    expect(figureOf(db, 'tenure.mean').value).toBe('8');
    addTo(db, [{ type: 'assumption', name: 'tenure.mean', value: '11', why: 'counted' }]);
    const changed = figureOf(db, 'tenure.mean');
    expect(changed.value).toBe('11');
    expect(changed.says).toContain('8 unless changed');
    expect(changed.grounds.map(({ id }) => id)).toEqual(['act 2']);
  });

  test('a record: where it comes from, and what rests on it', () => {
    const db = ledgerOf(...LINES);
    const said = figureOf(db, 'e2')
      .grounds.map(({ says }) => says)
      .join('\n');
    expect(said).toContain('it shows: Julian Peter Ferrand, Lieutenant, 2nd Fencibles');
    expect(said).toContain('on it rests: Lieutenant, 2nd Fencibles began at the latest on 5 May 1835');
    addTo(db, [{ type: 'setAside', record: 'e2', why: 'slid a line' }]);
    expect(
      figureOf(db, 'e2')
        .grounds.map(({ says }) => says)
        .join('\n'),
    ).toContain('set aside by the researcher: slid a line');
  });

  test('a look-up that is worth something', () => {
    const db = ledgerOf(
      ...listOf(1832, 1834, 1836, 1838, 1840, 1842),
      { type: 'person', key: 'ferrand', name: 'Julian Peter Ferrand' },
      { type: 'person', key: 'other', name: 'James Ferrand' },
      entry(1834, 'ferrand', 'Lieut.'),
      entry(1840, 'other', 'Lieut.'),
      slope(),
      { type: 'mark', key: 'm-a', object: 'slope', text: 'Lieut. J. Ferrand', role: 'owner', made: '1837' },
    );
    const { lookups } = lookupsFor(db, 'm1', { limit: 5, cost: { usual: 0, ofSeries: new Map() }, plan: undefined });
    expect(lookups.length).toBeGreaterThan(0);
    for (const { edition, person, surname, gain, answers } of lookups) {
      const figure = figureOf(db, 'm1', 'gain', edition.id, person?.id ?? surname ?? '');
      expect(figure.value).toBeCloseTo(gain, 9);
      expect(figure.grounds.filter(({ says }) => says.includes('a chance of'))).toHaveLength(answers.length);
    }
  });
});

describe('had a record not existed', () => {
  test('the figure without it is that of a ledger that never had it', () => {
    const without = (place: number): Db => ledgerOf(...LINES.filter((_, at) => at !== place));
    const db = ledgerOf(...LINES);
    const dated = LINES.findIndex(({ type, dated: on }) => type === 'entry' && on !== undefined);
    const lock = LINES.findIndex(({ text }) => text === 'patent lock');
    const [bound] = groundsOf(db, 'p1.2', ['startLatest'], { without: ['e2', 'e3'] }).figures;
    expect(bound?.value).toBe('1835-05-05');
    const bare = ledgerOf(...LINES.filter(({ dated: on }) => on === undefined));
    expect(bound?.without?.value).toBe(tenuresOf(bare, 'ferrand').tenures[1]?.start.latest);
    expect(
      groundsOf(ledgerOf(...LINES), 'm-a', ['share', 'ferrand'], { without: ['e2'] }).figures[0]?.without?.value,
    ).toBe(
      candidatesForMark(without(dated), 'm-a', { tried: 0 }).candidates.find(({ person }) => person.key === 'ferrand')
        ?.share,
    );
    expect(groundsOf(ledgerOf(...LINES), '214', ['span'], { without: ['f1'] }).figures[0]?.without?.value).toEqual(
      madeOf(without(lock), '214').span,
    );
  });

  test('a tenure keeps its post, not its number', () => {
    const { figures } = groundsOf(ledgerOf(...LINES), 'p1.2', ['startLatest'], { without: ['e1'] });
    expect(figures[0]?.without?.value).toBe('1835-05-05');
  });

  test('what is there no more is said', () => {
    const gone = (id: string, words: string[], without: string[]) =>
      groundsOf(ledgerOf(...LINES), id, words, { without }).figures[0]?.without;
    expect(gone('p1.3', ['startLatest'], ['e4'])).toEqual({
      value: null,
      says: 'nothing shows that Captain, 2nd Fencibles was ever held',
    });
    expect(gone('m1', ['share', 'p2'], ['p2'])?.value).toBeNull();
    expect(gone('m1', ['window'], ['m1'])?.value).toBeNull();
  });

  test('with a record goes what cannot be without it', () => {
    const { without } = groundsOf(ledgerOf(...LINES), 'p1.1', ['startEarliest'], { without: ['ed1'] });
    expect(without).toEqual({ ids: ['ed1'], with: ['q1'] });
  });
});

test('what hangs on the roles of a mark, and the candidates left out of successions', () => {
  const mark = {
    type: 'mark' as const,
    object: '214',
    text: 'Lieut. J. Ferrand',
    role: { owner: 0.7, depository: 0.2, maker: 0.1 },
  };
  const db = ledgerOf(...LINES, { ...mark, key: 'uncertain' });
  const [id] = db.prepare("SELECT 'm' || id FROM current_mark WHERE key = 'uncertain'").pluck().all() as string[];
  const answer = candidatesForMark(db, id as string, { tried: 0 });
  const noHolder = figureOf(db, id as string, 'noHolder');
  expect(noHolder.value).toBeCloseTo(answer.noHolder.share, 12);
  expect(noHolder.grounds.filter(({ what }) => what === 'figure')).toHaveLength(3);
  for (const { role, weight, leaderShare, first, window } of answer.mark.roles)
    expect(figureOf(db, id as string, 'role', role).value).toEqual({ weight, leaderShare, first, window });
  expect(() => groundsOf(db, id as string, ['role', 'sale'])).toThrow(/has no role sale/);
  expect(() => groundsOf(db, id as string, ['role'])).toThrow(/Which role/);
  expect(figureOf(db, '214', 'leftOut').value).toEqual(provenanceOf(db, '214', 5).leftOut);
});

describe('mistakes', () => {
  test.each<[id: string, words: string[], told: RegExp]>([
    ['p1.1', ['beginning'], /startEarliest, startLatest/],
    ['m1', ['sahre'], /share \[PERSON\]/],
    ['214', ['spna'], /spanWithMarks/],
  ])('%s %s: the figures are listed', (id, words, told) => {
    expect(() => groundsOf(ledgerOf(...LINES), id, words)).toThrow(HeldbyError);
    try {
      groundsOf(ledgerOf(...LINES), id, words);
    } catch (error) {
      expect((error as HeldbyError).code).toBe('USAGE');
      expect((error as HeldbyError).hint).toMatch(told);
    }
  });

  test('a tenure or candidate that there is not', () => {
    expect(() => groundsOf(ledgerOf(...LINES), 'p1.9', [])).toThrow(/has no tenure/);
    expect(() =>
      groundsOf(ledgerOf(...LINES, { type: 'person', name: 'Anne Holt' }), 'm1', ['share', 'Anne Holt']),
    ).toThrow(/no candidate/);
  });

  test('every figure that the help names can be asked for', () => {
    const db = ledgerOf(...LINES);
    const ids = {
      tenure: 'p1.2',
      person: 'p1',
      mark: 'm1',
      object: 'o1',
      assumption: 'circa',
      record: 's1',
      entry: 'e1',
      careers: 'careers',
      conflicts: 'conflicts',
    } as const;
    for (const [is, id] of Object.entries(ids))
      for (const { name } of FIGURES[is as keyof typeof ids]) {
        if (name === 'gain' || name === 'role') continue; // takes more words
        if (name === 'estimate') continue; // takes more tenures
        const { says } = figureOf(db, id, name);
        expect(says.length, `${id} ${name}`).toBeGreaterThan(3);
      }
  });
});
