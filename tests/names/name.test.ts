import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readName } from '../../src/names/name.ts';

type Row = [text: string, surname: string, forenames: string, titles: string, suffix: string | undefined];

test.each<Row>([
  ['Ferrand, Julian Peter', 'Ferrand', 'Julian Peter', '', undefined],
  ['FERRAND, J.P.', 'FERRAND', 'J. P.', '', undefined],
  ['de la Tour, Wm.', 'de la Tour', 'Wm.', '', undefined],
  ['Ferrand-Holt, J.', 'Ferrand-Holt', 'J.', '', undefined],
  ['M‘Donald, A.', 'M‘Donald', 'A.', '', undefined],
  ['St. John, Henry', 'St. John', 'Henry', '', undefined],
  ['Ap Rhys, Owen', 'Ap Rhys', 'Owen', '', undefined],
])('readName 1, the surname before the comma: %s', expectParts);

test.each<Row>([
  ['J. P. Ferrand', 'Ferrand', 'J. P.', '', undefined],
  ['JP Ferrand', 'Ferrand', 'J P', '', undefined],
  ['William St. John', 'St. John', 'William', '', undefined],
  ['Henry St. John Ferrand', 'Ferrand', 'Henry St. John', '', undefined],
  ['Jean-Pierre van der Berg', 'van der Berg', 'Jean Pierre', '', undefined],
  ['John O’ Brien', "O'Brien", 'John', '', undefined],
  ['J. O Brien', 'Brien', 'J. O', '', undefined],
  ['Julian Ferrand - Holt', 'Ferrand-Holt', 'Julian', '', undefined],
  ['Wᵐ Ferrand', 'Ferrand', 'Wᵐ', '', undefined],
  ['Ferrand', 'Ferrand', '', '', undefined],
  ['J.P.Ferrand', 'Ferrand', 'J. P.', '', undefined],
  ['Capt.J.Ferrand', 'Ferrand', 'J.', 'Capt.', undefined],
])('readName 2, the surname last: %s', expectParts);

test.each<Row>([
  ['FERRAND Julian Peter', 'FERRAND', 'Julian Peter', '', undefined],
  ['Julian Peter FERRAND', 'FERRAND', 'Julian Peter', '', undefined],
  ['John McDONALD', 'McDONALD', 'John', '', undefined],
  ['J.P. FERRAND', 'FERRAND', 'J. P.', '', undefined],
])('readName 3, the surname in capitals: %s', expectParts);

test.each<Row>([['Ferrand J. P.', 'Ferrand', 'J. P.', '', undefined]])(
  'readName 4, the surname before initials: %s',
  expectParts,
);

test.each<Row>([
  ['Sir Thomas Holt, K.C.B.', 'Holt', 'Thomas', 'Sir|K.C.B.', undefined],
  ['Ferrand, Sir Julian Peter, Bart.', 'Ferrand', 'Julian Peter', 'Sir|Bart.', undefined],
  ['Ferrand, C.B.', 'Ferrand', 'C. B.', '', undefined],
  ['Ferrand, J. P., C.B.', 'Ferrand', 'J. P.', 'C.B.', undefined],
  ['J. P. Ferrand, C.B.', 'Ferrand', 'J. P.', 'C.B.', undefined],
  ['J.P. FERRAND ESQ.', 'FERRAND', 'J. P.', 'ESQ.', undefined],
  ['GEORGE, Jr., Newell A.', 'GEORGE', 'Newell A.', '', 'Jr.'],
  ['BLACK, Loring Milton, Jr.', 'BLACK', 'Loring Milton', '', 'Jr.'],
  ['Ferrand, jun., J.', 'Ferrand', 'J.', '', 'jun.'],
  ['J. Ferrand (2)', 'Ferrand', 'J.', '', '(2)'],
  ['J. FERRAND 2nd', 'FERRAND', 'J.', '', '2nd'],
  ['Thomas Holt the younger', 'Holt', 'Thomas', '', 'the younger'],
  ['Mary Ferrand (née Holt)', 'Ferrand', 'Mary', '(née Holt)', undefined],
  ['Hon. J. Ferrand', 'Ferrand', 'J.', 'Hon.', undefined],
  ['Revd. Dr. Smith', 'Smith', '', 'Revd.|Dr.', undefined],
  ['Lord Holt', 'Holt', '', 'Lord', undefined],
  ['Right Hon. the Earl of Oakhaven', 'Oakhaven', '', 'Right|Hon.|the|Earl of', undefined],
  ['Ferrand, J., of Oakhaven', 'Ferrand', 'J.', 'of Oakhaven', undefined],
  ['Arthur, Lord Ravensmoor', 'Ravensmoor', 'Arthur', 'Lord', undefined],
  ['Arthur, Lord Ravensmoor, K.B.', 'Ravensmoor', 'Arthur', 'Lord|K.B.', undefined],
  ['Lennox, Lord George', 'Lennox', 'George', 'Lord', undefined],
  ['John Henry, Earl of Rathlow', 'Rathlow', 'John Henry', 'Earl of', undefined],
  ['William, Viscount Feltham', 'Feltham', 'William', 'Viscount', undefined],
  ['Quillinan, Baron Christian', 'Quillinan', 'Christian', 'Baron', undefined],
  ['Paget, Henry, Earl of Rathlow', 'Paget', 'Henry', 'Earl of Rathlow', undefined],
  ['Granby, John, Marquess of', 'Granby', 'John', 'Marquess of', undefined],
  ['Holt, Earl of', 'Holt', '', 'Earl of', undefined],
  ['Earl Holt', 'Holt', '', 'Earl', undefined],
  ['MICHENER, Earl Cory', 'MICHENER', 'Earl Cory', '', undefined],
  ['Smith, Earl', 'Smith', 'Earl', '', undefined],
  ['Most Noble the Marquis of Holt', 'Holt', '', 'Most|Noble|the|Marquis of', undefined],
  ['GREGORY, Noble Jones', 'GREGORY', 'Noble Jones', '', undefined],
  ['CLARK, James Beauchamp (Champ)', 'CLARK', 'James Beauchamp', '(Champ)', undefined],
  ['Ferrand (Julian Peter)', 'Ferrand', 'Julian Peter', '', undefined],
  ['LORD, John', 'LORD', 'John', '', undefined],
  ['John Younger', 'Younger', 'John', '', undefined],
])('readName 5, titles, honours and suffixes apart: %s', expectParts);

test.each<Row>([['Tour, Wm. de la', 'de la Tour', 'Wm.', '', undefined]])(
  'readName 6, particles behind the forenames: %s',
  expectParts,
);

function expectParts(
  text: string,
  surname: string,
  forenames: string,
  titles: string,
  suffix: string | undefined,
): void {
  const name = readName(text);
  expect({ ...name, forenames: name.forenames.join(' '), titles: name.titles.join('|') }).toEqual({
    printed: text,
    surname,
    forenames,
    titles,
    suffix,
  });
}

test('readName: never fails, and every part is in the text', () =>
  fc.assert(
    fc.property(fc.string({ maxLength: 40, unit: fc.constantFrom(..."ABCdeé .,-()'’JP1") }), (text) => {
      const { surname, forenames } = readName(text);
      const squeezed = text.normalize('NFC').replace(/[\s’']/g, '');
      for (const part of [...surname.split(' '), ...forenames]) expect(squeezed).toContain(part.replace(/['’]/g, ''));
    }),
    { numRuns: 1000, seed: 11 },
  ));
