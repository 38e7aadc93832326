import { describe, expect, test } from 'vitest';
import type { HolderAnswer, ProvenanceAnswer } from '../../src/inquiry/provenance.ts';
import { reportOf } from '../../src/inquiry/report.ts';
import type { LotReport } from '../../src/inquiry/report-lot.ts';
import { plainLine } from '../../src/report/lines.ts';
import { provenanceSection } from '../../src/report/lot-provenance.ts';
import { notesOf } from '../../src/report/notes.ts';
import { namingOf, wordsOf } from '../../src/report/words.ts';
import { ledgerOf, SMALL } from './ledgers.ts';
import { styleWith } from './printed.ts';

const SHOP = {
  type: 'mark',
  key: 'm3',
  object: '214',
  text: 'W. Asher, Stationer',
  role: 'retailer',
  made: '1831/1833',
};
const lot = reportOf(ledgerOf([...SMALL, SHOP]), '214', undefined);
const own = lot.provenance;
if (own === null) throw new Error('no succession');
const ferrand = { id: 'p1', key: 'ferrand', name: 'Julian Peter Ferrand' };
const holt = { id: 'p3', key: 'holt', name: 'Anne Holt' };
const holder = (changes: Partial<HolderAnswer>): HolderAnswer => ({
  ...(own.chains[0]?.holders[0] as HolderAnswer),
  person: ferrand,
  mark: 'm1',
  from: '1833-05-16',
  to: '1839-02-07',
  link: null,
  kinships: [],
  ...changes,
});
const second = (changes: Partial<HolderAnswer> = {}): HolderAnswer =>
  holder({ person: holt, mark: 'm2', from: '1874-01-01', to: '1889-12-31', link: 'other', ...changes });
const GAP = { after: 'm1', before: 'm2', from: '1839-02-08', to: '1873-12-31', days: 1 };

/** The likeliest succession as print has it. */
function text(
  holders: readonly HolderAnswer[],
  given: {
    readonly gaps?: ProvenanceAnswer['chains'][number]['gaps'];
    readonly wording?: string;
    readonly style?: object;
  } = {},
): string {
  const told: LotReport = {
    ...lot,
    provenance: {
      ...(own as NonNullable<typeof own>),
      chains: [{ ...(own?.chains[0] as NonNullable<typeof own>['chains'][number]), holders, gaps: given.gaps ?? [] }],
      holders: [ferrand, holt].map((person) => ({
        ...(own?.holders[0] as NonNullable<typeof own>['holders'][number]),
        person,
        wording: person === holt ? (given.wording ?? 'almost certainly') : 'almost certainly',
      })),
    },
  };
  const words = wordsOf(styleWith({ conventions: false, ...given.style }));
  return provenanceSection(told, words, namingOf(told, words), notesOf(words, false))
    .map((block) => (block.kind === 'paragraph' ? plainLine(block.line) : ''))
    .join('');
}

const FERRAND = 'Almost certainly Julian Peter Ferrand [1812–1871], Oakhaven, 1833–39';
const HOLT = 'Anne Holt [1840–1911], Saltmere, 1874–89';
const SHOP_TEXT = '(Retailer’s mark “W. Asher, Stationer”, 1831–33). ';
const AFTER = ' [Nothing is known after 1889.]';

describe('how it passed', () => {
  test.each<[rule: string, found: string, expected: string]>([
    [
      '1 to recorded kin: a semicolon, and what they are to each other',
      text([holder({}), second({ link: 'kin', kinships: ['k1'] })]),
      `${FERRAND}; almost certainly by descent to Anne Holt [1840–1911], child of the preceding, Saltmere, 1874–89.`,
    ],
    [
      '1 to distant kin',
      text([holder({}), second({ link: 'kin', kinships: ['k1', 'k2'] })]),
      `${FERRAND}; almost certainly by descent to Anne Holt [1840–1911], kin of the preceding, Saltmere, 1874–89.`,
    ],
    [
      '1 to somebody of the same surname: a semicolon, but no more than possibly',
      text([holder({}), second({ link: 'same surname' })]),
      `${FERRAND}; possibly by descent to Anne Holt [1840–1911], of the same surname, Saltmere, 1874–89.`,
    ],
    [
      '2 to kin after a gap: a full stop, and the gap',
      text([holder({}), second({ link: 'kin', kinships: ['k1'] })], { gaps: [GAP] }),
      `${FERRAND}. [No holder is known between 8 February 1839 and 1873.] Almost certainly ${HOLT}.`,
    ],
    [
      '2 to a stranger: a full stop, whatever the days',
      text([holder({}), second()]),
      `${FERRAND}. Almost certainly ${HOLT}.`,
    ],
    [
      '4 the degree before the link is the less firm of the two',
      text([holder({}), second({ link: 'kin', kinships: ['k1'] })], {
        wording: 'possibly, on the strength of e1 alone',
      }),
      `${FERRAND}; possibly by descent to Anne Holt [1840–1911], child of the preceding, Saltmere, 1874–89.`,
    ],
    [
      'the same person again is one holding',
      text([holder({}), second({ person: ferrand, link: 'same' })]),
      'Almost certainly Julian Peter Ferrand [1812–1871], Oakhaven, 1833–89.',
    ],
    [
      'somebody unrecorded',
      text([holder({}), second({ person: null })]),
      `${FERRAND}. An unidentified owner (“Pallant’s Depository, Saltmere. Miss A. Holt”), 1874–89.`,
    ],
    [
      'a degree that the house does not print names nobody',
      text([holder({}), second()], { wording: 'possibly', style: { degrees: ['certain'] } }),
      `${FERRAND}. An unidentified owner (“Pallant’s Depository, Saltmere. Miss A. Holt”), 1874–89.`,
    ],
  ])('%s', (_rule, found, expected) => expect(found).toBe(`${SHOP_TEXT}${expected}${AFTER}`));

  test('3 nobody but the trade', () =>
    expect(text([])).toBe('(Retailer’s mark “W. Asher, Stationer”, 1831–33). [Nothing is known after 1833.]'));
});

test('the latest first, each from whom it came', () =>
  expect(text([holder({}), second({ link: 'kin', kinships: ['k1'] })], { style: { order: 'latest-first' } })).toBe(
    `[Nothing is known after 1889.] Almost certainly ${HOLT}; almost certainly by descent from Julian Peter Ferrand [1812–1871], parent of the following, Oakhaven, 1833–39. (Retailer’s mark “W. Asher, Stationer”, 1831–33).`,
  ));

test('years of life in parentheses or not at all, the trade without', () => {
  expect(text([holder({})], { style: { lifeDates: 'parentheses', trade: 'plain' } })).toBe(
    'Retailer’s mark “W. Asher, Stationer”, 1831–33. Almost certainly Julian Peter Ferrand (1812–1871), Oakhaven, 1833–39. [Nothing is known after 1839.]',
  );
  expect(text([holder({})], { style: { lifeDates: 'none' } })).toContain('Julian Peter Ferrand, Oakhaven');
});
