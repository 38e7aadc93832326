import { expect, test } from 'vitest';
import { anyOf, dateError, severalReadings } from '../../src/time/date-error.ts';

test('an error points at the part at fault', () => {
  const error = dateError('16 Mayy 1834', 3, 4, 'this is not understood', 'Look again.');
  expect(error.message).toBe('The date “16 Mayy 1834” cannot be read at character 4, “Mayy”: this is not understood.');
  expect(error).toMatchObject({ code: 'DATE', hint: 'Look again.', where: 'character 4' });
  expect(dateError('16 May', 6, 1, 'the year is missing', '').message).toContain('cannot be read at its end');
});

test('several readings are counted', () => {
  expect(severalReadings('x', 'a, b, c', '', 3).message).toBe('The date “x” has three readings: a, b, c.');
});

test('wordings to choose from', () => {
  expect(anyOf(['a'])).toBe('“a”');
  expect(anyOf(['a', 'b', 'c'])).toBe('“a”, “b” or “c”');
});
