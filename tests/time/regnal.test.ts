import { describe, expect, test } from 'vitest';
import { readDate } from '../../src/time/read-date.ts';
import { failure, shown } from './reading.ts';

describe('regnal years', () => {
  test.each<[text: string, days: string]>([
    ['9 Geo. III', '1768-10-25 1769-10-24'],
    ['9 George III', '1768-10-25 1769-10-24'],
    ['9 Geo. 3', '1768-10-25 1769-10-24'],
    ['9 Geo: 3d', '1768-10-25 1769-10-24'],
    ['IX Geo. III', '1768-10-25 1769-10-24'],
    ['9th year of George III', '1768-10-25 1769-10-24'],
    ['the ninth year of the reign of King George the Third', '1768-10-25 1769-10-24'],
    ['60 Geo. III', '1819-10-25 1820-01-29'],
    ['1 Geo. IV', '1820-01-29 1821-01-28'],
    ['4 Will. IV', '1833-06-26 1834-06-25'],
    ['12 Vict.', '1848-06-20 1849-06-19'],
    ['12 V.', '1848-06-20 1849-06-19'],
    ['6 W. & M.', '1694-02-23 1695-01-06'],
    ['6 Will. & Mar.', '1694-02-23 1695-01-06'],
    ['6 Will. III', '1695-01-07 1695-02-22'],
    ['7 Gul. III', '1695-02-23 1696-02-22'],
    ['1 Ann.', '1702-03-19 1703-03-18'],
    ['43 Eliz. I', '1600-11-27 1601-11-26'],
    ['4 & 5 Will. IV', '1833-06-26 1835-06-25'],
    ['5 and 6 Vict.', '1841-06-20 1843-06-19'],
    ['60 Geo. III & 1 Geo. IV', '1819-10-25 1821-01-28'],
    ['7 Will. IV & 1 Vict.', '1836-06-26 1838-06-19'],
    ['24 Geo. II c. 23', '1750-06-22 1751-06-21'],
    ['5 & 6 Vict. cap. 45', '1841-06-20 1843-06-19'],
    ['25 Oct. 9 Geo. III', '1768-10-25'],
    ['24 October, 9 Geo. III', '1769-10-24'],
    ['before 9 Geo. III', '.. 1768-10-24'],
    ['9–10 Geo. III', '1768-10-25 1770-10-24'],
  ])('%s', (text, days) => {
    expect(shown(text)).toBe(days);
    expect(readDate(text).calendar).toBe('regnal');
  });

  test('a reading names the year', () => {
    expect(readDate('9 Geo. III').words).toBe('9th regnal year of George III: 25 October 1768 – 24 October 1769');
  });
});

describe('reigns', () => {
  test.each<[text: string, days: string]>([
    ['reign of George III', '1760-10-25 1820-01-29'],
    ['in the reign of Queen Anne', '1702-03-19 1714-08-12'],
    ['temp. Car. II', '1660-06-08 1685-02-16'],
    ['reign of Charles III', '2022-09-08 ..'],
    ['reign of William III', '1689-02-23 1702-03-19'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));
});

describe('what has several readings is refused', () => {
  test.each<[text: string, hint: string]>([
    ['6 Will.', 'Write “6 William III” or “6 William IV”.'],
    ['43 Eliz.', 'Write “43 Elizabeth I” or “43 Elizabeth II”.'],
    ['reign of William', 'Write “reign of William III” or “reign of William IV”.'],
    ['15 June 26 Geo. II', 'Write “26 June 1752 N.S.” or “15 June 1753”.'],
  ])('%s', (text, hint) => expect(failure(text).hint).toBe(hint));
  test('one name that only one sovereign bore for so long is clear', () => {
    expect(shown('50 Geo.')).toBe('1809-10-25 1810-10-24');
  });
});

describe('what never was is refused', () => {
  test.each<[text: string, says: string]>([
    ['70 Vict.', 'there was no such regnal year'],
    ['1 Car. II', 'there was no such regnal year'],
    ['5 Will. III', 'there was no such regnal year'],
    ['9 & 11 Geo. III', 'a session runs over two years that follow each other'],
    ['25 May 60 Geo. III', 'there was no 25 May in the 60th regnal year of George III'],
    ['60 Geo. III & 3 Geo. IV', 'these regnal years do not follow each other'],
  ])('%s', (text, says) => expect(failure(text).message).toContain(says));
});
