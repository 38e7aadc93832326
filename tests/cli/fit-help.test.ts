import { describe, expect, test } from 'vitest';
import { TOPICS } from '../../src/cli/commands/help-texts.ts';
import { fitHelp } from '../../src/cli/fit-help.ts';
import { makePlace } from './heldby.ts';

test.each<[rule: string, text: string, fitted: string]>([
  [
    'what fits stays',
    'a short line\nand another\n\n  term   what it is',
    'a short line\nand another\n\n  term   what it is',
  ],
  [
    'a paragraph',
    'a paragraph with a line that is far too long for the few columns given it\nand one more\nends\n\nthe next',
    'a paragraph with a line that is far too\nlong for the few columns given it and\none more\nends\n\nthe next',
  ],
  [
    'a row, with the lines that belong to it',
    '  term   an explanation that is longer than the line\n         and goes on\n  other  short',
    '  term   an explanation that is longer\n         than the line and goes on\n  other  short',
  ],
  [
    'a heading under a paragraph',
    'a paragraph with a line that is far too long for the few columns given it\nExample:\n  heldby init',
    'a paragraph with a line that is far too\nlong for the few columns given it\nExample:\n  heldby init',
  ],
  [
    'a command to be typed',
    'Example:\n  heldby object add 214 --title "Brass-bound writing slope"',
    'Example:\n  heldby object add 214 --title "Brass-bound writing slope"',
  ],
])('%s', (_rule, text, fitted) => {
  expect(fitHelp(text, 40)).toBe(fitted);
});

describe('no line of a topic is wider than 80 columns', () => {
  const place = makePlace();
  test.each(Object.keys(TOPICS))('%s', (topic) => {
    const { out } = place.run('help', topic);
    const wide = out.split('\n').filter((line) => line.length > 80);
    expect(wide.filter((line) => !/^ +[{$]|^ +heldby /.test(line))).toEqual([]);
  });
});
