import { expect, test } from 'vitest';
import { doubtfulDate } from '../../src/careers/doubtful-date.ts';
import type { Day, Span } from '../../src/time/span.ts';

const days = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });
const asAt = days(100_000, 100_001);

test.each<[rule: string, dated: Span, doubt: ReturnType<typeof doubtfulDate>]>([
  ['before the edition', days(99_000, 99_001), undefined],
  ['on its day', asAt, undefined],
  ['after it', days(100_001, 100_002), 'after'],
  ['perhaps before it', days(99_999, 100_365), undefined],
  ['70 years before', days(100_000 - 25_600, 100_000 - 25_570), { yearsBefore: 70 }],
  ['a day less', days(100_000 - 25_600, 100_000 - 25_566), undefined],
  ['open at its beginning', days(Number.NEGATIVE_INFINITY, 99_000), undefined],
  ['open at both ends', days(Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY), undefined],
])('%s', (_rule, dated, doubt) => expect(doubtfulDate(dated, asAt)).toEqual(doubt));
