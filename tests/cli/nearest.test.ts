import { expect, test } from 'vitest';
import { nearestOf } from '../../src/cli/nearest.ts';

const NAMES = ['candidates', 'tenures', 'timeline', 'entry', 'export', 'list', 'people', 'series'];

test.each<[rule: string, word: string, nearest: string | undefined]>([
  ['a letter missing', 'tenurs', 'tenures'],
  ['two changed about', 'epxort', 'export'],
  ['a letter too many', 'listt', 'list'],
  ['another letter', 'peoble', 'people'],
  ['capitals', 'Entry', 'entry'],
  ['the beginning of one', 'cand', 'candidates'],
  ['nothing near', 'mahogany', undefined],
  ['nothing at all', '', undefined],
])('nearest: %s', (_rule, word, nearest) => expect(nearestOf(word, NAMES)).toBe(nearest));
