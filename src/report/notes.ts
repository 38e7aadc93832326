import type { Citation, CitedEdition } from '../inquiry/report-citations.ts';
import type { LotReport } from '../inquiry/report-lot.ts';
import { capital, type Inline, type NoteText, sentence } from './lines.ts';
import { lifeOf, type Naming, type Words } from './words.ts';

/** The notes of a document while it is put together: each is numbered where it is first called. */
export type Notes = {
  /** The call of a note that names these records, or nothing where none can be named. */
  call(lot: LotReport, ids: readonly string[], naming: Naming): Inline[];
  /** The notes called since the last time this was asked. */
  taken(): NoteText[];
};

/** @param through whether numbers run on from one lot to the next. */
export function notesOf(words: Words, through: boolean): Notes {
  let next = 1;
  let waiting: NoteText[] = [];
  let known = new Map<string, number>();
  return {
    call: (lot, ids, naming) => {
      const texts = citedInWords(lot, ids, words, naming);
      if (texts.length === 0) return [];
      const text = sentence(capital(words.all(texts, 'list.semicolon')));
      const number = known.get(text) ?? next;
      if (number === next) {
        next += 1;
        known.set(text, number);
        waiting.push({ number, text });
      }
      return [{ note: number }];
    },
    taken: () => {
      const taken = waiting;
      waiting = [];
      known = new Map();
      if (!through) next = 1;
      return taken;
    },
  };
}

/** Records as footnotes cite them, each once. */
export function citedInWords(lot: LotReport, ids: readonly string[], words: Words, naming: Naming): string[] {
  const texts = ids.flatMap((id) => {
    const citation = lot.citations[id];
    return citation === undefined ? [] : [citationInWords(citation, lot, words, naming)];
  });
  return [...new Set(texts)];
}

/** Records as a sentence names them: a trait by what it is, since that it stands on the object is said already. */
export const recordsNamed = (lot: LotReport, ids: readonly string[], words: Words, naming: Naming): string[] => [
  ...new Set(
    ids.flatMap((id) => {
      const citation = lot.citations[id];
      return citation?.kind === 'feature'
        ? [words.say('note.feature', { text: citation.text })]
        : citedInWords(lot, [id], words, naming);
    }),
  ),
];

function citationInWords(citation: Citation, lot: LotReport, words: Words, naming: Naming): string {
  const text = cited(citation, lot, words, naming);
  return words.style.ids ? words.say('note.id', { note: text, id: citation.id }) : text;
}

function cited(citation: Citation, lot: LotReport, words: Words, naming: Naming): string {
  const { say, named, dates } = words;
  switch (citation.kind) {
    case 'entry': {
      const edition = editionInWords(citation.edition, words);
      return citation.page === null
        ? say('note.entry.unpaged', { edition })
        : say('note.entry', { edition, page: citation.page });
    }
    case 'search':
      return searchInWords(citation, words, naming);
    case 'notice':
      return citation.source === null
        ? say('note.notice.unsourced', {
            event: citation.event,
            date: citation.date === null ? '' : dates.said(citation.date),
          })
        : say('note.notice', { source: citation.source });
    case 'feature':
      return citation.source === null ? say('note.object') : say('note.feature.source', { source: citation.source });
    case 'person': {
      const life = lifeOf(citation, words);
      const note = citation.note === null ? [] : [citation.note];
      return words.all([
        life === '' || naming.isWithheld(citation.id) ? say('note.person.undated') : say('note.person', { life }),
        ...(naming.isWithheld(citation.id) ? [] : note),
      ]);
    }
    case 'name':
      return citation.from === null
        ? say('note.name', { name: citation.name })
        : say('note.name.from', { name: citation.name, dates: dates.said(citation.from) });
    case 'kin':
      return say('note.kin', {
        relative: naming.plain(citation.relative),
        relation: named('relation', citation.relation),
        person: naming.plain(citation.person),
      });
    case 'mark':
      return say('note.mark', { number: String(markNumber(lot, citation.id)) });
    case 'condition':
      return citation.source === null
        ? say('note.condition.unsourced', { rank: citation.rank })
        : say('note.condition', { rank: citation.rank, source: citation.source });
    case 'other':
      return say('note.other', { id: citation.id });
  }
}

/** Marks are numbered in the order in which they were recorded. */
export const markNumber = (lot: Pick<LotReport, 'marks'>, id: string): number =>
  lot.marks.findIndex((mark) => mark.id === id) + 1;

export function editionInWords({ series, label, asAt, copy }: CitedEdition, { say, dates }: Words): string {
  const edition = say('note.edition', { series, label, date: dates.span(asAt) });
  return copy === null ? edition : say('note.edition.copy', { edition, copy });
}

/** A search as it is reported: where, for whom, with what outcome. */
export function searchInWords(
  { edition, person, surname, found, outcome }: Citation & { kind: 'search' },
  words: Words,
  naming: Naming,
): string {
  const where = editionInWords(edition, words);
  if (outcome === 'not found' && person !== null)
    return words.say('search.nil', { edition: where, person: naming.plain(person) });
  return found === null
    ? words.say('search.sweep.uncounted', { edition: where, surname: surname ?? '' })
    : words.say('search.sweep', { edition: where, surname: surname ?? '', found: String(found) });
}
