import { describe, expect, test } from 'vitest';
import { reportOf } from '../../src/inquiry/report.ts';
import { plainLine } from '../../src/report/lines.ts';
import { attributionSection } from '../../src/report/lot-attribution.ts';
import { notesOf } from '../../src/report/notes.ts';
import { namingOf, wordsOf } from '../../src/report/words.ts';
import { type LineObject, ledgerOf, SMALL } from './ledgers.ts';
import { printed, styleWith } from './printed.ts';

/** Lines of the section, mark by mark. */
function lines(records: readonly LineObject[], style: object = {}): string[] {
  const lot = reportOf(ledgerOf(records), '214', undefined);
  const words = wordsOf(styleWith(style as Record<string, unknown>));
  return attributionSection(lot, words, namingOf(lot, words), notesOf(words, false)).flatMap((block) =>
    block.kind === 'paragraph' ? [plainLine(block.line)] : block.kind === 'items' ? block.items.map(plainLine) : [],
  );
}
const without = (...keys: string[]): LineObject[] => SMALL.filter(({ key }) => !keys.includes(String(key)));
const first = without('m2');
const mark = (text: string): LineObject => ({ type: 'mark', key: 'q', object: '214', text, role: 'owner' });

describe('who a mark names', () => {
  test('the leader with degree, life, post and chance, and when it would have been put on', () => {
    const [line] = lines(first);
    expect(line).toMatch(
      /^Mark 1, “Lieut\. J\. Ferr\[\.\.\]d”: very probably Julian Peter Ferrand \[1812–1871\], Lieutenant, 2nd Fencibles, 16 May 1833 – 7 February 1839, 84 in 100/,
    );
    expect(line).toMatch(/If so, it was put on between 24 September 1833 and 7 February 1839\.$/);
  });
  test('on what it hangs, in the words of a note', () =>
    expect(lines(first)[0]).toContain('on the strength of Oakhaven Patent Rolls, 1830, no. 61 alone'));
  test('without chances, where the house prints none', () =>
    expect(lines(first, { shares: false })[0]).not.toContain('84 in 100'));
  test('nobody, with a degree that the house does not print', () =>
    expect(lines(first, { degrees: ['certain'] })[0]).toContain('nobody can be named with the degree of certainty'));
  test('nobody who fits', () =>
    expect(lines([...without('m1', 'm2'), mark('Capt. R. Quennell')])).toEqual([
      'Mark 1, “Capt. R. Quennell”: nobody recorded fits the reading. That is no finding about the owner.',
    ]));
  test('no mark that names anybody', () => expect(lines(without('m1', 'm2'))).toEqual(['No mark names a holder.']));
  test('the researcher’s own conclusion beside the figures, with its reason', () =>
    expect(
      lines([...first, { type: 'attribution', mark: 'm1', person: 'ferrand', grade: 'surely', why: 'both initials' }]),
    ).toContain('In the researcher’s own opinion: surely Julian Peter Ferrand [1812–1871]. Reason: both initials.'));
});

describe('who else was considered, and on which ground', () => {
  const rivals: readonly LineObject[] = [
    ...first,
    { type: 'person', key: 'late', surname: 'Ferrind', forenames: 'John', died: '1829' },
    {
      type: 'entry',
      edition: 'al-1832',
      person: 'late',
      name: 'J. Ferrind',
      rank: 'Lieut.',
      corps: '4th Fencibles',
      dated: '1820',
    },
    { type: 'person', key: 'clerk', surname: 'Ferrond', forenames: 'James', died: '1850' },
  ];
  test.each<[ground: string, expected: RegExp]>([
    ['days', /^James Ferrard .*: in the rank on at most \d+ of the days .*, against \d+\.$/],
    ['somebody unrecorded', /^Somebody not in the ledger \(.* in 100\)\.$/],
    ['never in the rank', /^James Ferrond \[died 1850\]: ruled out, not known to have held that rank\.$/],
  ])('%s', (_ground, expected) => {
    const found = lines(rivals);
    expect(
      found.some((line) => expected.test(line)),
      found.join('\n'),
    ).toBe(true);
  });
});

test('whoever may be living is not named in any form, nor the mark that names them', () => {
  const db = ledgerOf([
    ...first,
    { type: 'person', key: 'young', surname: 'Quennell', forenames: 'Ann', born: '1990', places: ['Saltmere'] },
    { type: 'kin', person: 'young', relation: 'parent', relative: 'ferrand' },
    { type: 'mark', key: 'q', object: '214', text: 'Ann Quennell', role: 'owner', made: '2015' },
    { type: 'attribution', mark: 'q', person: 'young', why: 'her name' },
  ]);
  for (const format of ['text', 'markdown', 'html', 'csv'] as const)
    expect(printed(db, ['214'], format)).not.toContain('Quennell');
  expect(printed(db, ['214'], 'text', styleWith({ living: 'print' }))).toContain('Ann Quennell [born 1990]');
});
