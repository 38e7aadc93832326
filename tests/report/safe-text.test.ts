import { describe, expect, test } from 'vitest';
import { escapedMarkdown, escapedMarkup, safeJson, visible, visibleParagraphs } from '../../src/report/safe-text.ts';

describe('visible', () => {
  test.each<[rule: string, text: string, shown: string]>([
    ['a plain text stays as it is', 'Lieut. J. Ferrand’s “own”', 'Lieut. J. Ferrand’s “own”'],
    ['letters with signs above and below stay', 'Hạrcomb Müller', 'Hạrcomb Müller'],
    ['1 an escape of a terminal', '\u001b[31mred', '\\u{1b}[31mred'],
    ['1 the eight-bit escape', '\u009b31m', '\\u{9b}31m'],
    ['1 a bell and a deletion', '\u0007\u007f', '\\u{7}\\u{7f}'],
    ['2 a turn of the direction of writing', 'a\u202etxt.exe', 'a\\u{202e}txt.exe'],
    ['2 an isolate', '\u2066x\u2069', '\\u{2066}x\\u{2069}'],
    ['3 a space of no width', 'a\u200bb\u2060c\ufeffd', 'a\\u{200b}b\\u{2060}c\\u{feff}d'],
    ['3 a filler that is a letter', 'a\u3164b', 'a\\u{3164}b'],
    ['3 a tag', 'a\u{e0041}b', 'a\\u{e0041}b'],
    ['4 ends of lines are spaces', 'a\r\nb\u2028c\td', 'a b c d'],
    ['5 half a character', 'a\ud800b', 'a\\u{d800}b'],
    ['5 no character', 'a\uffffb', 'a\\u{ffff}b'],
  ])('%s', (_rule, text, shown) => expect(visible(text)).toBe(shown));

  test('every sign by its Unicode properties (UAX #44), in a text and in JSON', () => {
    const unseen = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}\p{Noncharacter_Code_Point}]/u;
    const odd: string[] = [];
    for (let code = 0xa0; code <= 0xffff; code += 1) {
      const sign = String.fromCharCode(code);
      const number = code.toString(16);
      const isLine = /[\u2028\u2029]/.test(sign);
      const shown = isLine ? ' ' : unseen.test(sign) ? `\\u{${number}}` : sign;
      const told = unseen.test(sign) ? `"\\u${number.padStart(4, '0')}"` : `"${sign}"`;
      if (visible(sign) !== shown || safeJson(sign) !== told) odd.push(number);
    }
    expect(odd).toEqual([]);
  });

  test('ends of lines part paragraphs where there may be several', () =>
    expect(visibleParagraphs(' one\r\n\ntwo\u2029three\u0000')).toEqual(['one', 'two', 'three\\u{0}']));
});

test('markup: nothing can begin an element, an attribute or an entity', () =>
  expect(escapedMarkup(`<b onload='x' y="z">&amp;\u0000`)).toBe(
    '&lt;b onload=&#39;x&#39; y=&quot;z&quot;&gt;&amp;amp;\\u{0}',
  ));

describe('Markdown', () => {
  test.each<[rule: string, text: string, shown: string]>([
    [
      'a plain text stays as it is',
      'Lieut. J. Ferrand, 3rd (late); no. 4: “own” - A-B',
      'Lieut. J. Ferrand, 3rd (late); no. 4: “own” - A-B',
    ],
    ['1 a link, code and emphasis', '[a](b) `c` *d* _e_ ~f~', '\\[a\\](b) \\`c\\` \\*d\\* \\_e\\_ \\~f\\~'],
    ['1 an element and an entity', '<b>&copy;', '\\<b\\>\\&copy;'],
    ['1 a cell', 'a | b', 'a \\| b'],
    ['1 a backslash', '\\<b', '\\\\\\<b'],
    ['2 a bare address', 'http://a.b www.c.d e@f.g', 'http\\://a.b www\\.c.d e\\@f.g'],
    ['3 a heading', '# a', '\\# a'],
    ['3 a list', '- a', '\\- a'],
    ['3 a numbered list', '1. a', '1\\. a'],
    ['3 a rule under a heading', '=== a', '\\=== a'],
    ['3 an indented block', '    a', 'a'],
  ])('%s', (_rule, text, shown) => expect(escapedMarkdown(text)).toBe(shown));
});

test('JSON: exact for programs, harmless on a terminal', () => {
  const said = { name: 'a\u202eb\u009bc\u{e0041}d\u001b', plain: 'Müller “x”' };
  const text = safeJson(said);
  expect(JSON.parse(text)).toEqual(said);
  expect(text).not.toMatch(/[\p{Cc}\p{Cf}]/u);
  expect(text).toContain('Müller “x”');
});
