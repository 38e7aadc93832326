import { describe, expect, test } from 'vitest';
import { readDate } from '../../src/time/read-date.ts';
import { failure, shown } from './reading.ts';

describe('the French Republican calendar', () => {
  test.each<[text: string, days: string]>([
    ['14 thermidor an VIII', '1800-08-02'],
    ['14 thermidor VIII', '1800-08-02'],
    ['14 Thermidor, an 8', '1800-08-02'],
    ['le 14 therm. an VIII', '1800-08-02'],
    ["1er vendémiaire de l'an 1", '1792-09-22'],
    ['18 brumaire an VIII', '1799-11-09'],
    ['18 Brumaire VIII', '1799-11-09'],
    ['10 nivôse an XIV', '1805-12-31'],
    ['30 fructidor an III', '1795-09-16'],
    ['3e jour complémentaire an VII', '1799-09-19'],
    ['jour complémentaire 6 an VII', '1799-09-22'],
    ['jour de la Révolution an III', '1795-09-22'],
    ['jours complémentaires an IV', '1796-09-17 1796-09-21'],
    ['3–8 thermidor an VIII', '1800-07-22 1800-07-27'],
    ['du 1er au 30 thermidor an VIII', '1800-07-20 1800-08-18'],
    ['thermidor an VIII', '1800-07-20 1800-08-18'],
    ['nivôse an XIV', '1805-12-22 1805-12-31'],
    ['an VIII', '1799-09-23 1800-09-22'],
    ["l'an 8 de la République", '1799-09-23 1800-09-22'],
    ['an XIV', '1805-09-23 1805-12-31'],
    ['before 14 thermidor an VIII', '.. 1800-08-01'],
    ['14 thermidor an VIII to 18 brumaire an IX', '1800-08-02 1800-11-09'],
  ])('%s', (text, days) => {
    expect(shown(text)).toBe(days);
    expect(readDate(text).calendar).toBe('republican');
  });

  test.each<[text: string, says: string]>([
    ['31 thermidor an VIII', 'Republican months had 30 days'],
    ['jour de la Révolution an IV', 'the year 4 had 5 complementary days'],
    ['11 nivôse an XIV', 'the calendar ended with 10 nivôse XIV'],
    ['14 thermidor an XV', 'the years I to XIV'],
  ])('%s is refused', (text, says) => expect(failure(text).message).toContain(says));
});
