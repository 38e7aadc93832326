import { expect, test } from 'vitest';
import { isoDay } from '../../src/time/calendar.ts';
import { dateOptionsOf, type GivenDateOptions } from '../../src/time/given-options.ts';
import { readDate } from '../../src/time/read-date.ts';
import { recordedDate } from '../../src/time/recorded-date.ts';
import { lastDay } from '../../src/time/span.ts';

test.each<[what: string, text: string, given: GivenDateOptions, kept: string, written: string | undefined]>([
  ['words that say all are kept', '16 May 1834', { country: 'england' }, '16 May 1834', undefined],
  ['nothing known beside them', '2 Feb. 1708/9', {}, '2 Feb. 1708/9', undefined],
  ['the month before', '12th ult.', { reference: '20 May 1834' }, '1834-04-12', '12th ult.'],
  ['a year from 25 March', '2 Feb. 1708', { country: 'england' }, '1709-02-13', '2 Feb. 1708'],
  ['the month first', '3/4/1834', { country: 'united states' }, '1834-03-04', '3/4/1834'],
  ['another calendar than it seems', '3 May 1834', { country: 'russia' }, '1834-05-15', '3 May 1834'],
  [
    'an approximate year of its own reckoning',
    'c. 1708',
    { yearBegins: '25 March' },
    '1708-04-05~/1709-04-04~',
    'c. 1708',
  ],
])('recordedDate: %s', (_what, text, given, kept, written) => {
  const found = recordedDate(text, dateOptionsOf(given));
  expect({ kept: found.reading.text, written: found.written }).toEqual({ kept, written });
});

const WORDINGS = [
  '2 Feb. 1708',
  'Feb. 1708',
  '1708',
  'c. 1708',
  '1708?',
  'before May 1709',
  '1708 or 1711',
  '3/4/1708',
];
const WAYS: readonly GivenDateOptions[] = [
  { country: 'england' },
  { country: 'scotland' },
  { country: 'france' },
  { country: 'russia' },
  { calendar: 'julian', yearBegins: '25 March' },
  { calendar: 'gregorian' },
];
test.each(WORDINGS.flatMap((text) => WAYS.map((given) => ({ text, given }))))(
  'what is kept means the same without what was known: $text, $given',
  ({ text, given }) => {
    let meant: ReturnType<typeof readDate>;
    try {
      meant = readDate(text, dateOptionsOf(given));
    } catch {
      return; // two readings even so
    }
    const kept = readDate(recordedDate(text, dateOptionsOf(given)).reading.text);
    const { span, approximate, uncertain } = meant;
    expect(kept).toMatchObject({ span, approximate, uncertain });
  },
);

test('what cannot be read is refused as it was written', () => {
  expect(() => recordedDate('12th ult.', dateOptionsOf({ country: 'england' }))).toThrow('12th ult.');
});

test('a reference is the first day of a date that is read in the same way', () => {
  const { reference } = dateOptionsOf({ country: 'england', reference: '2 Feb. 1708' });
  expect(reference !== undefined && isoDay(reference)).toBe('1709-02-13');
  expect(isoDay(lastDay(readDate('3d inst.', dateOptionsOf({ reference: 'May 1834' })).span))).toBe('1834-05-03');
});
