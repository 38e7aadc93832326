import { expect, test } from 'vitest';
import { statusForCorps } from '../../src/services/beside-rank.ts';

test.each<[text: string, status: string | undefined]>([
  ['h.p.', 'half-pay'],
  ['H. P.', 'half-pay'],
  ['half-pay', 'half-pay'],
  ['Half Pay', 'half-pay'],
  ['on half-pay', 'half-pay'],
  ['½ p.', 'half-pay'],
  ['retired', 'retired'],
  ['ret. f.p.', 'retired'],
  ['Half Pay Battalion', undefined],
  ['Retribution', undefined],
  ['h.p. 2nd Fencibles', undefined],
  ['Hp', undefined],
  ['R.N.', undefined],
  ['2nd Fencibles', undefined],
])('%s in the column of the corps', (text, status) => expect(statusForCorps(text)).toBe(status));
