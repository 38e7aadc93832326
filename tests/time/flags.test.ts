import { describe, expect, test } from 'vitest';
import { readDate } from '../../src/time/read-date.ts';

describe('flags', () => {
  test.each<[text: string, edtf: string, approximate: boolean, uncertain: boolean]>([
    ['c. 1834', '1834~', true, false],
    ['c.1834', '1834~', true, false],
    ['ca. 1834', '1834~', true, false],
    ['circa May 1834', '1834-05~', true, false],
    ['about 16 May 1834', '1834-05-16~', true, false],
    ['1834?', '1834?', false, true],
    ['16 May 1834 (?)', '1834-05-16?', false, true],
    ['1834 [?]', '1834?', false, true],
    ['probably 1834', '1834?', false, true],
    ['perhaps c. 1834', '1834%', true, true],
    ['c. 1834?', '1834%', true, true],
    ['c. 1834–36', '1834~/1836~', true, false],
    ['1834–c. 1836', '1834/1836~', true, false],
    ['before c. 1834', '../1833~', true, false],
    ['1834 or thereabouts', '1834~', true, false],
    ['some time in 1834', '1834', false, false],
    ['possibly May 1834', '1834-05?', false, true],
    ['around 16 May 1834', '1834-05-16~', true, false],
    ['between c. 1834 and 1836', '1834~/1836', true, false],
  ])('%s', (text, edtf, approximate, uncertain) => {
    expect(readDate(text)).toMatchObject({ edtf, approximate, uncertain });
  });
});
