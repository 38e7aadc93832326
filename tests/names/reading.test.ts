import fc from 'fast-check';
import { expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { patternOf, printPattern } from '../../src/names/pattern.ts';
import { readTranscription, typedText } from '../../src/names/reading.ts';

type Row = [text: string, pattern: string, visible: string, resolved: string];

test.each<Row>([
  ['Ferrand', 'ferrand', 'Ferrand', 'Ferrand'],
  ['Feṛrand', 'fe_rrand', 'Ferrand', 'Ferrand'], // 1 unsure
  ['Fer\u0323rand', 'fe_rrand', 'Ferrand', 'Ferrand'],
  ['Fe_rrand', 'fe_rrand', 'Ferrand', 'Ferrand'],
  ['F_(e/o)rrand', 'f_(e/o)rrand', 'Ferrand', 'Ferrand'],
  ['Ferr[..]d', 'ferr[..]d', 'Ferr··d', 'Ferr··d'], // 2 lost
  ['Ferr[...]', 'ferr[...]', 'Ferr···', 'Ferr···'],
  ['Ferr[. .]d', 'ferr[..]d', 'Ferr··d', 'Ferr··d'],
  ['[---]rand', '[---]rand', '…rand', '…rand'], // 3 run
  ['[- - -]rand', '[---]rand', '…rand', '…rand'],
  ['[--]rand', '[---]rand', '…rand', '…rand'],
  ['[—]rand', '[---]rand', '…rand', '…rand'],
  ['[---][--]rand', '[---]rand', '……rand', '……rand'],
  ['Ferr[ca. 3]', 'ferr[---]', 'Ferr…', 'Ferr…'],
  ['Ferr[-c.3-]', 'ferr[---]', 'Ferr…', 'Ferr…'],
  ['Ferr[-3-]', 'ferr[...]', 'Ferr···', 'Ferr···'],
  ['Ferrand(?)', 'ferrand', 'Ferrand', 'Ferrand'],
  ['Ferr[and]', 'ferr[and]', 'Ferr···', 'Ferrand'], // 4 restored
  ['Ferr[an?]d', 'ferr[an]d', 'Ferr··d', 'Ferrand'],
  ['Ferr[a.]d', 'ferr[a.]d', 'Ferr··d', 'Ferra·d'],
  ['Ferr[an---]', 'ferr[an---]', 'Ferr··…', 'Ferran…'],
  ['[Ferrand-Holt]', '[ferrand]-[holt]', '·······-····', 'Ferrand-Holt'],
  ['Lieut(enant)', 'lieut[enant]', 'Lieut', 'Lieutenant'], // 5 expanded
  ['Ferrand (late Holt)', 'ferrand late holt', 'Ferrand (late Holt)', 'Ferrand (late Holt)'],
  ['F<e>rrand', 'f[e]rrand', 'Frrand', 'Ferrand'], // 6 supplied
  ['Ferr{r}and', 'ferrand', 'Ferrrand', 'Ferrand'], // 7 superfluous
  ['⟦Ferrand⟧', 'ferrand', 'Ferrand', 'Ferrand'], // 8 erased
  ['[[Ferrand]]', 'ferrand', 'Ferrand', 'Ferrand'],
  ['[[Ferr[.]nd]]', 'ferr[.]nd', 'Ferr·nd', 'Ferr·nd'],
  ['Ferrand | Oakhaven', 'ferrand oakhaven', 'Ferrand Oakhaven', 'Ferrand Oakhaven'], // 9 lines
  ['Ferrand/Oakhaven', 'ferrand oakhaven', 'Ferrand Oakhaven', 'Ferrand Oakhaven'],
  ['Ferrand\nOakhaven', 'ferrand oakhaven', 'Ferrand Oakhaven', 'Ferrand Oakhaven'],
  ['Ferr-/and', 'ferrand', 'Ferrand', 'Ferrand'],
  ['Ferr- | and', 'ferrand', 'Ferrand', 'Ferrand'],
  ['2/Lt. Ferrand', '2 lt ferrand', '2/Lt. Ferrand', '2/Lt. Ferrand'],
  ['12/5/1834', '12 5 1834', '12/5/1834', '12/5/1834'],
  ['\\[Ferrand\\]', 'ferrand', '[Ferrand]', '[Ferrand]'], // 10 the sign itself
  ['Jn^o', 'jno', 'Jno', 'Jno'],
  ['M‘Donald', "m'donald", 'M‘Donald', 'M‘Donald'],
  ['St. John', 'st john', 'St. John', 'St. John'],
  ['Roſſ', 'ross', 'Roſſ', 'Roſſ'],
  ['Zoë Æsc', 'zoe aesc', 'Zoë Æsc', 'Zoë Æsc'],
])('readTranscription: %s', (text, pattern, visible, resolved) => {
  const reading = readTranscription(text);
  expect({
    pattern: printPattern(patternOf(reading.signs)),
    visible: reading.visible,
    resolved: reading.resolved,
  }).toEqual({
    pattern,
    visible,
    resolved,
  });
});

test.each<[text: string, where: string, message: RegExp]>([
  ['', 'character 1', /says nothing/],
  ['   ', 'character 1', /says nothing/],
  ['Ferr[..d', 'character 5', /never closed/],
  ['Ferr..]d', 'character 7', /closes nothing/],
  ['Ferr[]d', 'character 5', /nothing between/],
  ['Ferr(and', 'character 5', /never closed/],
  ['Ferr[an(d]', 'character 10', /closed by/],
  ['Ferr[a[n]d]', 'character 7', /opened twice/],
  ['Ferr_', 'character 5', /no letter after/],
  ['Ferr_ and', 'character 5', /no letter after/],
  ['Ferr_(a)nd', 'character 5', /choice/],
  ['Ferr_(an/o)d', 'character 5', /choice/],
  ['Ferr[…]', 'character 6', /three letters or any number/],
  ['Ferr[-]', 'character 6', /One dash/],
  ['Ferr[+3]d', 'character 6', /not clear what/],
  ['Ferr[a?n]d', 'character 7', /stands inside/],
  ['Ferr[_an]d', 'character 7', /seen can be unsure/],
  ['Ferr \u0323and', 'character 5', /marks no letter/],
  ['⟦Ferrand', 'character 1', /never closed/],
])('readTranscription: refuses %s', (text, where, message) => {
  const act = () => readTranscription(text);
  expect(act).toThrow(HeldbyError);
  expect(act).toThrow(message);
  expect(act).toThrow(expect.objectContaining({ code: 'READING', where }));
});

test('readTranscription: places are counted in the text as given', () => {
  const { signs } = readTranscription('Fe_r[.](and)');
  expect(signs.map((sign) => ('char' in sign ? `${sign.char}${sign.at}` : `${sign.kind}${sign.at}`))).toEqual([
    'F0',
    'e1',
    'r3',
    'lost5',
    'a8',
    'n9',
    'd10',
  ]);
});

const piece = fc.constantFrom(
  'a',
  'b',
  'r',
  'n',
  '_c',
  '_(a/o)',
  '[.]',
  '[---]',
  '[ab]',
  ' ',
  '-',
  "'",
  'é',
  'St. ',
  'M‘',
);

test('printPattern: what it prints reads back to the same pattern', () =>
  fc.assert(
    fc.property(fc.array(piece, { minLength: 1, maxLength: 10 }), (pieces) => {
      const text = `x${pieces.join('')}`;
      const pattern = patternOf(readTranscription(text).signs);
      expect(patternOf(readTranscription(printPattern(pattern)).signs)).toEqual(pattern);
    }),
    { numRuns: 1000, seed: 13 },
  ));

test('readTranscription: any text is read or refused with a place', () =>
  fc.assert(
    fc.property(fc.string({ maxLength: 15, unit: fc.constantFrom(...'ab[](){}<>⟦⟧_.-?/|\\ \u0323') }), (text) => {
      try {
        expect(readTranscription(text).text).toBe(text);
      } catch (error) {
        expect(error).toBeInstanceOf(HeldbyError);
        expect(error).toHaveProperty('where', expect.stringMatching(/^character \d+$/));
      }
    }),
    { numRuns: 3000, seed: 14 },
  ));

test('typedText: what it types reads back to the same signs', () =>
  fc.assert(
    fc.property(
      fc.array(fc.oneof(piece, fc.constantFrom('(cd)', '<e>', '{f}', '⟦g⟧', '\\[', '\\/', ' | ', 'Æ')), {
        maxLength: 10,
      }),
      (pieces) => {
        const { signs } = readTranscription(`x${pieces.join('')}`);
        const plain = (all: typeof signs) =>
          all.map(({ at: _at, ...sign }) =>
            'state' in sign && sign.state === 'expanded' ? { ...sign, state: 'supplied' } : sign,
          );
        expect(plain(readTranscription(typedText(signs)).signs)).toEqual(plain(signs));
      },
    ),
    { numRuns: 1000, seed: 15 },
  ));
