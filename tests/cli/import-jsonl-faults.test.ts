import { copyFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';
import { errorIn, expectRefused, fillLedger, writeLines } from './refusals.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  fillLedger(place);
  copyFileSync(place.path('heldby.sqlite'), place.path('filled'));
});
beforeEach(() => copyFileSync(place.path('filled'), place.path('heldby.sqlite')));
afterAll(() => place.remove());

const file = (...lines: (object | string)[]) => writeLines(place, 'some.jsonl', lines);

describe('a file with faults is refused whole, with line, field and what to do', () => {
  const person = (more: object) => ({ type: 'person', key: 'new', name: 'Matthias Drewe', ...more });
  const entry = (more: object) => ({
    type: 'entry',
    key: 'new',
    edition: 'al-1834',
    person: 'holt',
    name: 'R. Holt',
    rank: 'Ensign',
    ...more,
  });
  test.each<[what: string, line: object | string, where: RegExp, message: RegExp]>([
    ['no JSON', '{"type":"person",', /^line 2$/, /JSON/],
    ['a list', '[1,2]', /^line 2$/, /object/],
    ['a text', '"person"', /^line 2$/, /object/],
    ['nothing at all', 'null', /^line 2$/, /object/],
    ['no type', { key: 'new' }, /^line 2/, /"type"/],
    ['a type that is no text', { type: 5 }, /^line 2/, /"type"/],
    ['no such type', { type: 'sneeze' }, /^line 2, field type$/, /"sneeze"/],
    ['no such field', person({ colour: 'red' }), /^line 2, field colour$/, /no field colour/],
    [
      'a field of another time',
      '{"type":"person","key":"new","name":"A Bee","__proto__":{"x":1}}',
      /^line 2, field __proto__$/,
      /__proto__/,
    ],
    ['a key that is no text', person({ key: {} }), /^line 2/, /"key"/],
    ['a key that says nothing', person({ key: '' }), /^line 2/, /key/],
    ['a name that is a list', person({ name: ['Matthias'] }), /^line 2, field name$/, /name/],
    ['a name that is an object', person({ name: { surname: 'Drewe' } }), /^line 2, field name$/, /name/],
    ['a name that is true', person({ name: true }), /^line 2, field name$/, /name/],
    ['no name', { type: 'person', key: 'new' }, /^line 2, field name$/, /needs its name/],
    ['a name of spaces', person({ name: '  ' }), /^line 2, field name$/, /name|surname/],
    ['places that are no texts', person({ places: [{ a: 1 }] }), /^line 2, field places$/, /places/],
    ['a series of spaces', { type: 'series', key: 'new', name: '  ', service: 'army' }, /^line 2, field name$/, /name/],
    ['half a sign (a lone surrogate)', '{"type":"person","key":"new","name":"A \\ud800B"}', /^line 2/, /\w/],
    ['a zero byte', '{"type":"person","key":"new","name":"A \\u0000B"}', /^line 2/, /\w/],
    ['a day that there is not', person({ born: '31 Feb. 1834' }), /^line 2, field born$/, /28 days/],
    [
      'a day that there is not, printed so or not',
      entry({ dated: '31 Feb. 1834', datedAsPrinted: '31 Feb. 1834' }),
      /^line 2, field dated$/,
      /28 days/,
    ],
    [
      'what the page prints, without what is meant',
      entry({ datedAsPrinted: '31 Feb. 1834' }),
      /^line 2, field dated/,
      /dated/,
    ],
    [
      'an end before its start',
      person({ born: '1850', died: '1840' }),
      /^line 2, field died$/,
      /ends before the birth/,
    ],
    [
      'a span that ends before it begins',
      { type: 'feature', object: 'slope', text: 'screws', window: '1850/1840' },
      /^line 2, field window$/,
      /ends before it begins/,
    ],
    ['an unknown rank', entry({ rank: 'Bellfounder' }), /^line 2, field rank$/, /"Bellfounder"/],
    ['no such kind', entry({ kind: 'honorary' }), /^line 2, field kind$/, /"honorary"/],
    [
      'a number that is none',
      { type: 'series', key: 'new', name: 'Roll', service: 'army', lagDays: 1.5 },
      /^line 2, field lagDays$/,
      /"1.5"/,
    ],
    [
      'a number below none',
      { type: 'series', key: 'new', name: 'Roll', service: 'army', lagDays: -5 },
      /^line 2, field lagDays$/,
      /"-5"/,
    ],
    [
      'a reading that is not closed',
      { type: 'mark', key: 'new', object: 'slope', text: 'A [', role: 'owner' },
      /^line 2, field text$/,
      /never closed/,
    ],
    [
      'another that is not',
      { type: 'reading', key: 'new', mark: 'lid', text: 'A [' },
      /^line 2, field text$/,
      /never closed/,
    ],
    [
      'an assumption that there is not',
      { type: 'assumption', name: 'nosuch', value: '5', why: 'tried' },
      /^line 2, field name$/,
      /"nosuch"/,
    ],
    [
      'an assumption that can have no such value',
      { type: 'assumption', name: 'circa', value: 'banana', why: 'tried' },
      /^line 2, field value$/,
      /"banana"/,
    ],
    ['a key that stands for another record', person({ key: 'holt' }), /^line 2, field key$/, /"holt".*p2/],
    [
      'an edition that there is, under another key',
      { type: 'edition', key: 'new', series: 'al', label: '1834', asAt: '1834' },
      /^line 2, field label$/,
      /1834/,
    ],
    [
      'a correction of nothing',
      { type: 'amendment', record: 'nowhere', field: 'note', value: 'x', why: 'tried' },
      /^line 2/,
      /"nowhere"/,
    ],
    [
      'a correction without its reason',
      { type: 'amendment', record: 'holt', field: 'note', value: 'x' },
      /^line 2/,
      /reason|why/,
    ],
    [
      'a correction of a field that there is not',
      { type: 'amendment', record: 'holt', field: 'colour', value: 'x', why: 'tried' },
      /^line 2, field colour$/,
      /colour/,
    ],
    ['a withdrawal of what others rest on', { type: 'withdrawal', record: 'ferrand', why: 'tried' }, /^line 2/, /e1/],
  ])('%s', async (_what, line, where, message) => {
    const good = { type: 'person', key: 'good', name: 'Good Person' };
    await expectRefused(place, ['import', file(good, line)], { status: 4, code: 'INPUT_FILE', where, message });
  });

  test('a key that two lines of the file have is said to be in the file', () => {
    const { message, where } = errorIn(
      place.run('import', file(person({}), person({ name: 'Somebody Else' })), '--json'),
    );
    expect(where).toMatch(/^line 2/);
    expect(message).toMatch(/line 1/);
  });

  test('every fault of the file is named at once', () => {
    const { message } = errorIn(
      place.run(
        'import',
        file(
          person({ born: 'banana' }),
          entry({ rank: 'Bellfounder' }),
          { type: 'sneeze' },
          entry({ kind: 'honorary' }),
        ),
        '--json',
      ),
    );
    for (const line of ['line 1, field born', 'line 2, field rank', 'line 3, field type', 'line 4, field kind'])
      expect(message).toContain(line);
  });

  test.each<[what: string, bytes: Buffer]>([
    ['Latin-1', Buffer.from('{"type":"person","key":"new","name":"Raïph Holt"}\n', 'latin1')],
    ['UTF-16', Buffer.from('\ufeff{"type":"person","key":"new","name":"R. Holt"}\n', 'utf16le')],
    ['bytes of anything', Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * i * 31 + i * 7) % 256))],
  ])('what is not UTF-8 text: %s', async (_what, bytes) => {
    writeFileSync(place.path('bytes.jsonl'), bytes);
    await expectRefused(place, ['import', 'bytes.jsonl'], {
      status: 4,
      code: 'INPUT_FILE',
      where: /^line \d+$/,
      message: /not UTF-8/,
      hint: /UTF-8/,
    });
  });

  test('a fault far down in a very long line is told in few words', () => {
    writeFileSync(
      place.path('long.jsonl'),
      `${JSON.stringify(person({ name: `A ${'x'.repeat(1_000_000)}`, born: '1'.repeat(1_000_000) }))}\n`,
    );
    const ran = place.run('import', 'long.jsonl');
    expect([ran.status, ran.err.length < 1000]).toEqual([4, true]);
  });
});

test('a key of a record that was withdrawn is no way to correct it', () => {
  writeFileSync(place.path('case.jsonl'), '{"type":"object","key":"case-9","ref":"case 9","title":"Case"}\n');
  place.json('import', 'case.jsonl');
  const { id } = place.json('show', 'case-9').record;
  place.json('withdraw', 'case-9', '--why', 'entered twice');
  writeFileSync(place.path('again.jsonl'), '{"type":"object","key":"case-9","ref":"case 9","title":"Another"}\n');
  const { status, err } = place.run('import', 'again.jsonl');
  expect(status).toBe(4);
  expect(err).toContain(`stood for ${id}, which said something else and was withdrawn.`);
  expect(err).toContain(`heldby history ${id}`);
  expect(place.run('history', id).status).toBe(0);
});
