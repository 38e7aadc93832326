import { expect, test } from 'vitest';
import { dateOptionsOf, GIVEN_DATE_OPTIONS } from '../../src/time/given-options.ts';
import { readDate } from '../../src/time/read-date.ts';

test('what is said of how dates are written', () => {
  expect(dateOptionsOf({})).toEqual({});
  expect(
    dateOptionsOf({ calendar: 'julian', country: 'england', yearBegins: '25 March', reference: '3 May 1834' }),
  ).toEqual({
    calendar: 'julian',
    country: 'england',
    yearBegins: '25 March',
    reference: readDate('3 May 1834', { calendar: 'julian' }).span.from,
  });
  expect(GIVEN_DATE_OPTIONS).toEqual(['calendar', 'country', 'yearBegins', 'reference']);
});

test.each([
  [{ calendar: 'lunar' }, 'There is no calendar "lunar" here.'],
  [{ yearBegins: '1 March' }, 'No year is known here that begins on 1 March.'],
  [{ reference: 'some day' }, 'cannot be read'],
])('what is not known is refused: %o', (given, message) => {
  expect(() => dateOptionsOf(given)).toThrow(message);
});
