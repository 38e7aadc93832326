import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import type { DateReading } from '../../src/time/date-reading.ts';
import { readDate } from '../../src/time/read-date.ts';
import type { DateOptions } from '../../src/time/reading-options.ts';
import { failure, shown } from './reading.ts';

describe('days, months and years as lists print them', () => {
  test.each<[text: string, days: string]>([
    ['16 May 1834', '1834-05-16'],
    ['16 may 1834', '1834-05-16'],
    ['  16  May   1834 ', '1834-05-16'],
    ['8 Feb. 1839', '1839-02-08'],
    ['8 Feb 1839', '1839-02-08'],
    ['May 16, 1834', '1834-05-16'],
    ['May 16 1834', '1834-05-16'],
    ['16 May, 1834', '1834-05-16'],
    ['1834 May 16', '1834-05-16'],
    ['on 16 May 1834', '1834-05-16'],
    ['May 1834', '1834-05-01 1834-05-31'],
    ['in May 1834', '1834-05-01 1834-05-31'],
    ['Feb. 1836', '1836-02-01 1836-02-29'],
    ['1834', '1834-01-01 1834-12-31'],
    ['in 1834', '1834-01-01 1834-12-31'],
    ['A.D. 1834', '1834-01-01 1834-12-31'],
    ['1834-05-16', '1834-05-16'],
    ['1834-05', '1834-05-01 1834-05-31'],
    ['29 Feb 1836', '1836-02-29'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));
});

describe('as cataloguers and clerks of several languages write them', () => {
  test.each<[text: string, days: string]>([
    ['M.DCC.LXXVI.', '1776-01-01 1776-12-31'],
    ['M DCC LXXVI', '1776-01-01 1776-12-31'],
    ['May M. DCC. LX', '1760-05-01 1760-05-31'],
    ['CIƆIƆCCLX', '1760-01-01 1760-12-31'],
    ['An. Dom. 1840', '1840-01-01 1840-12-31'],
    ['Aº Di 1840', '1840-01-01 1840-12-31'],
    ["l'an de grâce 1840", '1840-01-01 1840-12-31'],
    ['im Jahre 1787', '1787-01-01 1787-12-31'],
    ['datiert 1787', '1787-01-01 1787-12-31'],
    ['daté 1787', '1787-01-01 1787-12-31'],
    ['anno 1544 die 3 Maij', '1544-05-13'],
    ['primo Maii 1834', '1834-05-01'],
    ['3tio Maii 1834', '1834-05-03'],
    ['in festo S. Michaelis 1834', '1834-09-29'],
    ['fin XVIIIe', '1766-01-01 1800-12-31'],
    ['XVIIIe–XIXe', '1700-01-01 1899-12-31'],
    ['dans les années 1850', '1850-01-01 1859-12-31'],
    ['in den 1850er Jahren', '1850-01-01 1859-12-31'],
    ['nicht vor 1830', '1830-01-01 ..'],
    ['nicht nach 1830', '.. 1830-12-31'],
    ['pas avant 1830', '1830-01-01 ..'],
    ['pas après 1830', '.. 1830-12-31'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));

  test('what is left without a word that denies it is not offered', () =>
    expect(failure('hardly before 1830').hint).not.toContain('before 1830”'));
});

describe('the same in EDTF', () => {
  test.each<[text: string, edtf: string]>([
    ['16 May 1834', '1834-05-16'],
    ['May 1834', '1834-05'],
    ['1834', '1834'],
    ['1834–36', '1834/1836'],
    ['1834 or 1836', '[1834,1836]'],
    ['between 3 May 1834 and 8 Feb. 1839', '1834-05-03/1839-02-08'],
    ['before 1834', '../1833'],
    ['by May 1834', '../1834-05'],
    ['after 16 May 1834', '1834-05-17/..'],
    ['the 1830s', '183X'],
    ['the 19th century', '18XX'],
    ['16 May 1700 O.S.', '1700-05-27'],
    ['at any time', '../..'],
  ])('%s', (text, edtf) => {
    const reading = readDate(text);
    expect(reading.edtf).toBe(edtf);
    expect(readDate(edtf).span).toEqual(reading.span);
  });
});

describe('dates that cannot be', () => {
  test.each<[text: string, says: string, where: string]>([
    ['29 Feb 1900', 'February 1900 has 28 days', 'character 1'],
    ['1900-02-29', 'February 1900 has no day 29', 'character 9'],
    ['31 Feb. 1834', 'February 1834 has 28 days', 'character 1'],
    ['1834-13', 'there is no month 13', 'character 6'],
    ['Febuary 1834', '“Febuary”', 'character 1'],
    ['16 May 1834 and', 'at its end: it breaks off', 'character 16'],
    ['16 May 1834 xyz', '“xyz”: this is not understood', 'character 13'],
    ['16 May', 'the year is missing', 'character 7'],
    ['16 May 34', '“34”: a year needs its four figures', 'character 8'],
    ['', 'nothing to read', 'character 1'],
    ['[1834,,1836]', 'a member of the set is missing', 'character 7'],
  ])('%s', (text, says, where) => {
    const error = failure(text);
    expect(error.code).toBe('DATE');
    expect(error.message).toContain(says);
    expect(error.where).toBe(where);
    expect(error.hint).not.toBe('');
  });
});

describe('wordings with two readings are refused, and told how to write either', () => {
  test.each<[text: string, hints: readonly string[]]>([
    ['3/4/1834', ['1834-04-03', '1834-03-04']],
    ['16 May 1700', ['16 May 1700 O.S.', '16 May 1700 N.S.', '1700-05-16']],
    ['1834-36', ['1834/1836']],
  ])('%s', (text, hints) => {
    const error = failure(text);
    expect(error.message).toContain('two readings');
    for (const hint of hints) expect(error.hint).toContain(hint);
  });
  test.each<[text: string, options: DateOptions, days: string]>([
    ['16 May 1700', { calendar: 'julian' }, '1700-05-27'],
    ['16 May 1700', { calendar: 'gregorian' }, '1700-05-16'],
    ['1752-09-02', { calendar: 'julian' }, '1752-09-13'],
  ])('%s in a known calendar', (text, options, days) => expect(shown(text, options)).toBe(days));
});

describe('whatever is typed', () => {
  const words =
    '16 3 8 May Feb. 1834 1700 1708/9 – - / to and or c. ? ~ before after from until between by early late half first century ' +
    '19th 1830s Geo. III Vict. 9 & of the reign Michaelmas Easter term winter 14 thermidor an VIII O.S. N.S. ult. inst. , . ( ) ' +
    '[ ] { } .. 1834-05 X 183X Y S Sunday turn 7ber MDCCC 0 99 1752 Old Lady Day eve in any time at 1e400 ^ ½ 9999 Y1E999 Y99999999999999';
  const reference = gregorianDay(1834, 5, 16);

  test('it is read or refused, and a date that is read has days', () => {
    const anything = fc
      .array(fc.constantFrom(...words.split(' ')), { minLength: 1, maxLength: 6 })
      .map((some) => some.join(' '));
    fc.assert(
      fc.property(fc.oneof(anything, fc.string()), (text) => {
        try {
          const { span, edtf } = readDate(text, { reference });
          expect(span.from).toBeLessThan(span.until);
          expect(readDate(edtf).span).toEqual(span);
        } catch (error) {
          expect(error).toBeInstanceOf(HeldbyError);
          expect((error as Error).message).not.toContain('\n');
        }
      }),
      { numRuns: 3000, seed: 1752 },
    );
  });

  test('the EDTF of a reading means the same, flags and all', () => {
    const dates = [
      '16 May 1834',
      'May 1834',
      '1834',
      'c. 1836',
      '1838?',
      '9 Geo. III',
      'Michaelmas 1834',
      '14 thermidor an VIII',
      'early 19th century',
      'the 1830s',
      'spring 1834',
      '2 Feb. 1708/9',
      '1700 O.S.',
      'reign of Anne',
      'an VIII',
      '16th inst.',
      'turn of 1800',
      '183X',
      '1834/5',
    ];
    const date = fc.constantFrom(...dates);
    const before = fc.constantFrom('', 'before ', 'by ', 'after ', 'from ', 'until ', 'c. ', 'probably ');
    const joint = fc.constantFrom(' to ', '–', ' or ', ' and ', ', ');
    const text = fc.oneof(
      fc.tuple(before, date).map(([a, b]) => a + b),
      fc.tuple(before, date, joint, date).map(([a, b, c, d]) => a + b + c + d),
    );
    let read = 0;
    fc.assert(
      fc.property(text, (one) => {
        let reading: DateReading;
        try {
          reading = readDate(one, { reference });
        } catch {
          return; // refused, which the other property looks at
        }
        read++;
        const again = readDate(reading.edtf);
        expect([again.span, again.approximate, again.uncertain]).toEqual([
          reading.span,
          reading.approximate,
          reading.uncertain,
        ]);
      }),
      { numRuns: 2000, seed: 1834 },
    );
    expect(read).toBeGreaterThan(1000);
  });
});
