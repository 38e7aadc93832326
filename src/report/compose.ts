import type { LotReport } from '../inquiry/report-lot.ts';
import type { TimelineAnswer } from '../inquiry/timeline.ts';
import type { Block, Document } from './document.ts';
import { type Inline, plain, sentence } from './lines.ts';
import { attributionSection } from './lot-attribution.ts';
import { dateSection } from './lot-date.ts';
import { marksSection, namedBy } from './lot-marks.ts';
import { openInWords, openLines } from './lot-open.ts';
import { provenanceSection } from './lot-provenance.ts';
import type { LotToPrint } from './lot-to-print.ts';
import { type Notes, notesOf, searchInWords } from './notes.ts';
import type { KeptPhotograph } from './photograph.ts';
import { cautionIn } from './phrases.ts';
import { pictureLines, pictureOf } from './picture.ts';
import { visibleParagraphs } from './safe-text.ts';
import type { Style } from './style.ts';
import { withoutLiving } from './withheld.ts';
import { type Naming, namingOf, type Words, wordsOf } from './words.ts';

/** One document of one lot or several, in the style of the house. */
export function composed(given: readonly LotToPrint[], style: Style): Document {
  const words = wordsOf(style);
  const lots = given.map((each) => withoutLiving(each, words));
  const atEnd = style.notes === 'endnotes' && lots.length > 1;
  const notes = notesOf(words, atEnd);
  const blocks = lots.flatMap((each) => lotBlocks(each, words, notes, atEnd));
  const taken = atEnd ? notes.taken() : [];
  if (taken.length > 0) blocks.push({ kind: 'notes', title: words.say('section.notes'), notes: taken });
  const [first] = lots;
  const title = lots.length === 1 && first !== undefined ? headingOf(first.lot, words) : words.say('index.title');
  return { title, language: style.phrases.language, blocks };
}

export const headingOf = ({ object }: LotReport, { say }: Words): string =>
  say('lot.heading', { ref: object.ref, title: object.title });

function lotBlocks(
  { lot, timeline, photographs = {} }: LotToPrint,
  words: Words,
  notes: Notes,
  atEnd: boolean,
): Block[] {
  const { say } = words;
  const naming = namingOf(lot, words);
  const section = (name: Parameters<Words['say']>[0], blocks: readonly Block[]): Block[] =>
    blocks.length === 0 ? [] : [{ kind: 'heading', level: 2, text: say(name) }, ...blocks];
  const marks = marksSection(lot, words, naming, notes);
  const body: Block[] = [
    { kind: 'heading', level: 1, text: headingOf(lot, words) },
    ...description(lot, words),
    ...photographsOfObject(lot, photographs, words, naming),
    ...section('section.marks', [
      marks.length === 0
        ? { kind: 'paragraph', line: plain(say('marks.none')) }
        : { kind: 'items', numbered: true, items: marks },
      ...photographsOfMarks(lot, photographs, words, naming),
    ]),
    ...section('section.date', dateSection(lot, words, naming, notes)),
    ...section('section.attribution', attributionSection(lot, words, naming, notes)),
    ...section('section.provenance', provenanceSection(lot, words, naming, notes)),
    ...section('section.searches', searches(lot, words, naming)),
    ...(timeline === undefined ? [] : section('section.picture', [pictureBlock(timeline, words, lot)])),
    ...section('section.open', openSection(lot, words, naming)),
    ...section('section.cautions', [{ kind: 'items', numbered: false, items: cautions(lot, words).map(plain) }]),
  ];
  const taken = atEnd ? [] : notes.taken();
  if (taken.length > 0) body.push({ kind: 'notes', title: say('section.notes'), notes: taken });
  body.push({ kind: 'closing', text: closing(lot, words) });
  return body;
}

function description({ object, photos }: LotReport, { say }: Words): Block[] {
  const note = object.note === null ? [] : visibleParagraphs(object.note);
  const pictures = photos.map(({ file }) => sentence(say('mark.photo', { file })));
  return [...note, ...pictures].map((text) => ({ kind: 'paragraph', line: plain(text) }));
}

type Photographs = Readonly<Record<string, KeptPhotograph>>;

/** Where somebody who may be living is withheld, what shows the name is, too. */
const photographsOfObject = (lot: LotReport, kept: Photographs, words: Words, naming: Naming): Block[] =>
  lot.marks.some((mark) => namedBy(mark).some(naming.isWithheld)) ? [] : photographBlocks(lot.photos, kept, words);

const photographsOfMarks = (lot: LotReport, kept: Photographs, words: Words, naming: Naming): Block[] =>
  lot.marks.flatMap((mark, place) =>
    namedBy(mark).some(naming.isWithheld) ? [] : photographBlocks(mark.photos, kept, words, `${place + 1}. `),
  );

const photographBlocks = (photos: LotReport['photos'], kept: Photographs, { say }: Words, before = ''): Block[] =>
  photos.flatMap(({ id, file }): Block[] => {
    const copy = kept[id];
    return copy === undefined
      ? []
      : [{ kind: 'photograph', caption: `${before}${say('mark.photo', { file })}`, kept: copy }];
  });

function searches(lot: LotReport, words: Words, naming: Naming): Block[] {
  const items = lot.searches.flatMap((id): Inline[][] => {
    const citation = lot.citations[id];
    return citation?.kind === 'search' ? [plain(sentence(searchInWords(citation, words, naming)))] : [];
  });
  if (items.length === 0) return [{ kind: 'paragraph', line: plain(words.say('search.none')) }];
  const anyNil = lot.searches.some((id) => {
    const citation = lot.citations[id];
    return citation?.kind === 'search' && citation.outcome === 'not found';
  });
  return [
    { kind: 'items', numbered: false, items },
    ...(anyNil ? [{ kind: 'paragraph', line: plain(words.say('search.caution')) } as const] : []),
  ];
}

/** What is open is told to every reader; what to type next, to the house: that stands in the open list and the index. */
function openSection(lot: LotReport, words: Words, naming: Naming): Block[] {
  const lines = openLines(lot, words, naming).map((line) => ({ ...line, command: null }));
  if (lines.length === 0) return [];
  return [{ kind: 'items', numbered: false, items: lines.map((line) => plain(openInWords(line, words))) }];
}

/** The cautions of every answer used; none is ever left out. The house adds its own behind them. */
export const cautions = (lot: LotReport, { say, style }: Words): string[] => [
  ...lot.cautions.map((caution) => cautionIn(style.phrases, caution)),
  say('caution.title'),
  ...style.disclaimers,
];

/** Program, act and day of the ledger: the same report has the same line whenever it is printed. */
export function closing({ about }: LotReport, { say, dates, all }: Words): string {
  const values = {
    program: about.program,
    act: String(about.act),
    date: about.date === '' ? '' : dates.day(about.date),
  };
  const changed = Object.entries(about.assumptions).map(([name, value]) => `${name} ${value}`);
  return changed.length === 0 ? say('closing.plain', values) : say('closing', { ...values, assumptions: all(changed) });
}

export function pictureBlock(timeline: TimelineAnswer, words: Words, lot?: LotReport): Block & { kind: 'picture' } {
  const picture = pictureOf(timeline, words, lot);
  return { kind: 'picture', title: picture.title, picture, lines: pictureLines(picture, words) };
}
