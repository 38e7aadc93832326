import { describe, expect, test } from 'vitest';
import { OPEN_REASONS } from '../../src/inquiry/report-reasons.ts';
import { cautionIn, ENGLISH, everyPhrase, filled } from '../../src/report/phrases.ts';
import { defaultStyle, readStyle, STYLE_KEYS } from '../../src/report/style.ts';

const noFile = (name: string): string => {
  throw new Error(`no file ${name}`);
};

describe('a style file', () => {
  test('what it leaves out is as by default', () => expect(readStyle('{}', 'a.json', noFile)).toEqual(defaultStyle()));

  test('every key of a style is explained, and every explained key is one of a style', () => {
    expect(STYLE_KEYS.map(({ key }) => key).sort()).toEqual(Object.keys(defaultStyle()).sort());
    for (const { meaning } of STYLE_KEYS) expect(meaning.length).toBeGreaterThan(20);
  });

  test('every reason for which a lot may be open can be made one that counts', () =>
    expect(STYLE_KEYS.find(({ key }) => key === 'unresolved')?.of).toEqual(OPEN_REASONS));

  test.each<[fault: string, text: string, message: RegExp]>([
    ['is no JSON', '{circa', /no JSON/],
    ['is a list', '[]', /no JSON object/],
    ['has a key that there is none of', '{"colour":"red"}', /no key "colour"/],
    ['has a number for a text', '{"circa":5}', /circa cannot be 5/],
    ['has an empty text', '{"circa":" "}', /circa cannot be/],
    ['has a word that is none of the choices', '{"order":"by name"}', /order cannot be "by name"/],
    ['has a degree that is none', '{"degrees":["sure"]}', /degrees cannot be/],
    ['has too few columns', '{"columns":5}', /columns cannot be 5/],
    ['has a text for yes or no', '{"shares":"yes"}', /shares cannot be "yes"/],
    ['has a phrase that there is none of', '{"phrases":{"greeting":"Dear"}}', /no phrase "greeting"/],
    ['has a place that the phrase does not have', '{"phrases":{"closing.plain":"{who}"}}', /no place \{who\}/],
    ['has a phrase that is no text', '{"phrases":{"closing.plain":5}}', /is no text/],
    ['has a point seen to without a name', '{"seenTo":[{"lot":"1","reason":"gap"}]}', /seenTo cannot be/],
    ['names a language whose file is no object', '{"language":"x.json"}', /no JSON object/],
  ])('that %s is refused', (_fault, text, message) =>
    expect(() => readStyle(text, 'a.json', () => '[]')).toThrow(message),
  );

  test('the same as TOML', () => {
    const toml = `
      circa = "ca."
      degrees = ["certain", "very"]
      shares = false
      columns = 60
      [phrases]
      "section.marks" = "Inscriptions"
      section.notes = "References"
      [[seenTo]]
      lot = "214"
      reason = "gap"
      by = "A. Holt"
      note = "in Saltmere Museum from 1911 to 1950"
    `;
    const json = {
      circa: 'ca.',
      degrees: ['certain', 'very'],
      shares: false,
      columns: 60,
      phrases: { 'section.marks': 'Inscriptions', 'section.notes': 'References' },
      seenTo: [{ lot: '214', reason: 'gap', by: 'A. Holt', note: 'in Saltmere Museum from 1911 to 1950' }],
    };
    expect(readStyle(toml, 'House.TOML', noFile)).toEqual(readStyle(JSON.stringify(json), 'a.json', noFile));
  });

  test.each<[fault: string, toml: string, message: RegExp]>([
    ['a line that is no TOML', 'circa = "c."\norder = by name', /no TOML \(.*line 2\)/],
    ['a key that there is none of', 'colour = "red"', /no key "colour"/],
    ['a day where a text is wanted', 'circa = 1834-05-16', /circa cannot be/],
    ['a number with a fraction', 'columns = 70.5', /columns cannot be 70.5/],
  ])('TOML with %s is refused', (_fault, toml, message) =>
    expect(() => readStyle(toml, 'house.toml', noFile)).toThrow(message),
  );

  test('a file that a text editor began with a byte order mark', () =>
    expect(readStyle('\ufeff{"circa":"ca."}', 'a.json', noFile).circa).toBe('ca.'));

  test('the language of the phrases is a file of them; what it leaves out stays English', () => {
    const style = readStyle('{"language":"de.json"}', 'a.json', (name) => {
      expect(name).toBe('de.json');
      return '{"language":"de","month.5":"Mai","section.notes":"Anmerkungen"}';
    });
    expect(style.phrases['section.notes']).toBe('Anmerkungen');
    expect(style.phrases['section.marks']).toBe(ENGLISH()['section.marks']);
    expect(style.phrases.language).toBe('de');
  });
});

test('cautions have their place among the phrases, so that another language can have them', () => {
  const [name, text] = Object.entries(everyPhrase()).find(([each]) => each === 'caution.opinion') ?? [];
  expect(text).toMatch(/^This is an opinion/);
  const style = readStyle(JSON.stringify({ phrases: { [String(name)]: 'Dies ist eine Meinung.' } }), 'a.json', noFile);
  expect(cautionIn(style.phrases, String(text))).toBe('Dies ist eine Meinung.');
  expect(cautionIn(style.phrases, 'Something new.')).toBe('Something new.');
});

test('what is filled into a phrase is never taken for a place', () =>
  expect(filled('{a} and {b}', { a: '{b}', b: '$&' })).toBe('{b} and $&'));
