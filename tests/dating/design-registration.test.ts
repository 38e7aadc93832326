import { describe, expect, test } from 'vitest';
import { registrationDay } from '../../src/dating/design-registration.ts';

// The examples that the published tables give with them, and the exceptions that they name.
describe('the lozenge of British design registration', () => {
  test.each<[words: string, day: string | undefined]>([
    ['◇ Rd IV X A 2 5', '1842-12-02'],
    ['◇ Rd X A 2 5', '1842-12-02'],
    ['◇Rd IV N A 2 7', '1864-12-02'],
    ['lozenge Rd IV / 1 / 5 K / R', '1883-08-01'],
    ['◇ Rd. I 6 3 A I', '1871-07-06'],
    ['◇ Rd XII ii 6 3 A I', '1871-07-06'],
    ['◇ Rd IV K R 19 2', '1857-08-19'],
    ['◇ Rd IV Z K 3 2', '1860-11-03'],
    ['◇ Rd IV 5 3 W G', '1878-03-05'],
    ['◇ Rd IV 7 3 W G', undefined],
    ['◇ Rd IV C O 3 2', '1844-01-03'],
    ['◇ Rd IV X A 32 5', undefined],
    ['◇ Rd IV X G 30 5', undefined],
    ['◇ Rd IV X N 2 5', undefined],
    ['◇ Rd IV X A 2', undefined],
    ['◇ Rd', undefined],
  ])('%s: %s', (words, day) => {
    expect(registrationDay(words)?.expression).toBe(day);
  });

  test.each([
    ['◇ Rd IV K R 19 2', 'September 1857'],
    ['◇ Rd IV Z K 3 2', 'December 1860'],
    ['◇ Rd IV C O 3 2', 'January'],
  ])('%s: what else the letter stood for is told', (words, note) => {
    expect(registrationDay(words)?.note).toContain(note);
  });
});
