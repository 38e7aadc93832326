import { expect, test } from 'vitest';
import { reportOf } from '../../src/inquiry/report.ts';
import { plainLine } from '../../src/report/lines.ts';
import { marksSection } from '../../src/report/lot-marks.ts';
import { notesOf } from '../../src/report/notes.ts';
import { namingOf, wordsOf } from '../../src/report/words.ts';
import { ledgerOf, SMALL } from './ledgers.ts';
import { styleWith } from './printed.ts';

test('each mark as read, with role, technique, place, what it lies over, date, other readings, wording and pictures', () => {
  const lot = reportOf(
    ledgerOf([
      ...SMALL,
      { type: 'reading', mark: 'm1', text: 'Lieut. J. Ferr[.]nd', by: 'second reader' },
      { type: 'mark', key: 'm3', object: '214', text: 'No. 7', role: 'other', over: 'm1', made: 'c. 1850' },
      {
        type: 'clue',
        mark: 'm2',
        text: 'Depository',
        window: 'from 1860',
        source: 'Directory, 1860',
        why: 'printed with the rest',
      },
    ]),
    '214',
    undefined,
  );
  const words = wordsOf(styleWith());
  const notes = notesOf(words, false);
  expect(marksSection(lot, words, namingOf(lot, words), notes).map(plainLine)).toEqual([
    '“Lieut. J. Ferr[..]d”, owner’s mark, ink, underside of the flap. Also read as “Lieut. J. Ferr[.]nd” (second reader).',
    '“Pallant’s Depository, Saltmere. Miss A. Holt”, depository’s mark, printed label, underside, dated 1874–89. Its wording “Depository”: after 1859 (custom of the trade; printed with the rest).',
    '“No. 7”, mark, over mark 1, dated c. 1850.',
  ]);
  expect(notes.taken()).toEqual([{ number: 1, text: 'Directory, 1860.' }]);
});
