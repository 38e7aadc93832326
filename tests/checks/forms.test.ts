// The forms of a report, read by programs that are none of ours.
import { HtmlValidate } from 'html-validate';
import mammoth from 'mammoth';
import { describe, expect, test } from 'vitest';
import { reportOf } from '../../src/inquiry/report.ts';
import { closing } from '../../src/report/compose.ts';
import { indexedLot, indexPage } from '../../src/report/index-page.ts';
import { printerOf } from '../../src/report/print.ts';
import { wordsOf } from '../../src/report/words.ts';
import { HOSTILE_LINES } from '../report/hostile.ts';
import { ledgerOf, SMALL } from '../report/ledgers.ts';
import { printed, styleWith } from '../report/printed.ts';

const print = styleWith({ living: 'print' });
const LEDGERS: [string, ReturnType<typeof ledgerOf>][] = [
  ['a small object', ledgerOf(SMALL)],
  ['hostile texts', ledgerOf(HOSTILE_LINES)],
];

/** html-validate: its rules for the HTML standard (WHATWG) and WCAG, both sets whole. */
describe('HTML is valid', () => {
  const validator = new HtmlValidate({
    extends: ['html-validate:standard', 'html-validate:a11y'],
    // Styled in the page itself, so that the file needs no other; and unnamed groups of a picture have titles.
    rules: { 'no-inline-style': 'off' },
  });
  const faults = async (html: string): Promise<string[]> =>
    (await validator.validateString(html)).results.flatMap(({ messages }) =>
      messages.map(({ ruleId, message, line }) => `${line}: ${ruleId}: ${message}`),
    );

  test.each(LEDGERS)('%s', async (_what, db) => {
    expect(await faults(printed(db, ['o1'], 'html', print))).toEqual([]);
  });

  test.each(LEDGERS)('the index of %s', async (_what, db) => {
    const words = wordsOf(print);
    const lot = reportOf(db, 'o1', undefined);
    expect(await faults(indexPage([indexedLot(lot, words, 'a.html')], words, 'html', closing(lot, words)))).toEqual([]);
  });

  test('what is no HTML is found', async () => expect(await faults('<p><b>x</p>')).not.toEqual([]));
});

/** mammoth (Michael Williamson) reads DOCX and writes HTML. */
describe('DOCX says word for word what the text says', () => {
  /** Words of the text: without the lines under headings, the signs before items, and the numbers of notes. */
  const wordsOfText = (text: string): string[] =>
    words(
      text
        .replaceAll(/^[=-]+$/gm, '')
        .replaceAll(/^(?:- |\d{1,2}\. )/gm, '')
        .replaceAll(/\[\d+\]/g, ' ')
        .replace('\nNotes\n', '\n'),
    );
  /** The same of what an independent reader makes of it; notes stand at the end there, each with a way back. */
  const wordsOfHtml = (html: string): string[] =>
    words(
      html
        .replaceAll(/<sup>.*?<\/sup>/g, '')
        .replaceAll(/<a [^>]*>↑<\/a>/g, '')
        .replaceAll(/<\/?(?:p|li|h\d|ol|ul)\b[^>]*>/g, ' ')
        .replaceAll(/<[^>]*>/g, '')
        .replaceAll('&lt;', '<')
        .replaceAll('&gt;', '>')
        .replaceAll('&quot;', '"')
        .replaceAll('&amp;', '&'),
    );
  const words = (text: string): string[] => text.split(/\s+/).filter((word) => word !== '');

  test.each(LEDGERS)(
    '%s',
    async (_what, db) => {
      const lot = reportOf(db, 'o1', undefined);
      const docx = (await printerOf('docx')).lots([{ lot }], print);
      const { value, messages } = await mammoth.convertToHtml({ buffer: Buffer.from(docx) });
      // Styles that it has no element of HTML for are its only remark.
      expect(messages.filter(({ message }) => !message.startsWith('Unrecognised'))).toEqual([]);
      const [said, text] = [wordsOfHtml(value), wordsOfText(printed(db, ['o1'], 'text', print))];
      // The closing line stands before the notes in the one, and after them in the other.
      expect(said.toSorted()).toEqual(text.toSorted());
    },
    120_000,
  );
});
