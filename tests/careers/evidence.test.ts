import { expect, test } from 'vitest';
import { type AppointmentKind, isSuccessive } from '../../src/careers/evidence.ts';

test.each<[AppointmentKind, boolean]>([
  ['substantive', true],
  ['half-pay', true],
  ['retired', true],
  ['brevet', false],
  ['staff', false],
  ['local', false],
  ['temporary', false],
  ['acting', false],
])('%s takes part in the succession of posts: %s', (kind, takesPart) => expect(isSuccessive(kind)).toBe(takesPart));
