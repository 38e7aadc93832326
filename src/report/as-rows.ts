import type { LotReport } from '../inquiry/report-lot.ts';
import { asText } from './as-text.ts';
import { cautions, closing, composed } from './compose.ts';
import { type CsvCell, csvLine } from './csv.ts';
import type { Block } from './document.ts';
import { plainLine } from './lines.ts';
import { attributionSection } from './lot-attribution.ts';
import { makingInWords } from './lot-date.ts';
import { isUnresolved, openLines } from './lot-open.ts';
import { provenanceSection } from './lot-provenance.ts';
import { notesOf } from './notes.ts';
import { safeJson } from './safe-text.ts';
import type { Style } from './style.ts';
import { everythingWithheld, withoutLiving } from './withheld.ts';
import { degreeOf, isPrinted, type Naming, namingOf, type Words, wordsOf } from './words.ts';

const COLUMNS = [
  'ref',
  'key',
  'title',
  'description',
  'made',
  'made_from',
  'made_to',
  'degree',
  'attribution',
  'share',
  'attribution_text',
  'provenance',
  'open',
  'unresolved',
  'cautions',
  'program',
  'act',
  'date',
] as const;

/** One row a lot, for a catalogue's own spreadsheet. */
export function* asCsv(lots: readonly LotReport[], style: Style): Iterable<string> {
  const words = wordsOf({ ...style, conventions: false });
  yield csvLine([...COLUMNS]);
  for (const lot of lots) {
    const cells = rowOf(lot, words);
    yield csvLine(COLUMNS.map((name) => cells[name]));
  }
}

function rowOf(given: LotReport, words: Words): Record<(typeof COLUMNS)[number], CsvCell> {
  const { lot } = withoutLiving({ lot: given }, words);
  const naming = namingOf(lot, words);
  const notes = notesOf(words, false);
  const { object, made, about } = lot;
  const making = made.withMarks ?? made;
  const lines = openLines(lot, words, naming);
  return {
    ref: object.ref,
    key: object.key,
    title: object.title,
    description: object.note,
    made: makingInWords(making, words) ?? words.say('made.none'),
    made_from: making.span.from,
    made_to: making.span.to,
    ...leaderCells(lot, words, naming),
    attribution_text: blocksText(attributionSection(lot, words, naming, notes)),
    provenance: blocksText(provenanceSection(lot, words, naming, notes)),
    open: lines.map(({ what }) => what).join('\n'),
    unresolved: isUnresolved(lines) ? 'yes' : 'no',
    cautions: cautions(lot, words).join('\n'),
    program: about.program,
    act: about.act,
    date: about.date,
  };
}

/** Of the first mark that names a holder who may be printed. */
function leaderCells(
  { marks }: LotReport,
  words: Words,
  naming: Naming,
): Record<'degree' | 'attribution' | 'share', CsvCell> {
  for (const { candidates } of marks) {
    const leader = candidates?.candidates[0];
    if (leader === undefined) continue;
    const degree = degreeOf(leader.wording);
    if (isPrinted(words, degree))
      return {
        degree: words.degree(degree),
        attribution: naming.plain(leader.person),
        share: Number(leader.share.toFixed(3)),
      };
  }
  return { degree: null, attribution: null, share: null };
}

const blocksText = (blocks: readonly Block[]): string =>
  blocks
    .flatMap((block) =>
      block.kind === 'paragraph' ? [plainLine(block.line)] : block.kind === 'items' ? block.items.map(plainLine) : [],
    )
    .join('\n');

/** Everything that the report says, with the same in print; what names the living is withheld in both. */
export function asJson(lots: readonly LotReport[], style: Style): string {
  const words = wordsOf(style);
  const reports = lots.map((lot) => {
    const naming = namingOf(lot, words);
    const open = openLines(lot, words, naming);
    const told = everythingWithheld(lot, words);
    return {
      ...told,
      open: told.open.map((item, place) => {
        const line = open[place];
        return {
          ...item,
          text: line?.what ?? '',
          next: line?.next ?? '',
          seenTo: line?.seenTo ?? null,
          counts: line?.counts ?? false,
        };
      }),
      unresolved: isUnresolved(open),
      closing: closing(lot, words),
      text: asText(composed([{ lot }], style), style.columns),
    };
  });
  return `${safeJson({ lots: reports }, 2)}\n`;
}
