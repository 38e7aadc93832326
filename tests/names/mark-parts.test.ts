import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { type MarkParts, type PartOverrides, readMark } from '../../src/names/mark-parts.ts';
import { customLadder, shippedLadder } from '../../src/services/ladder.ts';
import { gregorianDay } from '../../src/time/calendar.ts';

const ladders = ['army', 'navy', 'clergy', 'civil'].flatMap((service) => shippedLadder(service) ?? []);
const context = { ladders, knownCorps: ['2nd Fencibles', 'Coast Survey'], knownPlaces: ['Oakhaven', 'Ferrand'] };
const read = (text: string, overrides: PartOverrides = {}): MarkParts => readMark(text, context, overrides);

/** `rank/forenames/surname/corps/place/date`, `-` for none. */
const shown = ({ rank, forenames, surname, corps, place, date }: MarkParts): string =>
  [rank?.ranks[0]?.title, forenames, surname, corps, place, date?.text].map((part) => part ?? '-').join('/');

type Row = [text: string, parts: string, rest?: string[]];
const expectParts = (text: string, parts: string, rest: string[] = []): void => {
  const found = read(text);
  expect(shown(found)).toBe(parts);
  expect(found.rest).toEqual(rest);
};

describe('readMark', () => {
  test.each<Row>([
    ['Lieut. J. Ferr[..]d', 'Lieutenant/J./Ferr[..]d/-/-/-'],
    ['Capt. J P Ferrand 2nd Fencibles', 'Captain/J P/Ferrand/2nd Fencibles/-/-'],
    ['Ferrand / Oakhaven', '-/-/Ferrand/-/Oakhaven/-'],
    ['Maj. Gen. Sir T. Holt K.C.B.', 'Major-General/T./Holt/-/-/-'],
    ['J. FERRAND ESQ. OAKHAVEN', '-/J./FERRAND/-/OAKHAVEN/-'],
    ['[---]rand', '-/-/[---]rand/-/-/-'],
    ['Revd Jn° Smith, Vicar of Oakhaven', 'Vicar/Jn°/Smith/-/Oakhaven/-'],
    ['Wm Ferrand 1834', '-/Wm/Ferrand/-/-/1834'],
    ['Lieut.', 'Lieutenant/-/-/-/-/-'],
    ['Ferrand.', '-/-/Ferrand/-/-/-'],
  ])('the usual kinds of mark: %s', expectParts);

  test.each<Row>([
    ['J. Ferrand 12 May 1834', '-/J./Ferrand/-/-/12 May 1834'],
    ['c. 1834 J. Ferrand', '-/J./Ferrand/-/-/c. 1834'],
    ['J. Ferrand anno 1834', '-/J./Ferrand/-/-/1834'],
    ['J. FERRAND MDCCCXXXIV', '-/J./FERRAND/-/-/MDCCCXXXIV'],
    ['No. 4 J. Ferrand', '-/J./Ferrand/-/-/-', ['No. 4']],
  ])('1 a date with a year: %s', expectParts);

  test.each<Row>([
    ['2nd Lieut. J. Ferrand', 'Second Lieutenant/J./Ferrand/-/-/-'],
    ['2/Lt. J. Ferrand', 'Second Lieutenant/J./Ferrand/-/-/-'],
    ['Captain / J. Ferrand', 'Captain/J./Ferrand/-/-/-'],
    ['J. Ferrand, Captain', 'Captain/J./Ferrand/-/-/-'],
    ['Ferrand Capt. 2nd Fencibles', 'Captain/-/Ferrand/2nd Fencibles/-/-'],
    ['Capt. and Adjt. J. Ferrand', 'Captain/J./Ferrand/-/-/-'],
    ['Capt & Adjt Holt', 'Captain/-/Holt/-/-/-'],
    ['Ensign Hon. W. Holt', 'Ensign/W./Holt/-/-/-'],
    ['Lieut(enant) J. Ferrand', 'Lieutenant/J./Ferrand/-/-/-'],
    ['John Major', '-/John/Major/-/-/-'],
    ['Major Holt', 'Major/-/Holt/-/-/-'],
    ['Lieut. [---]', 'Lieutenant/-/-/-/-/-'],
    ['Cap[.] J. Ferrand', '-/J./Ferrand/-/-/-', ['Cap[.]']],
    ['Bishop of Oakhaven', 'Bishop/-/-/-/Oakhaven/-'],
    ['Holt & Co.', '-/-/Holt/-/-/-', ['& Co.']],
  ])('2 the rank: %s', expectParts);

  test.each<Row>([
    ['J. Ferrand Coast Survey', '-/J./Ferrand/Coast Survey/-/-'],
    ['J. Ferrand 2d Fenc.', '-/J./Ferrand/2d Fenc./-/-'],
    ['J. Ferrand, late of the 2nd Fencibles', '-/J./Ferrand/2nd Fencibles/-/-'],
    ['J. Ferrand 2[..] Fencibles', '-/J./Ferrand/2nd Fencibles/-/-'],
    ['J. Ferrand, 4[..] Fencibles', '-/J./Ferrand/-/-/-', ['4[..] Fencibles']],
    ['T. HOLT OAKHAVEN', '-/T./HOLT/-/OAKHAVEN/-'],
    ['Ferrand', '-/-/Ferrand/-/-/-'],
    ['J. Ferrand', '-/J./Ferrand/-/-/-'],
    ['T. Holt, Oakh[..]en', '-/T./Holt/-/Oakhaven/-'],
  ])('4 a corps and a place that are known: %s', expectParts);

  test.each<[text: string, service: string | undefined, ranks: string, corps: string | undefined]>([
    ['Surgeon T. Holt R.N.', 'navy', 'navy', undefined],
    ['Capt. Holt R.N.', 'navy', 'navy', undefined],
    ['T. Holt RN', 'navy', '', undefined],
    ['Ensign Holt R.N.', 'navy', 'army', undefined],
    ['Lt. R.N. Holt', undefined, 'army navy', undefined],
    ['Lt. R.E. Holt', undefined, 'army navy', undefined],
    ['Lt. Holt R.E.', undefined, 'army navy', 'R.E.'],
    ['Lt. Holt R.M.', undefined, 'army navy', 'R.M.'],
  ])('3 letters of a service, which limit the rank: %s', (text, service, services, corps) => {
    const found = read(text);
    expect(found.service).toBe(service);
    expect(found.surname).toBe('Holt');
    expect(found.corps).toBe(corps);
    expect([...new Set(found.rank?.ranks.map((rank) => rank.service))].join(' ')).toBe(services);
  });

  test.each<[text: string, year: number | undefined, titles: string]>([
    ['Qr. Mr. Holt', undefined, 'Troop Quartermaster, Quartermaster'],
    ['Qr. Mr. Holt', 1834, 'Quartermaster'],
  ])('2 an abbreviation with several meanings is decided by the date: %s, %s', (text, year, titles) => {
    const when =
      year === undefined ? {} : { when: { from: gregorianDay(year, 1, 1), until: gregorianDay(year + 1, 1, 1) } };
    const found = readMark(text, { ...context, ladders: ladders.slice(0, 1), ...when });
    expect(found.rank?.ranks.map(({ title }) => title).join(', ')).toBe(titles);
  });

  test.each<Row>([
    ['Lieu[t.] Holt', 'Lieutenant/-/Holt/-/-/-'],
    ['Li[eut.] Holt', 'Lieutenant/-/Holt/-/-/-'],
    ['Ca[pt. Ho]lt', 'Captain/-/[Ho]lt/-/-/-'],
    ['W[m.] Holt', '-/W[m\\.]/Holt/-/-/-'],
    ['J. Ferr[an.]', '-/J./Ferr[an][.]/-/-/-'],
    ['[---]TH REGT', '-/-/-/-/-/-', ['[---]TH REGT']],
    ['[---]th Regt. Capt. Holt', 'Captain/-/Holt/-/-/-', ['[---]th Regt.']],
    ['[.]nd Fencibles, Capt. Holt', 'Captain/-/Holt/2nd Fencibles/-/-'],
    ['Lieut. Ho[---] 3d [---]', 'Lieutenant/-/Ho[---]/-/-/-', ['3d [---]']],
    ['[---] | [---]rand', '-/-/[---]rand/-/-/-', ['[---]']],
    ['Lieut. Holt, Regt.', 'Lieutenant/-/Holt/-/-/-', ['Regt.']],
    ['Capt. vacat Holt', 'Captain/-/Holt/-/-/-', ['vacat']],
    ['Holt(?)', '-/-/Holt/-/-/-'],
  ])('what is lost beside the name: %s', expectParts);

  test.each<Row>([
    ['Ferrand, Capt. J. P.', 'Captain/J. P./Ferrand/-/-/-'],
    ['HOLT. CAPT. R.A. No. 4', 'Captain/-/HOLT/R.A./-/-', ['No. 4']],
    ['Mac Ivor, D.', '-/D./Mac Ivor/-/-/-'],
    ['Mr. Holt, Writer, Bengal', 'Writer/-/Holt/-/Bengal/-'],
    ['CAPT.J.HOLT', 'Captain/J./HOLT/-/-/-'],
    ['CAPTAIN·J·HOLT', 'Captain/J/HOLT/-/-/-'],
    ['J.P.Holt', '-/J.P./Holt/-/-/-'],
    ['Tho.s Holt', '-/Tho.s/Holt/-/-/-'],
    ['Capt.Holt 16.May.1834', 'Captain/-/Holt/-/-/16. May.1834'],
    ['Captain Holt (half pay)', 'Captain/-/Holt/-/-/-', ['half pay']],
    ['Lt. Holt Adj. 9 N.I.', 'Lieutenant/-/Holt/9 N.I./-/-', ['Adj.']],
    ['Wm Holt Surgeon to the Forces', 'Surgeon/Wm/Holt/-/-/-', ['to the Forces']],
    ['Dep. Asst. Comy. Genl. Holt', 'Deputy Assistant Commissary-General/-/Holt/-/-/-'],
    ['Surveyor Genl. Holt', '-/-/Holt/-/-/-', ['Surveyor Genl.']],
    ['Asst. Commissary Holt', '-/-/Holt/-/-/-', ['Asst. Commissary']],
    ["Captain's Clerk J. Holt", '-/J./Holt/-/-/-', ["Captain's Clerk"]],
    ['Mary Holt wife of Capt. Holt', '-/Mary/Holt/-/-/-', ['wife of Capt. Holt']],
    ['T. Holt, Midshipman, Frigate Seahorse', 'Midshipman/T./Holt/Frigate Seahorse/-/-'],
    ['1st Lt. Holt, H.M. Ship Dauntless', 'Lieutenant/-/Holt/H.M. Ship Dauntless/-/-'],
    ['Lieut. T. Holt. Indian Navy', 'Lieutenant/T./Holt/Indian Navy/-/-'],
    ['2d Lieut. Holt Rl. Artillery', 'Second Lieutenant/-/Holt/Rl. Artillery/-/-'],
    ['T. Holt, Bengal Civil Service', '-/T./Holt/-/-/-'],
    ['Capt. Holt R. N.', 'Captain/-/Holt/-/-/-'],
    ['R. N. Holt', '-/R. N./Holt/-/-/-'],
    ['Adml. Sir J. Holt K.B.', 'Admiral/J./Holt/-/-/-'],
    ['H.E. Sir J. Holt', '-/J./Holt/-/-/-'],
    ['H.B.M. Consul Holt', 'Consul/-/Holt/-/-/-'],
    ['Vice-Consul J. Holt', 'Vice-Consul/J./Holt/-/-/-'],
    ['Ven. Archdeacon Holt', 'Archdeacon/-/Holt/-/-/-'],
    ['The Lord Bishop of Oakhaven', 'Bishop/-/-/-/Oakhaven/-'],
    ['Marquis de Granvelle', '-/-/de Granvelle/-/-/-'],
    ['Veuve Dufresnoy', '-/-/Dufresnoy/-/-/-'],
    ['Lieutenant de vaisseau Kerguen', '-/-/Kerguen/-/-/-', ['Lieutenant de vaisseau']],
    ['Capitaine Dufresnoy, 3e Régiment de Hussards', '-/-/Dufresnoy/3e Régiment de Hussards/-/-', ['Capitaine']],
    ['Ricardus Holme me fecit', '-/Ricardus/Holme/-/-/-', ['me fecit']],
    ['Georgius Wakelyn, Armiger', '-/Georgius/Wakelyn/-/-/-'],
    ['Captn Holt ye younger', 'Captain/-/Holt/-/-/-'],
    ['Geo. Holt Aged 12', '-/Geo./Holt/-/-/-', ['Aged 12']],
    ['Lieut. J. Holt Passenger per Ship Vigil', 'Lieutenant/J./Holt/Ship Vigil/-/-', ['Passenger per']],
    ['Holt, Maker', '-/-/Holt/-/-/-', ['Maker']],
    ['Surgeon J. Holt, A.M.D.', 'Surgeon/J./Holt/-/-/-', ['A.M.D.']],
    ["Officers' Mess 14th Regt", '-/-/-/14th Regt/-/-', ["Officers' Mess"]],
    ['Mme. de Sauveterre née Lacombe', '-/-/de Sauveterre/-/-/-', ['née Lacombe']],
    ['Mrs Hannah Holt nee Pyke', '-/Hannah/Holt/-/-/-', ['nee Pyke']],
  ])('as cataloguers meet them: %s', expectParts);

  test.each<Row>([
    ["Lieut. Ferrand's Baggage No. 3", 'Lieutenant/-/Ferrand/-/-/-', ['Baggage No. 3']],
    ['Lieut. Colonel Holt C.B. Commanding 2nd Fencibles', 'Lieutenant-Colonel/-/Holt/2nd Fencibles/-/-'],
    ['Lieut. T. Holt, h.p. 2nd Fencibles', 'Lieutenant/T./Holt/2nd Fencibles/-/-'],
    ['Miss Ferrand, Cabin', '-/-/Ferrand/-/-/-', ['Cabin']],
    ['T. HOLT LONDON', '-/T./HOLT/-/LONDON/-'],
    ['T. Holt, Oxford Street, London', '-/T./Holt/-/London/-', ['Oxford Street']],
    ['Lieut. Holt to Oakhaven', 'Lieutenant/-/Holt/-/-/-', ['to Oakhaven']],
    ['Capt. London', 'Captain/-/London/-/-/-'],
    ['[Capt.] Holt', 'Captain/-/Holt/-/-/-'],
    ['[Capt. J.] Holt', 'Captain/[J\\.]/Holt/-/-/-'],
    ['⟦Lieut.⟧ Capt. Holt', 'Captain/-/Holt/-/-/-', ['Lieut.']],
    ['Capt. ⟦Holt⟧ Wrenn', 'Captain/-/Wrenn/-/-/-', ['Holt']],
    ['⟦Capt. Holt⟧ 2nd Fencibles', 'Captain/-/⟦Holt⟧/2nd Fencibles/-/-'],
  ])('what stands around a name on things: %s', expectParts);

  test.each<Row>([
    ['Lt. Col. Holt 60th Rifles', 'Lieutenant-Colonel/-/Holt/60th Rifles/-/-'],
    ['LIEUT. FERRAND / 3rd REGT. / 1834', 'Lieutenant/-/FERRAND/3rd REGT./-/1834'],
    ['II. Fusiliers / Holt', '-/-/Holt/II. Fusiliers/-/-'],
    ['Capt. Holt 60th', 'Captain/-/Holt/60th/-/-'],
    ['W. Holt, Royal Artillery', '-/W./Holt/Royal Artillery/-/-'],
    ['T. Holt / R. E.', '-/T./Holt/R. E./-/-'],
    ['MAJOR HOLT|FENCIBLE CAVALRY', 'Major/-/HOLT/FENCIBLE CAVALRY/-/-'],
    ['H.M.S. Triton', '-/-/-/H.M.S. Triton/-/-'],
    ['Capt. Guard', 'Captain/-/Guard/-/-/-'],
    ['Lieut. T. Horse', 'Lieutenant/T./Horse/-/-/-'],
  ])('3 a corps by its words: %s', expectParts);

  test.each<Row>([
    ['J.P.F.', '-/J. P./F[---]/-/-/-'],
    ['Lieut. J. de la Tour', 'Lieutenant/J./de la Tour/-/-/-'],
    ['Ferrand, Julian Peter', '-/Julian Peter/Ferrand/-/-/-'],
    ['JULIAN PETER / FERRAND', '-/JULIAN PETER/FERRAND/-/-/-'],
    ["Lieut. Holt's box", 'Lieutenant/-/Holt/-/-/-', ['box']],
    ['The property of Capt. J. Ferrand', 'Captain/J./Ferrand/-/-/-', ['The property of']],
    ['To J. Ferrand from T. Holt', '-/J./Ferrand/-/-/-', ['To', 'from T. Holt']],
    ['J. Ferrand (late Holt)', '-/J./Ferrand/-/-/-', ['late Holt']],
    ['J[..]n Holt', '-/J[..]n/Holt/-/-/-'],
    ['[---] Holt', '-/-/Holt/-/-/-'],
    ['Capt. H_olt', 'Captain/-/H_olt/-/-/-'],
    ['Earl of Ashby', '-/-/Ashby/-/-/-'],
    ['J. Ferrand.', '-/J./Ferrand/-/-/-'],
  ])('6 the name: %s', expectParts);

  test.each<Row>([
    ['Sir Thos. Holt, Bart., of Ashby', '-/Thos./Holt/-/Ashby/-'],
    ['W. Holt at Ashby', '-/W./Holt/-/Ashby/-'],
    ['Mrs. Holt, Ashby Hall', '-/-/Holt/-/Ashby Hall/-'],
    ['Holt & Co. / makers / Ashby', '-/-/Holt/-/Ashby/-', ['& Co.', 'makers']],
    ['T. Holt — Ashby', '-/T./Holt/-/Ashby/-'],
  ])('7 a place behind the name: %s', expectParts);

  test('says where in the text each part was found', () => {
    const text = 'Lieut. J. Fe_rr[..]d, 2nd  Fencibles / 1834';
    const { found } = read(text);
    expect(found.map(({ part, from, until }) => `${part}: ${text.slice(from, until)}`)).toEqual([
      'rank: Lieut.',
      'forenames: J.',
      'surname: Fe_rr[..]d',
      'corps: 2nd  Fencibles',
      'date: 1834',
    ]);
  });

  test.each<[part: keyof PartOverrides, value: string, parts: string]>([
    ['surname', 'H[.]lt', 'Lieutenant/J./H[.]lt/-/-/-'],
    ['forenames', 'T. W.', 'Lieutenant/T. W./Ferrand/-/-/-'],
    ['forenames', '', 'Lieutenant/-/Ferrand/-/-/-'],
    ['rank', 'Capt.', 'Captain/J./Ferrand/-/-/-'],
    ['rank', ' ', '-/J./Ferrand/-/-/-'],
    ['corps', '60th Rifles', 'Lieutenant/J./Ferrand/60th Rifles/-/-'],
    ['place', 'Ashby', 'Lieutenant/J./Ferrand/-/Ashby/-'],
  ])('takes a given %s ("%s") for the one found', (part, value, parts) =>
    expect(shown(read('Lieut. J. Ferrand', { [part]: value }))).toBe(parts),
  );

  test('a rank that no ladder has is refused, with the nearest', () => {
    const act = () => read('J. Ferrand', { rank: 'Lieutenunt' });
    expect(act).toThrow(HeldbyError);
    expect(act).toThrow(expect.objectContaining({ code: 'RANK', hint: expect.stringContaining('Lieutenant') }));
  });

  test('a service without ranks gives none unasked, and any that is given', () => {
    const open = { ladders: [customLadder('survey', [])] };
    expect(readMark('Rodman J. Ferrand', open).rank).toBeUndefined();
    expect(readMark('J. Ferrand', open, { rank: 'Rodman' }).rank?.ranks).toHaveLength(1);
    const parts = { rank: 'Rodman', corps: 'Tally Board', place: 'Wick End' };
    expect(shown(readMark('Rodman Ferrand, Tally Board, Wick End', open, parts))).toBe(
      'Rodman/-/Ferrand/Tally Board/Wick End/-',
    );
  });

  test('every word is some part, in the order of the text, and nothing is lost', () =>
    fc.assert(
      fc.property(
        fc.array(
          fc.constantFrom(
            'Lieut.',
            'J.',
            'Ferr[..]d',
            'Holt',
            '2nd',
            'Fencibles',
            'of',
            '/',
            ',',
            '&',
            'Co.',
            'Esq.',
            '1834',
            'Oakhaven',
            'the',
            '[---]',
            'Sir',
            "Holt's",
            'No.',
            '4',
            '-',
            'late',
          ),
          { minLength: 1, maxLength: 8 },
        ),
        (pieces) => {
          const text = `Ferrand ${pieces.join(' ')}`;
          const { found } = read(text);
          let at = 0;
          for (const { from, until } of found) {
            expect(text.slice(at, from)).not.toMatch(/\p{L}/u);
            at = until;
          }
          expect(text.slice(at)).not.toMatch(/\p{L}/u);
        },
      ),
      { numRuns: 500, seed: 31 },
    ));

  test('a name that is given is not left over as not understood', () => {
    const given = { surname: 'Lisle', forenames: 'A.' };
    expect(read('Pallant’s Depository. No. 4417. Miss A. Lisle', given)).toMatchObject({
      ...given,
      rest: ['Depository. No. 4417.'],
    });
  });
});
