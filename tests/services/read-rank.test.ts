import fc from 'fast-check';
import { expect, test } from 'vitest';
import { customLadder, type Ladder, shippedLadder, shippedServices } from '../../src/services/ladder.ts';
import { type RankOptions, type RankReading, ranksStyled, readRank } from '../../src/services/read-rank.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import { type Day, spanThrough } from '../../src/time/span.ts';

const shipped = (service: string): Ladder => {
  const ladder = shippedLadder(service);
  if (ladder === undefined) throw new Error(`no ladder for ${service}`);
  return ladder;
};
const all = shippedServices().map(shipped);
const army = shipped('army');
const navy = shipped('navy');
const day = (year: number) => ({ day: gregorianDay(year, 6, 1) });

/** A reading in short: `captain`, `date: commander, commodore`, `unknown: Captain`. */
const short = (reading: RankReading): string => {
  if (reading.kind === 'found') return reading.rank.id;
  if (reading.kind === 'ambiguous') return `${reading.decides}: ${reading.ranks.map(({ id }) => id).join(', ')}`;
  return `unknown: ${reading.nearest.join(', ')}`;
};

test.each([
  ['the title', 'Lieutenant', 'lieutenant'],
  ['an abbreviation with a point', 'Lieut.', 'lieutenant'],
  ['without a point', 'Lt', 'lieutenant'],
  ['with doubled letters', 'Lieutt', 'lieutenant'],
  ['in capitals', 'LIEUT.', 'lieutenant'],
  ['superscript letters', 'Lieuᵗ', 'lieutenant'],
  ['superscript by a caret', 'Cap^t', 'captain'],
  ['an old spelling', 'Captaine', 'captain'],
  ['an old spelling with a long s', 'Enſigne', 'ensign'],
  ['a short form', 'Cap', 'captain'],
  ['First Lieutenant is the lieutenant', '1st Lieut.', 'lieutenant'],
  ['2d', '2d Lieut.', 'second-lieutenant'],
  ['2nd with a stroke', '2/Lt.', 'second-lieutenant'],
  ['Sec.', 'Sec. Lieut.', 'second-lieutenant'],
  ['IInd', 'IInd Lieut.', 'second-lieutenant'],
  ['II', 'II Lieut.', 'second-lieutenant'],
  ['the longest first', 'Lieut.-Col.', 'lieutenant-colonel'],
  ['hyphens and spaces alike', 'Lt Col', 'lieutenant-colonel'],
  ['glued', 'LtCol', 'lieutenant-colonel'],
  ['an old compound', 'lieutenant Collonell', 'lieutenant-colonel'],
  ['General', 'Brigr.-Genl.', 'brigadier-general'],
  ['in two words or one', 'Quarter Master', 'quartermaster'],
  ['a double rank of the Guards', 'Capt. & Lieut.-Col.', 'captain-and-lieutenant-colonel'],
  ['an appointment with a rank in its name', 'Brigade Major', 'brigade-major'],
  ['medical', 'Assist. Surg.', 'assistant-surgeon'],
])('readRank, army: %s', (_rule, text, expected) => expect(short(readRank(text, army))).toBe(expected));

test.each<[string, string, Ladder, RankOptions, string]>([
  ['a single letter is a rank in a column', 'L.', army, { column: true }, 'lieutenant'],
  ['a single letter is none elsewhere', 'L.', army, {}, 'unknown: '],
  ['a single letter may be several', 'C.', army, { column: true }, 'wording: captain, colonel'],
  ['Mr. is the master of the navy in a column', 'Mr.', navy, { column: true }, 'master'],
  ['Mr. is a style elsewhere', 'Mr.', navy, {}, 'unknown: '],
  ['Com. in the navy', 'Com.', navy, day(1850), 'wording: commander, commodore'],
  ['Comm. in the navy', 'Comm.', navy, day(1850), 'wording: commander, commodore'],
  ['Comm. in the civil service', 'Comm.', shipped('civil'), day(1850), 'commissioner'],
  ['Com. in the American navy before 1837', 'Com.', shipped('us-navy'), day(1820), 'commodore-by-courtesy'],
  ['Com. in the American navy after 1899', 'Com.', shipped('us-navy'), day(1905), 'commander'],
  [
    'Com. in the American navy without a day',
    'Com.',
    shipped('us-navy'),
    {},
    'date: commander, commodore-by-courtesy, commodore',
  ],
  ['Lieut.-Com. commands before 1914', 'Lieut.-Com.', navy, day(1850), 'lieutenant'],
  ['Lieut.-Com. is a rank after it', 'Lieut.-Com.', navy, day(1916), 'lieutenant-commander'],
  ['Q.M. before 1810', 'Q.M.', army, day(1800), 'wording: troop-quartermaster, quartermaster'],
  ['Q.M. after it', 'Q.M.', army, day(1840), 'quartermaster'],
  ['a title in full wins over an abbreviation', 'Quartermaster', army, day(1800), 'quartermaster'],
  [
    'a span counts by any day of it',
    'Commodore',
    shipped('us-navy'),
    { span: spanThrough(gregorianDay(1850, 1, 1), gregorianDay(1861, 1, 1)) },
    'commodore-by-courtesy',
  ],
  ['Coll. is a collector in civil life', 'Coll.', shipped('civil'), {}, 'collector'],
  [
    'Lieut. is of two grades in the American army',
    'Lieut.',
    shipped('us-army'),
    {},
    'wording: second-lieutenant, first-lieutenant',
  ],
  ['two ranks at once', 'Capt. and Bt. Major', army, {}, 'several: captain, major'],
])('readRank: %s', (_rule, text, ladder, options, expected) => {
  expect(short(readRank(text, ladder, options))).toBe(expected);
});

test.each([
  ['brevet', 'Bt. Major', 'major', 'brevet', []],
  ['brevet after it', 'Major (Bvt.)', 'major', 'brevet', []],
  ['temporary', 'Temp. Lieut.', 'lieutenant', 'temporary', []],
  ['temporary with a stroke', 'T/Capt.', 'captain', 'temporary', []],
  ['acting with a stroke', 'A/Major', 'major', 'acting', []],
  ['acting', 'Actg. Capt.', 'captain', 'acting', []],
  ['local', 'local Lt.-Col.', 'lieutenant-colonel', 'local', []],
  ['half-pay', 'Capt. h.p.', 'captain', undefined, ['half-pay']],
  ['half-pay with a fraction', 'Capt. ½ p.', 'captain', undefined, ['half-pay']],
  ['retired', 'Major, ret.', 'major', undefined, ['retired']],
  ['honorary', 'Hon. Col.', 'colonel', undefined, ['honorary']],
  ['two together', 'late Bt. Maj. h.p.', 'major', 'brevet', ['late', 'half-pay']],
  ['substantive', 'Major', 'major', undefined, []],
])('words beside the rank: %s', (_rule, text, id, appointment, status) =>
  expect(readRank(text, army)).toMatchObject({ kind: 'found', rank: { id }, appointment, status }),
);

test('an appointment beside a rank leaves the rank, and says so', () =>
  expect(readRank('Lieut. and Adjt.', army)).toMatchObject({
    rank: { id: 'lieutenant' },
    caution: 'Adjutant was held beside it: record that by itself.',
  }));

test('a rank outside its time is read with a caution', () => {
  expect(readRank('Ensign', army, day(1890))).toMatchObject({
    rank: { id: 'ensign' },
    caution: 'Ensign is known in the army ladder until 1871-10-30 only.',
  });
  expect(readRank('Ensign', army, day(1860))).toMatchObject({ rank: { id: 'ensign' }, caution: undefined });
});

test.each([
  ['a letter missing', 'Leutenant', 'Lieutenant'],
  ['letters transposed', 'Captian', 'Captain'],
  ['a rank among other words', 'Captain of the guard', 'Captain'],
  ['a compound', 'Leiutennant-Colonel', 'Lieutenant-Colonel'],
])('unknown, with the nearest: %s', (_rule, text, nearest) => {
  const reading = readRank(text, army);
  expect(reading.kind === 'unknown' && reading.nearest[0]).toBe(nearest);
});

test.each(['Sir', 'Master', 'Esq.', '', '   ', '---', 'Lieut '.repeat(40)])('no rank of the army: %j', (text) =>
  expect(readRank(text, army).kind).toBe('unknown'),
);

test('without a service, several services may have it', () => {
  const reading = readRank('Capt.', [army, navy, shipped('clergy')]);
  expect(reading).toMatchObject({
    kind: 'ambiguous',
    decides: 'service',
    ranks: [{ service: 'army' }, { service: 'navy' }],
  });
});

test.each([
  ['Capt. R.N.', 'navy', 'captain'],
  ['Lieut. R.M.', 'marines', 'lieutenant'],
  ['Capt. I.N.', 'company-marine', 'captain'],
])('letters beside it decide the service: %s', (text, service, id) =>
  expect(readRank(text, all)).toMatchObject({ kind: 'found', rank: { service, id } }),
);

test('letters of another service are no rank of this one', () =>
  expect(readRank('Capt. R.N.', army).kind).toBe('unknown'));

test('a service without ranks takes any rank as it is written', () => {
  const open = customLadder('wardens', []);
  expect(readRank('Petty Warden', open)).toMatchObject({
    kind: 'found',
    rank: { id: 'petty-warden', service: 'wardens' },
  });
  expect(ranksStyled('Capt.', [army, open]).map(({ service, id }) => `${service} ${id}`)).toEqual([
    'army captain',
    'wardens capt',
  ]);
});

test('a ledger’s own ladder is read like the others', () => {
  const wardens = customLadder('wardens', [{ title: 'Captain Warden', order: 1, abbreviations: ['Wdn.'] }]);
  expect(short(readRank('Capt. Warden', wardens))).toBe('captain-warden');
  expect(short(readRank('wdn', wardens))).toBe('captain-warden');
  expect(short(readRank('Wardon', wardens))).toBe('unknown: ');
});

test.each([
  ['one in each service that has it', 'Maj.-Gen.', ['army', 'marines', 'company', 'us-army']],
  ['none', 'Foo', []],
  ['no letters', '?', []],
  ['two at once are no style', 'Capt. and Bt. Major', []],
])('ranksStyled: %s', (_rule, text, services) =>
  expect(ranksStyled(text, all).map(({ service }) => service)).toEqual(services),
);

test('every title, and every wording on a day of its use, is read as its rank', () => {
  for (const ladder of all) {
    for (const { rank, forms, existed } of ladder.ranks) {
      expect(readRank(rank.title, ladder, { column: true })).toMatchObject({ kind: 'found', rank });
      for (const { text, used } of forms) {
        const first = Math.max(used.from, existed.from);
        const on = (
          Number.isFinite(first) ? first : Math.min(used.until, existed.until, gregorianDay(1850, 1, 1)) - 1
        ) as Day;
        const reading = readRank(text, ladder, { column: true, day: on });
        expect(
          reading.kind === 'found' ? [reading.rank] : reading.kind === 'ambiguous' ? reading.ranks : [],
        ).toContainEqual(rank);
      }
    }
  }
});

test('readRank: case, points and hyphens play no part', () => {
  const title = fc.constantFrom(...army.ranks.map(({ rank }) => rank.title));
  fc.assert(
    fc.property(title, fc.constantFrom(' ', '-', '. ', '.-'), fc.boolean(), (text, separator, upper) => {
      const written = text.replaceAll(/[ -]/g, separator);
      expect(short(readRank(upper ? written.toUpperCase() : written.toLowerCase(), army))).toBe(
        short(readRank(text, army)),
      );
    }),
    { seed: 7, numRuns: 300 },
  );
});

test('readRank: any text is answered', () =>
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), (text) => {
      expect(['found', 'ambiguous', 'unknown']).toContain(readRank(text, all, { column: true }).kind);
    }),
    { seed: 11, numRuns: 500 },
  ));
