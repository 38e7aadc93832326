import { afterEach, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { isoDay } from '../../src/time/calendar.ts';
import { asEvidence } from '../../src/time/evidence-date.ts';
import { longDay, phrase } from '../../src/time/phrase.ts';
import { readDate } from '../../src/time/read-date.ts';
import { lastDay } from '../../src/time/span.ts';
import examples from './data/dates.json' with { type: 'json' };

/** West and east of Greenwich, both sides of the date line, and a place that once skipped a day. */
const ZONES = ['America/New_York', 'Europe/London', 'Asia/Kolkata', 'Pacific/Apia', 'Pacific/Kiritimati'];

const zoneOfRun = process.env['TZ'];
afterEach(() => {
  if (zoneOfRun === undefined) delete process.env['TZ'];
  else process.env['TZ'] = zoneOfRun;
});

const TEXTS = [
  ...examples.filter((one) => one.topic.startsWith('EDTF')).map((one) => String(one.input)),
  '16 May 1834',
  '1 June 1812',
  'c. 16 May 1834',
  '9 Geo. III',
  'Easter 1834',
  '14 thermidor an VIII',
  '2 Feb. 1708/9',
];

function everything(): string[] {
  return TEXTS.map((text) => {
    const { span, edtf, words } = readDate(text);
    const evidence = asEvidence(readDate(text), DEFAULTS);
    const days = [span.from, lastDay(span), evidence.from, lastDay(evidence)];
    const shown = days.map((day) => (Number.isFinite(day) ? `${isoDay(day)} ${longDay(day)}` : '..'));
    return [text, edtf, words, phrase(span), ...shown].join(' | ');
  });
}

test('the same dates come out in five time zones', () => {
  const here = everything();
  const offsets = ZONES.map((zone) => {
    process.env['TZ'] = zone;
    expect(everything()).toEqual(here);
    return new Date('1812-06-01T00:00:00Z').getTimezoneOffset();
  });
  expect(new Set(offsets).size).toBe(ZONES.length); // the zones were in force
});
