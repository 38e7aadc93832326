import { describe, expect, test } from 'vitest';
import { reportOf } from '../../src/inquiry/report.ts';
import { indexedLot, indexPage } from '../../src/report/index-page.ts';
import { plainLine } from '../../src/report/lines.ts';
import { attributionSection } from '../../src/report/lot-attribution.ts';
import { notesOf } from '../../src/report/notes.ts';
import { namingOf, wordsOf } from '../../src/report/words.ts';
import { type LineObject, ledgerOf, SMALL } from './ledgers.ts';
import { printed, styleWith } from './printed.ts';

/** Lines of the section, mark by mark, without what it says of its figures. */
const lines = (records: readonly LineObject[], style: object = {}): string[] =>
  allLines(records, style).filter((line) => !line.startsWith('“In 100”'));

function allLines(records: readonly LineObject[], style: object = {}): string[] {
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
  test('on what it hangs: a trait by what it is', () =>
    expect(lines(first)[0]).toContain(
      'on the strength of “lock stamped TOLLAND’S PATENT, granted on 11 May 1830” alone',
    ));
  test('what the chances are, where any is printed', () => {
    expect(allLines(first)[0]).toMatch(/^“In 100”: so many chances in a hundred/);
    expect(allLines(first, { shares: false })[0]).toMatch(/^Mark 1/);
    expect(allLines([...without('m1', 'm2'), mark('Capt. R. Quennell')])[0]).toMatch(/^Mark 1/);
  });
  test('all marks together, and that they count where they name another', () => {
    expect(lines(SMALL)).toContain('By all marks together: almost certainly Julian Peter Ferrand (98 in 100).');
    const other = [
      ...without('m1', 'm2'),
      { type: 'person', key: 'mo', surname: 'Quill', forenames: 'Mary', born: '1800', died: '1880' },
      { type: 'person', key: 'ma', surname: 'Quill', forenames: 'Martha', born: '1801', died: '1850' },
      { type: 'person', key: 'da', surname: 'Osgood', forenames: 'Ann', born: '1830', died: '1890' },
      { type: 'kin', person: 'ma', relation: 'parent', relative: 'da' },
      { ...mark('M. Quill'), key: 'q1' },
      { ...mark('Ann Osgood'), key: 'q2', made: '1870' },
    ];
    expect(lines(other).filter((line) => line.startsWith('Mark 1') || line.startsWith('By all'))).toEqual([
      expect.stringMatching(/^Mark 1, “M. Quill”: possibly Mary Quill/),
      expect.stringMatching(/^By all marks together, which is what counts below: .*Martha Quill/),
      expect.stringMatching(/^By all marks together: almost certainly Ann Osgood/),
    ]);
  });
  test('the nearest beyond the reading, and how far off that is', () =>
    expect(
      lines([
        ...without('m1', 'm2'),
        { type: 'person', key: 'near', surname: 'Quarrell', forenames: 'Robert' },
        { type: 'entry', edition: 'al-1832', person: 'near', rank: 'Capt.', corps: '4th Fencibles', dated: '1820' },
        mark('Capt. R. Quennell'),
      ])[0],
    ).toContain(
      'Nearest, but too far off to count: Robert Quarrell (a mark of theirs would read so once in some 2,000,000 times).',
    ));
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
    ['days', /^James Ferrard .*: in the rank on at most \d+ of the days .*, against \d+ for Julian Peter Ferrand\.$/],
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
  const naming = first.map((line) =>
    line['type'] === 'object'
      ? { ...line, title: 'Miss Quennell’s writing slope', note: 'Given by Ann Quennéll.' }
      : line['key'] === 'm1'
        ? { ...line, where: 'on the Quennell side' }
        : line,
  );
  const db = ledgerOf([
    ...naming,
    { type: 'person', key: 'young', surname: 'Quennell', forenames: 'Ann', born: '1990', places: ['Saltmere'] },
    { type: 'kin', person: 'young', relation: 'parent', relative: 'ferrand' },
    { type: 'mark', key: 'q', object: '214', text: 'Ann Quennell', role: 'owner', made: '2015' },
    { type: 'attribution', mark: 'q', person: 'young', why: 'Quennell is her name' },
    { type: 'feature', object: '214', text: 'QUENNELL on the key', part: 'key of A. Quennell', window: '1800/1850' },
  ]);
  for (const format of ['text', 'markdown', 'html', 'csv', 'json'] as const)
    expect(printed(db, ['214'], format).normalize('NFD').replaceAll(/\p{M}/gu, '')).not.toMatch(/quennell/i);
  const json = printed(db, ['214'], 'json');
  expect(json).toContain('"name": "a private person"');
  expect(json).not.toContain('1990');
  const words = wordsOf(styleWith());
  const inIndex = indexedLot(reportOf(db, '214', undefined), words, null);
  expect(indexPage([inIndex], words, 'text', '')).not.toMatch(/quennell/i);
  expect(printed(db, ['214'], 'text', styleWith({ living: 'print' }))).toContain('Ann Quennell [born 1990]');
});
