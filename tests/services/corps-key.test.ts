import fc from 'fast-check';
import { expect, test } from 'vitest';
import { agreeingKeys, corpsKey, sameCorps } from '../../src/services/corps-key.ts';

test.each([
  [
    'figures and letters',
    [
      '2nd Fencibles',
      '2d Fencibles',
      '2 Fencibles',
      'II. Fencibles',
      'IInd Fencibles',
      'Second Fencibles',
      'SECOND FENCIBLES',
      '2nd Fenc.',
      '2ⁿᵈ Fencibles',
    ],
  ],
  [
    'words that tell nothing',
    [
      '2nd Fencibles',
      '2nd Regt. of Fencibles',
      'the 2nd Regiment of Fencibles',
      '2nd Fencible Regt',
      'His Majesty’s 2nd Fencibles',
      'H.M. 2nd Fencibles',
      'Fencibles, No. 2',
    ],
  ],
  ['the place of the number', ['2nd Fencibles', 'Fencibles, 2nd', 'Regiment of Fencibles, 2d']],
  ['cavalry', ['4th Dragoons', '4th Drags.', 'IV. Dragoons', 'Fourth Regt. of Dragoons']],
  [
    'initials',
    ['Royal Artillery', 'R.A.', 'R. A.', 'RA', 'R. Art.', 'Roy. Artillery', 'the Royal Regiment of Artillery'],
  ],
  ['engineers', ['Royal Engineers', 'R.E.', 'Corps of Royal Engineers', 'R. Engrs.']],
  [
    'native infantry',
    [
      '22nd Madras N.I.',
      '22d Madras Native Infantry',
      'XXII. Madras N. I.',
      'Twenty-second Madras N.I.',
      'Madras 22nd N.I.',
    ],
  ],
  ['light infantry', ['52nd L.I.', '52nd Light Inf.', '52d LI', '52nd (Light Infantry)']],
  ['light dragoons', ['7th Light Dragoons', '7th Lt. Dragoons', '7th L.D.']],
  [
    'a battalion of a regiment',
    ['2/60th Foot', '2nd Bn. 60th Foot', '60th Regiment of Foot, 2nd Battalion', '2nd Batt., 60th Ft.'],
  ],
  ['counties', ['Wiltshire Militia', 'Wilts Mil.']],
  ['points of the compass', ['North Fenshire Militia', 'N. Fenshire Mil.']],
  ['ampersands', ['Oak & Elm Rifles', 'Oak and Elm Rifles']],
  ['the possessive', ['Queen’s Own Rangers', "Queen's Own Rangers", 'Queens Own Rangers']],
  ['long s and accents', ['Chaſſeurs Brétons', 'Chasseurs Bretons']],
])('one key: %s', (_rule, spellings) => {
  expect(corpsKey(spellings[0] ?? '')).not.toBe('');
  expect(new Set(spellings.map(corpsKey)).size).toBe(1);
});

test('corps that differ keep different keys', () => {
  const corps = [
    '2nd Fencibles',
    '12th Fencibles',
    '20th Fencibles',
    '2nd Dragoons',
    '2nd Dragoon Guards',
    '2nd Light Dragoons',
    '2nd Foot',
    '2nd Foot Guards',
    '2nd',
    'Fencibles',
    'II Corps',
    '22nd Fencibles',
    'Royal Artillery',
    'Royal Marine Artillery',
    'Royal Horse Artillery',
    '2nd Madras N.I.',
    '2nd Bengal N.I.',
    '2nd Madras Cavalry',
    'North Fenshire Militia',
    'South Fenshire Militia',
    'Fenshire Militia',
    '2/60th Foot',
    '3/60th Foot',
    '60th Foot',
    '60th Bn. 2nd Foot',
    'E Troop',
    'East Troop Yeomanry',
    'C Troop',
    'D Troop',
    'Royal Artillery (Madras)',
  ];
  expect(new Set(corps.map(corpsKey)).size).toBe(corps.length);
});

test.each([
  ['no letters', '—', ''],
  ['nothing but words that tell nothing', 'The Regiment', 'the regiment'],
])('corpsKey: %s', (_rule, text, expected) => expect(corpsKey(text)).toBe(expected));

test.each([
  ['spellings', '2nd Fencibles', 'II. Fenc.', true],
  ['others', '2nd Fencibles', '2nd Dragoons', false],
  ['two that name nothing', '?', '-', false],
])('sameCorps: %s', (_rule, a, b, expected) => expect(sameCorps(a, b)).toBe(expected));

test('a key has itself as its key', () => {
  const word = fc.constantFrom(
    '2nd',
    'II',
    'Fenc.',
    'Drag.',
    'Regt.',
    'of',
    'the',
    'R.A.',
    'N.',
    'Madras',
    'Corps',
    '2/60th',
    'Bn.',
    'Twenty',
    'first',
    'E',
    'Troop',
    'i',
    'LI',
  );
  fc.assert(
    fc.property(fc.array(word, { maxLength: 6 }), (words) => {
      const key = corpsKey(words.join(' '));
      expect(corpsKey(key)).toBe(key);
    }),
    { seed: 3, numRuns: 2000 },
  );
});

test.each([
  ['the same', '2 fencibles', '2 fencibles', true],
  ['a number alone on either side', '14', '14 light dragoons', true],
  ['a number alone on either side', '60 rifles', '60', true],
  ['the number of the battalion is not that of the regiment', '2', '2 battalion 60 rifles', false],
  ['the number of the regiment', '60', '2 battalion 60 rifles', true],
  ['two that each name an arm', '2 fencibles', '2 foot', false],
  ['another number', '3', '2 foot', false],
  ['no corps', '', '', false],
])('agreeingKeys: %s (%s, %s)', (_rule, a, b, agree) => expect(agreeingKeys(a, b)).toBe(agree));
