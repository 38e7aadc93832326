import { expect, test } from 'vitest';
import { monthName } from '../../src/time/calendar.ts';
import { shown } from '../time/reading.ts';

/**
 * Allen and Greenough, New Latin Grammar (1903) § 631: the rule "if the given date be Calends, add two to the number of
 * days in the month preceding,—if Nones or Ides, add one to that of the day on which they fall,—and from the number
 * thus ascertained subtract the given date", with its three examples, and the first days of its table.
 */
test.each<[text: string, day: string]>([
  ['VIII. Kal. Feb. 1801', '1801-01-25'],
  ['IV. Nōn. Mār. 1801', '1801-03-04'],
  ['IV. Īd. Sept. 1801', '1801-09-10'],
  ['Kal. Iān. 1801', '1801-01-01'],
  ['IV. Nōn. Iān. 1801', '1801-01-02'],
  ['prīd. Nōn. Iān. 1801', '1801-01-04'],
  ['VIII. Īd. Iān. 1801', '1801-01-06'],
  ['VI. Nōn. Mārt. 1801', '1801-03-02'],
  ['V. Nōn. Mārt. 1801', '1801-03-03'],
  ['prīd. Īd. Apr. 1801', '1801-04-12'],
])('%s', (text, day) => expect(shown(text)).toBe(day));

const numeral = (count: number): string =>
  [
    '',
    'prid.',
    'III',
    'IV',
    'V',
    'VI',
    'VII',
    'VIII',
    'IX',
    'X',
    'XI',
    'XII',
    'XIII',
    'XIV',
    'XV',
    'XVI',
    'XVII',
    'XVIII',
    'XIX',
  ][count - 1] ?? '';

test.each([1801, 1804])('every day of %i by the same rule', (year) => {
  const leap = year % 4 === 0;
  for (let month = 1; month <= 12; month++) {
    const days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0;
    const late = [3, 5, 7, 10].includes(month);
    for (let day = 1; day <= days; day++) {
      const [point, falls, of] =
        day <= (late ? 7 : 5)
          ? ['Non.', (late ? 7 : 5) + 1, month]
          : day <= (late ? 15 : 13)
            ? ['Id.', (late ? 15 : 13) + 1, month]
            : ['Kal.', days + 2, (month % 12) + 1];
      // The Kalends are no day before anything; of the year before those of January see readRomanDay.
      if (day === 1 || (month === 12 && day > 13)) continue;
      const count = falls - day;
      // In a leap year the sixth day before the Kalends of March comes twice, and those after it are a day later.
      if (leap && month === 2 && point === 'Kal.' && count === 6) continue;
      const shift = leap && month === 2 && point === 'Kal.' && count < 6 ? 1 : 0;
      const iso = `${year}-${String(month).padStart(2, '0')}-${String(day + shift).padStart(2, '0')}`;
      expect([month, day, shown(`${numeral(count)} ${point} ${monthName(of)} ${year}`)]).toEqual([month, day, iso]);
    }
  }
});
