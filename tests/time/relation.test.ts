import { describe, expect, test } from 'vitest';
import { readDate } from '../../src/time/read-date.ts';
import { failure, shown } from './reading.ts';

describe('relations', () => {
  test.each<[text: string, days: string]>([
    ['before 1834', '.. 1833-12-31'],
    ['before May 1834', '.. 1834-04-30'],
    ['before 16 May 1834', '.. 1834-05-15'],
    ['by 1834', '.. 1834-12-31'],
    ['by 16 May 1834', '.. 1834-05-16'],
    ['after 1815', '1816-01-01 ..'],
    ['after May 1834', '1834-06-01 ..'],
    ['after 16 May 1834', '1834-05-17 ..'],
    ['from 1834', '1834-01-01 ..'],
    ['since May 1834', '1834-05-01 ..'],
    ['until 1834', '.. 1834-12-31'],
    ['not later than 1834', '.. 1834-12-31'],
    ['not after 1834', '.. 1834-12-31'],
    ['not earlier than 1834', '1834-01-01 ..'],
    ['not before 1834', '1834-01-01 ..'],
    ['in or before 1834', '.. 1834-12-31'],
    ['1834 or later', '1834-01-01 ..'],
    ['1834 or earlier', '.. 1834-12-31'],
    ['pre-1834', '.. 1833-12-31'],
    ['post-1834', '1835-01-01 ..'],
    ['terminus post quem 1834', '1834-01-01 ..'],
    ['terminus ante quem 1834', '.. 1834-12-31'],
    ['bef. 1834', '.. 1833-12-31'],
    ['aft. 1834', '1835-01-01 ..'],
    ['prior to 16 May 1834', '.. 1834-05-15'],
    ['up to May 1834', '.. 1834-05-31'],
    ['on or after 16 May 1834', '1834-05-16 ..'],
    ['1834 onwards', '1834-01-01 ..'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));
});

test('a relation to a named period says so', () => {
  expect(readDate('after 9 Geo. III').words).toBe('after 9th regnal year of George III: from 25 October 1769');
});

test('nothing comes after what has no end', () => {
  expect(failure('after the reign of Charles III').message).toContain('it has no end that anything could come after');
});
