import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { type CompactLine, compactReader, type Standing } from '../../src/intake/compact-line.ts';
import { readName } from '../../src/names/name.ts';
import { corpsKey } from '../../src/services/corps-key.ts';
import { customLadder, shippedLadder } from '../../src/services/ladder.ts';
import { readRank } from '../../src/services/read-rank.ts';
import { isoDay } from '../../src/time/calendar.ts';
import { readDate } from '../../src/time/read-date.ts';
import lists from './data/five-lists.json' with { type: 'json' };
import page from './data/printed-page.json' with { type: 'json' };

const army = shippedLadder('army') ?? customLadder('army', []);
const asAt = readDate('1 Jan. 1834').span;
const knownCorps = ['2nd Fencibles', '21st Fencibles', '21st Foot', 'Harbour Artillery'];

const reader = (monthFirst = false) => compactReader({ ladder: army, asAt, monthFirst, knownCorps });

/** The lines one under the other; the last one as it was understood. */
function last(...lines: string[]): CompactLine {
  const read = reader();
  let standing: Standing = {};
  let result: CompactLine = { kind: 'nothing' };
  for (const line of lines) {
    result = read(line, standing);
    if (result.kind === 'entry' || result.kind === 'heading') standing = result.standing;
  }
  return result;
}

function entryOf(...lines: string[]) {
  const line = last(...lines);
  if (line.kind !== 'entry') throw new Error(`understood as ${line.kind}`);
  return line.entry;
}

/** In the words of the table: name, rank, corps, date, page. */
const told = (...lines: string[]): string => {
  const { name, rank, corps, dated, page: on } = entryOf(...lines);
  return [name, rank, corps, dated?.text, on === undefined ? undefined : `p. ${on}`]
    .filter((each) => each !== undefined)
    .join(' | ');
};

describe('pages of five kinds of list, typed by somebody who did not design the notation', () => {
  const needsShift = /[\p{Lu}@^()"+]/gu;
  const keys = (line: string): number => line.trim().replaceAll(/\s+/g, ' ').length + 1;
  const sum = (lines: readonly string[], of: (line: string) => number): number =>
    lines.reduce((total, line) => total + of(line), 0);

  test.each(lists.pages)(
    '$service, $asAt: as printed and as typed',
    ({ service, asAt: year, printed, typed, entries }) => {
      const ladder = shippedLadder(service) ?? customLadder(service, []);
      const span = readDate(`1 Jan. ${year}`).span;
      for (const lines of [printed, typed]) {
        const read = compactReader({ ladder, asAt: span, monthFirst: false, knownCorps: [] });
        let standing: Standing = {};
        const understood = lines.flatMap((line) => {
          const result = read(line, standing);
          if (result.kind !== 'entry' && result.kind !== 'heading') throw new Error(line);
          standing = result.standing;
          if (result.kind === 'heading') return [];
          const { name, rank, dated } = result.entry;
          const reading = readRank(rank, ladder, { column: true, span });
          return [
            [
              readName(name).surname.toLowerCase(),
              reading.kind === 'found' ? reading.rank.title : reading.kind,
              dated && isoDay(readDate(dated.text).span.from),
            ],
          ];
        });
        expect(understood).toEqual(entries.map(([surname = '', ...rest]) => [surname.toLowerCase(), ...rest]));
      }
    },
  );
  test('keystrokes, with one more for each sign that needs shift, against the printed signs', () => {
    const printed = sum(
      lists.pages.flatMap((each) => each.printed),
      keys,
    );
    const typed = sum(
      lists.pages.flatMap((each) => each.typed),
      (line) => keys(line) + (line.match(needsShift)?.length ?? 0),
    );
    expect(typed / printed).toBeLessThanOrEqual(1.2);
  });
});

describe('a page as lists print it', () => {
  type Line = { printed: string; typed: string; entry?: string[] };
  const lines: readonly Line[] = page.lines;
  const enter = 1;
  const keys = (text: string): number =>
    [...text.replaceAll(/(?:\s*\.){3,}\s*/g, ' ').replaceAll(/\s+/g, ' ')].length + enter;
  const printed = lines.reduce((sum, line) => sum + keys(line.printed), 0);
  const typed = lines.reduce((sum, line) => sum + keys(line.typed), 0);
  const entries = lines.filter(({ entry }) => entry !== undefined).length;

  const understood = (which: 'printed' | 'typed'): unknown[] => {
    const read = compactReader({ ladder: army, asAt, monthFirst: false, knownCorps: [] });
    let standing: Standing = {};
    return lines.flatMap((line) => {
      const result = read(line[which], standing);
      if (result.kind !== 'entry' && result.kind !== 'heading') throw new Error(line[which]);
      standing = result.standing;
      if (result.kind === 'heading') return [];
      const { name, rank, corps, dated } = result.entry;
      const { surname, forenames } = readName(name);
      const reading = readRank(rank, army, { column: true, span: asAt });
      return [
        [
          surname,
          forenames.join(' '),
          reading.kind === 'found' ? reading.rank.id : reading.kind,
          corpsKey(corps ?? ''),
          dated && isoDay(readDate(dated.text).span.from),
        ],
      ];
    });
  };
  const expected = lines.flatMap(({ entry }) =>
    entry === undefined ? [] : [entry.map((part, at) => (at === 3 ? corpsKey(part) : part))],
  );

  test(`${entries} lines as they are printed`, () => expect(understood('printed')).toEqual(expected));
  test(`${entries} lines as a typist shortens them`, () => expect(understood('typed')).toEqual(expected));
  test(`${typed} keystrokes for ${printed} printed signs, headings and line ends counted: ${((100 * typed) / printed).toFixed(0)} %`, () => {
    expect(entries).toBe(50);
    expect(typed).toBeLessThan(1.2 * printed);
  });
});

test.each<[rule: string, expected: string, ...lines: string[]]>([
  [
    'name and date under headings',
    'J. P. Ferrand | Captain | 2nd Fencibles | 16 May 1833 | p. 213',
    '2nd Fencibles, p. 213',
    'Captains',
    'J. P. Ferrand .... 16 May 1833',
  ],
  ['rank before the name', 'J. P. Holt | Lieut. | 3rd June, 1830', 'Lieut. J. P. Holt, 3rd June, 1830'],
  ['rank behind the name', 'Holt W | Lt | 16 May 1833', 'holt w lt 16.5.33'],
  [
    'the date first',
    'Hugh Tresilian | Ensign | Harbour Artillery | 16 May 1833',
    '16 May 1833\tEnsign\tHugh Tresilian\tHarbour Artillery',
  ],
  [
    'columns and commas in any order',
    'J. Ferrand | Capt | 4th Watch | 8 Feb 1830 | p. 4',
    'J. Ferrand | Capt | @4th Watch | 8 Feb 1830 | p4',
  ],
  [
    'surname first',
    'Ferrand, Julian Peter | Lieut. | 21st Fencibles | 16 May 1833 | p. 214',
    'Ferrand, Julian Peter, Lieut., 21st Fencibles, 16 May 1833, p. 214',
  ],
  ['a surname that is a rank too', 'Major, William | Lieut. | 16 May 1833', 'Major, William, Lieut., 16 May 1833'],
  ['a surname that is a month too', 'J. May | Captain | 16 May 1833', 'Captain', 'J. May 16 May 1833'],
  ['a name between < and >', 'Major Holt | Lieut. | 1 Apr. 1830', 'Lieuts.', '<Major Holt> 1 Apr. 1830'],
  ['small letters only', "O'Brien T | Lieut. | 3 April 1828", 'Lieuts.', "o'brien t 3/4/28"],
  ['initials typed together', 'de la Tour, J. B. | Lt | 1831', 'de la tour jb lt 1831'],
  [
    'a corps behind the name',
    'Ambrose Callow | Captain | 4th Foot | 3 Dec. 1829',
    'Captain Ambrose Callow 4th Foot 3 Dec. 1829',
  ],
  ['a corps by its beginnings', 'J. Holt | Lt | 2nd Fencibles | 3 Dec. 1829', '@2f', 'lt J. Holt 3 Dec. 1829'],
  ['no corps', 'J. Holt | Major', '2nd Fencibles', '@-', 'Major J. Holt'],
  [
    'a ditto before the name',
    'W. Marrick | Captain | 8 Feb. 1832',
    'Captain J. Holt 1830',
    '" W. Marrick  8 Feb. 1832',
  ],
  [
    'a ditto for the surname',
    'Holt, William | Captain | 4 Mar. 1831',
    'Captain J. Holt 1830',
    '—, William, 4 Mar. 1831',
  ],
  ['a ditto for the date', 'Wm. Cope | Captain | 1830', 'Captain J. Holt 1830', 'Wm. Cope do.'],
  ['a page after the last', 'Wm. Cope | Captain | 1830 | p. 214', 'p213', 'p+', 'Captain Wm. Cope 1830'],
  ['a page in Roman figures', 'Wm. Cope | Captain | p. xii', 'Captain Wm. Cope, p. xii'],
  [
    'an appointment beside the rank',
    'J. Holt | Lieut. and Adjt. | 1 Apr. 1830',
    'Lieut. and Adjt. J. Holt 1 Apr. 1830',
  ],
  [
    'an appointment behind the name is held beside the rank above',
    'J. Holt | Lieutenant and Adj. | 1 Apr. 1830',
    'Lieutenant',
    'J. Holt (Adj.) 1 Apr. 1830',
  ],
  ['one letter behind a surname is no page', 'Cope, P C | Captain | p. 7', 'Captain', 'p7', 'cope, p c'],
  [
    '… is of that line alone',
    'J. Cope | Lieut. | 1831',
    'Lieuts.',
    'Lieut. and Adjt. J. Holt 1 Apr. 1830',
    'J. Cope 1831',
  ],
  [
    'a brevet is of that line alone',
    'J. Cope | Captain | 1831',
    'Captains',
    'Bt. Major J. Holt 1 Apr. 1830',
    'J. Cope 1831',
  ],
  ['a feast as date', 'Ferrand, J. P. | Captain | Lady Day 1832', 'Ferrand, J. P., Captain, Lady Day 1832'],
  ['a forename C, no circa', 'Holt, P. C. | Captain | 3 Nov. 1829', 'Captain Holt, P. C. 3 Nov. 1829'],
  ['a forename C alone', 'Holt, C. | Captain | 3 Nov. 1829', 'Captain Holt, C. 3 Nov. 1829'],
  ['a forename C before a year', 'Holt, P. C. | Captain | 1829', 'Captain Holt, P. C. 1829'],
  ['small letters, c a forename', 'Holt, P C | Capt | 3 November 1829', 'capt holt, p c 3no29'],
  ['small letters, c alone', 'Holt C | Capt | 3 November 1829', 'capt holt c 3no29'],
  ['small letters, about a day', 'Holt | Capt | c. 3 November 1829', 'capt holt c. 3no29'],
  ['honours in small letters', 'Sir Hew Holt, K.B. | Col | 9 June 1808', 'col sir hew holt kb 9jn08'],
  ['several of them', 'Sir Digby Holt, Kt, C.B. | Col | 1 January 1817', 'col sir digby holt kt cb 1ja17'],
  ['letters that are no honour', 'C. B. Holt | Col | 1 January 1817', 'col cb holt 1ja17'],
  ['letters behind a surname alone', 'Holt C. B. | Col | 1 January 1817', 'col holt cb 1ja17'],
  ['a saint', 'St John Orr | Capt | 1 February 1829', 'capt st john orr 1fe29'],
  ['a saint behind a forename', 'Theoph St Aubyn Rouse | Capt | 1 February 1829', 'capt theoph st aubyn rouse 1fe29'],
  ['initials as a saint has', 'S. T. Holt | Capt | 1 February 1829', 'capt st holt 1fe29'],
  ['capitals only where they are unusual', 'Tew, Geo McLeod | Capt | 1 February 1829', 'capt tew, geo McLeod 1fe29'],
  ['a name that has no capital', 'ffolliott, J. | Capt. | 1 Feb. 1829', 'Capt. ffolliott, J. 1 Feb. 1829'],
  ['an approximate date', 'J. Holt | Captain | c. 1829', 'Captain J. Holt, c. 1829'],
  ['two figures of the century before', 'J. Holt | Captain | 16 May 1795', 'Captain J. Holt 16 May 95'],
  [
    'honours and a suffix',
    'Sir J. Ferrand, Bt., C.B., jun. | Major | 3 May 1831',
    'Major',
    'Sir J. Ferrand, Bt., C.B., jun. 3 May 1831',
  ],
  [
    'a heading that goes on from the page before',
    'J. Cope | Lieut. | 2nd Fencibles | 1831',
    '2nd Fencibles, Lieuts.',
    '2nd Fencibles (continued)',
    'J. Cope 1831',
  ],
])('read: %s', (_rule, expected, ...lines) => expect(told(...lines)).toBe(expected));

describe('what else a line can say', () => {
  test('the date as the page prints it, where it cannot be', () =>
    expect(entryOf('Captain J. Holt 28 Feb. 1833 {31 Feb. 1833}').dated).toEqual({
      text: '28 Feb. 1833',
      printed: '31 Feb. 1833',
    }));
  test('a note', () =>
    expect(entryOf('Captain J. Holt 1833 // blotted, perhaps Hoit').note).toBe('blotted, perhaps Hoit'));
  test('how it was held', () => expect(entryOf('Captain J. Holt, brevet').appointment).toBe('brevet'));
  test.each<[string, unknown]>([
    ['Captain J. Holt =p12 5 May 1832', { kind: 'named', words: 'p12' }],
    ['Captain J. Holt = John Holt, 5 May 1832', { kind: 'named', words: 'John Holt' }],
    ['Captain J. Holt =- 5 May 1832', { kind: 'nobody' }],
    ['Captain J. Holt + 5 May 1832', { kind: 'new' }],
    ['Captain J. Holt 5 May 1832', { kind: 'by name' }],
  ])('whose it is: %s', (line, bearer) => {
    expect(entryOf(line).bearer).toEqual(bearer);
    expect(entryOf(line).dated?.text).toBe('5 May 1832');
  });
  test('! keeps it', () => {
    const kept = (line: string): unknown => Reflect.get(last(line), 'keep');
    expect([
      kept('Captain J. Holt 1833 !'),
      kept('Captain J. Holt 1833! // sic'),
      kept('Captain J. Holt 1833'),
    ]).toEqual([true, true, false]);
  });
  test('empty lines, remarks and commands', () => {
    expect([last('  ').kind, last('# page 3 is torn').kind]).toEqual(['nothing', 'nothing']);
    expect(last(':undo')).toEqual({ kind: 'command', words: 'undo' });
  });
  test('the month first, where that is the custom', () => {
    const line = reader(true)('Captain J. Holt 5/16/33', {});
    expect(line.kind === 'entry' && line.entry.dated?.text).toBe('16 May 1833');
  });
  test('the ranks of a service without a ladder, and ^ for a new one', () => {
    const read = compactReader({
      ladder: customLadder('lights', [{ title: 'Principal Keeper' }]),
      asAt,
      monthFirst: false,
      knownCorps: [],
    });
    expect(read('Principal Keeper J. Holt 1830', {})).toMatchObject({
      entry: { name: 'J. Holt', rank: 'Principal Keeper' },
    });
    expect(read('^Lampist, J. Holt 1830', {})).toMatchObject({ entry: { name: 'J. Holt', rank: 'Lampist' } });
  });
  test.each<[typed: string, message: RegExp, hint: RegExp]>([
    ['Captain J. Holt 16my40', /1840, after the edition, or 1740, long before it/, /four figures/],
    ['captian edmund holt 8de08', /No rank stands.*is it the rank Captain\?/, /rank meant/],
    ['capt thomas holt 2xx07', /“2xx07” is no date: there is no month “xx”/, /ja fe mr/],
    ['Royal South Shore', /No rank/, /@Royal South Shore$/],
  ])('what helps: %s', (typed, message, hint) =>
    expect(() => last(typed)).toThrow(
      expect.objectContaining({ message: expect.stringMatching(message), hint: expect.stringMatching(hint) }),
    ),
  );
  test('a rank that can be two', () => {
    const twice = customLadder('lights', [
      { title: 'Commander', abbreviations: ['Com.'] },
      { title: 'Commissary', abbreviations: ['Com.'] },
    ]);
    const read = compactReader({ ladder: twice, asAt, monthFirst: false, knownCorps: [] });
    expect(() => read('J. Ferrand, Com., 1830', {})).toThrow('“Com.” can mean Commander or Commissary');
  });
  test('another corps as a heading ends the rank', () =>
    expect(() => last('2nd Fencibles', 'Captains', 'Harbour Artillery', 'J. Holt 1830')).toThrow('No rank stands'));
});

test.each<[rule: string, says: string, ...lines: string[]]>([
  ['no rank', 'No rank stands in the line or over it', 'J. Ferrand'],
  ['a day that is not in the calendar', 'February 1833 has 28 days', 'Captain J. Holt 31 Feb. 1833'],
  ['a day without its year', '“16 May” is no whole date', 'Captain Wm. Cope 16 May'],
  ['two dates', 'There are two dates: 10 May 1820 and 3 June 1830', 'Captain J. Ferrand, 10 May 1820, 3 June 1830'],
  ['two ranks', 'There are two ranks: Lieut. and Captain', 'J. Ferrand, Lieut., Captain, 1830'],
  [
    'a corps that is not known as one',
    '“Royal Harbour Watch” is not understood',
    'Captain Ambrose Callow, Royal Harbour Watch, 3 Dec. 1829',
  ],
  [
    'a name that ends in a corps',
    '“Ambrose Hugh Callow Beacon Corps” ends like a corps',
    'Captain Ambrose Hugh Callow Beacon Corps 1829',
  ],
  ['a corps mark that begins two', '“21f” begins 2 corps: 21st Fencibles, 21st Foot', '@21f'],
  ['a heading that is not understood', '“Supernumeraries” alone is not understood', 'Captains', 'Supernumeraries'],
  ['half-pay as a heading', 'has no name', 'Captains', 'Half-pay'],
  ['no surname', 'has no surname', 'Captain J. P. 1830'],
  ['figures in the name', '“F3rrand” is not understood', 'Captain J. F3rrand 1830'],
  ['a printed date alone', 'says only what the page prints', 'Captain J. Holt {31 Feb.}'],
  ['no page before', 'No page is known', 'p+'],
])('refuse: %s', (_rule, says, ...lines) => {
  expect(() => last(...lines)).toThrow(says);
  expect(() => last(...lines)).toThrow(HeldbyError);
});

test('any line is understood or refused in words', () =>
  fc.assert(
    fc.property(
      fc.array(
        fc.constantFrom(
          'Lieut.',
          'J. P.',
          'Ferrand',
          ',',
          '16',
          'May',
          '1833',
          '@',
          '=',
          '<',
          '>',
          '{',
          '}',
          'do.',
          '—',
          '2nd',
          'Fencibles',
          'p.',
          '//',
          '!',
          '+',
          '^',
          '....',
          '\t',
          'é',
        ),
        { maxLength: 14 },
      ),
      (words) => {
        try {
          last(words.join(' '));
        } catch (error) {
          if (!(error instanceof HeldbyError)) throw error;
        }
      },
    ),
    { numRuns: 400, seed: 1834 },
  ));
