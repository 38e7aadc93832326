import type { LineObject } from './ledgers.ts';

/**
 * What somebody may have typed, or pasted from anywhere: an escape of a terminal, the eight-bit escape, an element, an
 * attribute, an entity, a link and emphasis of Markdown, a formula, a turn of the direction of writing, signs of no room.
 */
export const HOSTILE =
  "=1+1 \u001b[31mred\u009b1m <script>alert(1)</script> \" onload='x' &amp; (a)(http://a.example) *b* `c` | \u202eevil\u202c \u200b\u2060 \u{e0041} {ref} $x$ www.b.example #9";

const h = (lead: string): string => `${lead} ${HOSTILE}`;
/** The same for a forename, in which square brackets stand for lost letters. */
const forename = (lead: string): string => h(lead).replaceAll(/[[\]{}]/g, '');

/** A ledger in which every text that can be anything is hostile. Transcriptions are such as their signs allow. */
export const HOSTILE_LINES: readonly LineObject[] = [
  { type: 'series', key: 'al', name: h('List'), service: 'army' },
  {
    type: 'edition',
    key: 'al-1834',
    series: 'al',
    label: h('1834'),
    asAt: '1834-01-01',
    source: h('S'),
    copy: h('C'),
    shelfmark: h('M'),
  },
  {
    type: 'edition',
    key: 'al-1840',
    series: 'al',
    label: h('1840'),
    asAt: '1840-01-01',
  },
  {
    type: 'person',
    key: h('ferrand'),
    name: h('Ferrand'),
    surname: 'Ferrand',
    forenames: forename('J'),
    born: '1812',
    died: '1871',
    places: [h('Oakhaven')],
    note: h('note'),
  },
  {
    type: 'person',
    key: 'other',
    name: h('Ferrand'),
    surname: 'Ferrand',
    forenames: forename('Jas'),
    born: '1999',
  },
  { type: 'kin', person: h('ferrand'), relation: 'parent', relative: 'other' },
  ...[
    ['al-1834', h('ferrand'), 'Lieut.', '16 May 1833'],
    ['al-1840', 'other', 'Lieut.', '1 Jan. 1834'],
  ].map(([edition, person, rank, dated]) => ({
    type: 'entry',
    edition,
    person,
    name: h('Ferrand'),
    surname: 'Ferrand',
    forenames: forename('J'),
    rank,
    corps: h('2nd Fencibles'),
    dated,
    page: h('12'),
    note: h('n'),
  })),
  { type: 'search', edition: 'al-1840', person: h('ferrand'), outcome: 'not found', note: h('q') },
  { type: 'search', edition: 'al-1840', surname: 'Ferrand', outcome: 'all taken', found: 2 },
  {
    type: 'notice',
    person: h('ferrand'),
    event: 'retired',
    date: '1841',
    source: h('Gazette'),
    note: `\t=2 ${HOSTILE}`,
  },
  { type: 'object', key: 'ob', ref: h('../214'), title: HOSTILE, note: `${h('first')}\n\n${h('# second')}` },
  {
    type: 'feature',
    key: 'f',
    object: 'ob',
    text: h('screws'),
    window: '1820/1850',
    part: h('lid'),
    source: h('book'),
  },
  {
    type: 'mark',
    key: 'm',
    object: 'ob',
    text: 'Lieut. Ferrand \u001b \u202e <script>alert(1)</script> & "x" *b* `c` | =1+1',
    role: 'owner',
    technique: h('ink'),
    where: `@SUM(1) ${HOSTILE}`,
    surname: 'Ferrand',
    rank: 'Lieut.',
  },
  { type: 'reading', mark: 'm', text: 'Lieut. F \u202e <b>', by: `-2 ${HOSTILE}` },
  { type: 'clue', mark: 'm', text: h('Lieut.'), window: 'from 1700', source: h('src'), why: h('why') },
  { type: 'photo', of: 'm', file: h('a.jpg') },
  { type: 'attribution', mark: 'm', person: h('ferrand'), grade: h('surely'), why: h('so') },
  { type: 'setAside', record: 'f', why: h('aside') },
];
