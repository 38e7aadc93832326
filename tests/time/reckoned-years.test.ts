import { expect, test } from 'vitest';
import { readDate } from '../../src/time/read-date.ts';
import { refuseUnreckoned } from '../../src/time/reckoned-years.ts';

const asked = (text: string) => () => refuseUnreckoned(text, readDate(text).span);

test.each([['0000'], ['1834'], ['9999-12-31'], ['../1850'], ['1834/..'], ['../..']])('reckoned with: %s', (text) =>
  expect(asked(text)).not.toThrow(),
);

test.each([['-0001'], ['Y99999'], ['Y-17E7'], ['1834/Y10000'], ['-0044/1834']])('not reckoned with: %s', (text) =>
  expect(asked(text)).toThrow(/outside the years 0000 to 9999/),
);
