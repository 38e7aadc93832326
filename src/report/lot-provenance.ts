import type { LotMark, LotReport } from '../inquiry/report-lot.ts';
import type { Block } from './document.ts';
import { custodyMarks, type HolderStep, holderSteps, middleOf, passedDirectly } from './holder-steps.ts';
import { capital, type Inline, plain } from './lines.ts';
import { markText, rolesInWords } from './lot-marks.ts';
import type { Notes } from './notes.ts';
import { isPrinted, lesserDegree, type Naming, type Words } from './words.ts';

/**
 * The succession of holders as museums print it: each holder with place and years, and how it passed.
 * 1. A semicolon stands where it passed directly: between recorded kin, or bearers of one surname, with no gap between.
 *    The latter is marked as no more than possible.
 * 2. A full stop stands where how it passed is not known; a gap is stated.
 * 3. Marks that name no holder (makers, dealers, depositories, carriers, sales) stand by themselves, in parentheses.
 * 4. The degree stands before each holder; where one follows another directly, the less firm of the two before the link.
 * @see A guide to provenance research, American Association of Museums, 2001, as museums quote it: semicolons and full
 * stops, years of life in brackets, dealers in parentheses, "probably" and "possibly" for doubt.
 */
export function provenanceSection(lot: LotReport, words: Words, naming: Naming, notes: Notes): Block[] {
  const { say, style } = words;
  const pieces = piecesOf(lot, words, naming, notes);
  if (pieces.length === 0) return [{ kind: 'paragraph', line: plain(say('provenance.none')) }];
  // Only what the reader meets below is explained.
  const conventions = [
    ...(holderSteps(lot).length > 1 ? [say(`provenance.${style.order}`), say('provenance.order.told')] : []),
    say('provenance.conventions'),
    ...(style.lifeDates === 'brackets' ? [say('provenance.brackets')] : []),
    ...(style.trade === 'parentheses' && custodyMarks(lot).length > 0 ? [say('provenance.parentheses')] : []),
  ];
  return [
    ...(style.conventions ? [{ kind: 'paragraph', line: plain(conventions.join(' ')) } as const] : []),
    { kind: 'paragraph', line: pieces.flatMap((piece, place) => (place === 0 ? piece : [...plain(' '), ...piece])) },
  ];
}

/** One piece a holder, a gap or a mark of the trade, in the order of the house. */
function piecesOf(lot: LotReport, words: Words, naming: Naming, notes: Notes): Inline[][] {
  const isForward = words.style.order === 'earliest-first';
  const steps = holderSteps(lot);
  const trade = custodyMarks(lot);
  const holders = isForward ? steps : [...steps].reverse();
  const waiting = isForward ? trade : [...trade].reverse();
  const end = afterwards(steps, trade, words);
  const pieces: Inline[][] = isForward || end === undefined ? [] : [end];
  const tradeUntil = (middle: number): void => {
    for (
      let mark = waiting[0];
      mark !== undefined && (isForward ? middleOf(mark) <= middle : middleOf(mark) >= middle);
      mark = waiting[0]
    ) {
      waiting.shift();
      pieces.push([...plain(tradeInWords(mark, words, naming)), ...notes.call(lot, [mark.id], naming)]);
    }
  };
  for (const [place, step] of holders.entries()) {
    // Of two neighbours the later one says how the object came to it.
    const other = holders[place - 1];
    const later = isForward ? step : other;
    const joined = other !== undefined && later !== undefined && passedDirectly(later);
    if (!joined) tradeUntil(middleOf(step));
    if (other !== undefined && later?.gap !== undefined)
      pieces.push(plain(words.say('step.gap', { dates: words.dates.span(later.gap) })));
    const next = holders[place + 1];
    const passes = next !== undefined && passedDirectly(isForward ? next : step);
    const text = joined
      ? joinedInWords(step, other, later, isForward, lot, words, naming)
      : capital(stepInWords(step, lot, words, naming));
    pieces.push([
      ...plain(`${text}${passes ? ';' : '.'}`),
      ...notes.call(lot, [...step.marks, ...(joined ? later.kinships : [])], naming),
    ]);
  }
  tradeUntil(isForward ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY);
  if (isForward && end !== undefined) pieces.push(end);
  return pieces;
}

const isNamed = (step: HolderStep, words: Words): boolean => step.person !== null && isPrinted(words, step.degree);

function stepInWords(step: HolderStep, lot: LotReport, words: Words, naming: Naming): string {
  const dates = words.dates.years(step);
  if (step.person === null || !isNamed(step, words))
    return words.say('step.unrecorded', { text: markOf(step, lot, naming), dates });
  return words.say('step.holder', {
    grade: words.degree(step.degree),
    person: naming.full(step.person, step.from),
    place: placeOf(step, lot, words, naming),
    dates,
  });
}

/** A holder to whom it passed directly from the one that stands before (or, the latest first, who passed it on). */
function joinedInWords(
  step: HolderStep,
  other: HolderStep,
  later: HolderStep,
  isForward: boolean,
  lot: LotReport,
  words: Words,
  naming: Naming,
): string {
  if (step.person === null || !isNamed(step, words))
    return words.say('step.unrecorded.again', { text: markOf(step, lot, naming), dates: words.dates.years(step) });
  const values = {
    grade: words.degree(lesserDegree(step.degree, other.degree)),
    person: naming.full(step.person, step.from),
    place: placeOf(step, lot, words, naming),
    dates: words.dates.years(step),
  };
  if (later.link !== 'kin') return words.say(isForward ? 'step.surname' : 'step.surname.back', values);
  const relation = relationOf(step, other, later.kinships, lot, words);
  return words.say(isForward ? 'step.kin' : 'step.kin.back', {
    ...values,
    relation: words.say(isForward ? 'step.relation' : 'step.relation.back', { relation }),
  });
}

const CONVERSE: Readonly<Record<string, string>> = {
  parent: 'child',
  child: 'parent',
  sibling: 'sibling',
  spouse: 'spouse',
  kin: 'kin',
};

/** What somebody is to the other: by the one kinship recorded between them, else kin at some distance. */
function relationOf(
  { person }: HolderStep,
  other: HolderStep,
  kinships: readonly string[],
  lot: LotReport,
  words: Words,
): string {
  const [only, another] = kinships;
  const citation = only === undefined ? undefined : lot.citations[only];
  const distant = words.named('relation', 'kin');
  if (another !== undefined || citation?.kind !== 'kin') return distant;
  // The record says what the relative is to the person.
  if (citation.relative.id === person?.id && citation.person.id === other.person?.id)
    return words.named('relation', citation.relation);
  if (citation.person.id === person?.id && citation.relative.id === other.person?.id)
    return words.named('relation', CONVERSE[citation.relation] ?? 'kin');
  return distant;
}

const markOf = ({ marks }: HolderStep, lot: LotReport, naming: Naming): string => {
  const mark = lot.marks.find(({ id }) => id === marks[0]);
  return mark === undefined ? '' : markText(mark, naming);
};

function placeOf({ person }: HolderStep, lot: LotReport, { say }: Words, naming: Naming): string {
  if (person === null || naming.isWithheld(person.id)) return '';
  const [place] = lot.people[person.id]?.places ?? [];
  return place === undefined ? '' : say('step.place', { place });
}

const AROUND = { parentheses: 'step.parentheses', brackets: 'step.brackets', plain: 'step.bare' } as const;

function tradeInWords(mark: LotMark, words: Words, naming: Naming): string {
  const custody = capital(
    words.say('custody', {
      role: rolesInWords(mark.role, words),
      text: markText(mark, naming),
      dates: words.dates.years(mark),
    }),
  );
  return `${words.say(AROUND[words.style.trade], { custody })}.`;
}

/** The end of the chain: after the last day of which anything tells. */
function afterwards(steps: readonly HolderStep[], trade: readonly LotMark[], words: Words): Inline[] | undefined {
  const last = [...steps, ...trade].reduce<string | undefined>(
    (latest, { to }) => (to !== null && (latest === undefined || to > latest) ? to : latest),
    undefined,
  );
  if (last === undefined) return undefined;
  const year = Number(last.slice(0, -6));
  const dates = words.dates.span({ from: `${String(year + 1).padStart(4, '0')}-01-01`, to: null });
  return plain(words.say('step.after', { dates }));
}
