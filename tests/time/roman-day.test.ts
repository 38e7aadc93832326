import { describe, expect, test } from 'vitest';
import type { DateOptions } from '../../src/time/reading-options.ts';
import { failure, shown } from './reading.ts';

describe('days of the Roman month', () => {
  test.each<[text: string, day: string, options?: DateOptions]>([
    ['Kal. Ian. 1802', '1802-01-01'],
    ['Kalendis Ianuariis anno Domini MDCCCII', '1802-01-01'],
    ['prid. Kal. Iul. 1820', '1820-06-30'],
    ['Pridie Kalendas Iulias 1820', '1820-06-30'],
    ['ante diem tertium Nonas Maias 1820', '1820-05-05'],
    ['a.d. IV Id. Oct. 1833', '1833-10-12'],
    ['quinto Kal. Iunii 1820', '1820-05-28'],
    ['8 Cal: Martii 1821', '1821-02-22'],
    ['the Ides of March, 1840', '1840-03-15'],
    ['the 4th of the Nones of May 1820', '1820-05-04'],
    ['Kal. 7bris 1820', '1820-09-01'],
    ['c. Id. Maii 1844', '1844-05-15'],
    ['before III Non. Maii 1844', '.. 1844-05-04'],
    ['VI Kal. Mart. 1821', '1821-02-24'],
    ['bis VI Kal. Mart. 1820', '1820-02-24'],
    ['a.d. bis VI Kal. Mart. 1820', '1820-02-24'],
    ['VII Kal. Mart. 1820', '1820-02-23'],
    ['III Non. Maii 1544', '1544-05-15'],
    ['III Non. Maii 1644', '1644-05-15', { country: 'england' }],
    ['III Non. Maii 1644', '1644-05-05', { country: 'france' }],
    ['III Id. Feb. 1708/9', '1709-02-22'],
    ['III Id. Feb. 1708', '1709-02-22', { country: 'england' }],
    ['Id. Maii 1740 O.S.', '1740-05-26'],
  ])('%s', (text, day, options) => expect(shown(text, options)).toBe(day));

  test.each<[text: string, says: string, hint?: string]>([
    ['III Non. Maii 1644', 'has two readings', 'Write “III Non. Maii 1644 N.S.” or “III Non. Maii 1644 O.S.”'],
    ['Kal. Ian. 1702', 'has three readings'],
    ['VI Kal. Mart. 1820', 'a leap year, in which that day came twice', '“24 February 1820” or “25 February 1820”'],
    ['bis VI Kal. Mart. 1821', '1821 was no leap year'],
    ['III Kal. Ian. 1802', 'the year can be that of the Kalends', '30 December 1801 or 30 December 1802'],
    ['VII Non. Maii 1820', 'no more than 6 days are counted'],
    ['XX Kal. Sept. 1820', 'no more than 19 days are counted'],
    ['IX Id. Sept. 1820', 'no more than 8 days are counted'],
    ['Kal. 1820', 'is not understood', 'as “III Non. Maii 1844”'],
  ])('%s is refused', (text, says, hint = '') => {
    const { message, hint: told } = failure(text);
    expect(message).toContain(says);
    expect(told).toContain(hint);
  });
});
