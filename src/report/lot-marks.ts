import type { LotMark, LotReport } from '../inquiry/report-lot.ts';
import { type Inline, plain, sentence } from './lines.ts';
import { markNumber, type Notes } from './notes.ts';
import type { Naming, Words } from './words.ts';

/** Everybody whom a mark may name: its text is withheld where one of them may be living. */
export const namedBy = ({ candidates }: LotMark): string[] =>
  candidates?.candidates.map(({ person }) => person.id) ?? [];

/** What is written on a mark, as it may be printed. */
export const markText = (mark: LotMark, naming: Naming): string => naming.text(mark.text, namedBy(mark));

/** Each mark as transcribed, with its role, technique and place, what it lies over, its date, and other readings. */
export function marksSection(lot: LotReport, words: Words, naming: Naming, notes: Notes): Inline[][] {
  const { say, dates } = words;
  return lot.marks.map((mark) => {
    const details = [
      rolesInWords(mark.role, words),
      ...(mark.technique === null ? [] : [mark.technique]),
      ...(mark.where === null ? [] : [mark.where]),
      ...(mark.over === null ? [] : [say('mark.over', { number: String(markNumber(lot, mark.over)) })]),
      ...(mark.stated === null ? [] : [say('mark.dated', { date: dates.said(mark.stated) })]),
    ];
    const readings = mark.readings.map(({ text, by }) => {
      const safe = naming.text(text, namedBy(mark));
      return sentence(by === null ? say('mark.reading', { text: safe }) : say('mark.reading.by', { text: safe, by }));
    });
    const photos = mark.photos.map(({ file }) => sentence(say('mark.photo', { file })));
    const clues = mark.clues.flatMap((clue): Inline[] => [
      ...plain(` ${sentence(clueInWords(clue, words))}`),
      ...notes.call(lot, [clue.id], naming),
    ]);
    const told = plain(
      [
        sentence(say('mark', { text: markText(mark, naming), details: words.all(details) })),
        ...readings,
        ...photos,
      ].join(' '),
    );
    return [...told, ...clues];
  });
}

/** What the mark is on the object for; of several roles all, the likeliest first, without their weights. */
export const rolesInWords = (role: string, words: Words): string =>
  words.all(
    role.split(', ').map((each) => words.named('role', each.replace(/ [\d.]+$/, ''))),
    'list.or',
  );

/** A datable wording, when it was in use, and why the researcher holds that it dates the mark. */
function clueInWords(clue: LotMark['clues'][number], words: Words): string {
  const { text, force, why } = clue;
  const values = { text, dates: words.dates.span(clue), details: words.named('made.force', force) };
  return why === null ? words.say('mark.clue', values) : words.say('mark.clue.why', { ...values, why });
}
