import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { forenameBits, forenamesAgree, readForenames, splitForenames } from '../../src/names/forenames.ts';

const bits = (mark: string, person: string): number =>
  forenameBits(readForenames(mark), readForenames(person), DEFAULTS);

test.each<[rule: string, mark: string, person: string, expected: number]>([
  ['1 none on the mark', '', 'Julian Peter', 0],
  ['1 none on either', '', '', 0],
  ['2 unknown, an initial', 'J.', '', 3],
  ['2 unknown, a forename in full', 'Julian', '', 5],
  ['2 unknown, a short forename', 'Wm', '', 5],
  ['2 unknown, two initials', 'J. P.', '', 7],
  ['2 unknown, one in full and two more', 'Julian P. Q.', '', 13],
  ['2 unknown, a lost one says nothing', '[.] P.', '', 4],
  ['3 agree in full', 'Julian Peter', 'Julian Peter', 0],
  ['3 initials agree', 'J. P.', 'Julian Peter', 0],
  ['3 the first alone', 'J.', 'Julian Peter', 0],
  ['3 the person’s are initials', 'Julian Peter', 'J. P.', 0],
  ['3 one beyond those known', 'J. P.', 'James', 4],
  ['3 two beyond those known', 'J. P. Q.', 'James', 8],
  ['4 the second only', 'P.', 'Julian Peter', 2],
  ['4 second and third', 'Peter Quentin', 'Julian Peter Quentin', 2],
  ['4 the third only', 'Q.', 'Julian Peter Quentin', 2],
  ['5 another initial', 'T.', 'Julian Peter', 10],
  ['5 the second contradicts', 'J. T.', 'Julian Peter', 10],
  ['5 in the wrong order', 'P. J.', 'Julian Peter', 10],
  ['5 another forename of the same initial', 'James', 'Julian', 10],
])('forenameBits: %s', (_rule, mark, person, expected) => expect(bits(mark, person)).toBe(expected));

test.each<[a: string, b: string, agree: boolean]>([
  ['[.]', 'Julian', true], // 1 lost
  ['[---]', 'Julian', true],
  ['J[..]ian', 'Julian', true], // 2 damaged
  ['J[---]', 'Julian', true],
  ['J[---]', 'J.', true],
  ['J[---]', 'T.', false],
  ['J[..]n', 'Julian', false],
  ['_Julian', 'Julian', true],
  ['_T.', 'Thomas', true],
  ['_T.', 'Lewis', true], // an unsure T may be an L
  ['_T.', 'Julian', false],
  ['J[.]o', 'John', true], // Jno
  ['I.', 'James', true], // 3 initials
  ['J', 'Isaac', true],
  ['W.', 'Gulielmus', true],
  ['G.', 'William', false],
  ['Wm', 'William', true], // 4 shortenings
  ['Wᵐ', 'William', true],
  ['Jn°', 'John', true],
  ['Jas.', 'James', true],
  ['Jos.', 'Joseph', true],
  ['Alex.', 'Alexander', true],
  ['Fred.', 'Frederick', true],
  ['Jul.', 'Julian', true],
  ['Jul', 'Judith', false],
  ['Jno', 'James', false],
  ['Wm', 'Willm', true],
  ['Gulielmus', 'William', true], // 5 Latin and spelling
  ['Jacobus', 'Jas.', true],
  ['Carolus', 'Charles', true],
  ['Phillip', 'Philip', true],
  ['Lawr.', 'Laurence', true],
  ['Frances', 'Francis', false],
  ['JULIAN', 'Julian', true],
  ['constructor', 'Julian', false],
])('forenamesAgree: %s and %s: %s', (a, b, agree) => {
  const [first] = readForenames(a);
  const [second] = readForenames(b);
  if (first === undefined || second === undefined) throw new Error('no forename');
  expect(forenamesAgree(first, second)).toBe(agree);
  expect(forenamesAgree(second, first)).toBe(agree);
});

test.each<[text: string, parts: string[]]>([
  ['J.P.', ['J.', 'P.']],
  ['J. P.', ['J.', 'P.']],
  ['JP', ['J', 'P']],
  ['JHB', ['J', 'H', 'B']],
  ['WM', ['WM']],
  ['THS', ['THS']],
  ['IAN', ['IAN']],
  ['Jean-Pierre', ['Jean', 'Pierre']],
  ['J.-P.', ['J.', 'P.']],
  ['[J. P.] Quentin', ['[J. P.]', 'Quentin']],
  ['', []],
])('splitForenames: %s', (text, parts) => expect(splitForenames(text)).toEqual(parts));

const forename = fc.constantFrom('Julian', 'Peter', 'J.', 'P.', 'Wm', 'William', 'Thomas', 'T.', 'I.', 'James', '[.]');
const forenames = fc.array(forename, { maxLength: 4 });

test('forenameBits: a mark with more forenames never fits better', () =>
  fc.assert(
    fc.property(forenames, forename, forenames, (mark, more, person) => {
      const fewer = bits(mark.join(' '), person.join(' '));
      const isLater = fewer === DEFAULTS.values['agree.forenames.later'];
      if (fewer < 10 && !isLater)
        expect(bits([...mark, more].join(' '), person.join(' '))).toBeGreaterThanOrEqual(fewer);
    }),
    { numRuns: 1000, seed: 12 },
  ));
