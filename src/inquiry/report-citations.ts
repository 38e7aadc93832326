import type { EvidenceReader } from '../ledger/evidence.ts';
import { kindNamed, parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, personName } from '../ledger/people.ts';
import { entriesBorneBy, readRecord, type ShownRecord } from '../ledger/reading-records.ts';
import { spanInAnswer } from './days.ts';
import type { Days } from './made.ts';
import { type SaidDate, saidDate } from './report-dates.ts';

/** An issue of a list, as a footnote names it. */
export type CitedEdition = {
  readonly series: string;
  readonly label: string;
  /** The days at one of which the list is as it stood. */
  readonly asAt: Days;
  readonly source: string | null;
  readonly copy: string | null;
  readonly shelfmark: string | null;
};

type Said = string | null;

/** What a footnote says of a record. Texts are as recorded. */
export type Citation = { readonly id: string; readonly key?: string | null } & (
  | { readonly kind: 'entry'; readonly edition: CitedEdition; readonly page: Said; readonly name: string }
  | {
      readonly kind: 'search';
      readonly edition: CitedEdition;
      readonly person: PersonName | null;
      readonly surname: Said;
      readonly outcome: string;
      readonly found: number | null;
      readonly note: Said;
    }
  | { readonly kind: 'notice'; readonly event: string; readonly date: SaidDate | null; readonly source: Said }
  | { readonly kind: 'feature'; readonly text: string; readonly part: Said; readonly source: Said }
  | {
      readonly kind: 'person';
      readonly name: string;
      readonly born: SaidDate | null;
      readonly died: SaidDate | null;
      readonly note: Said;
    }
  | { readonly kind: 'name'; readonly name: string; readonly from: SaidDate | null; readonly to: SaidDate | null }
  | {
      readonly kind: 'kin';
      readonly person: PersonName;
      readonly relation: string;
      readonly relative: PersonName;
    }
  | { readonly kind: 'mark'; readonly text: string; readonly technique: Said; readonly where: Said }
  | { readonly kind: 'condition'; readonly rank: string; readonly source: Said }
  | { readonly kind: 'other' }
);

export type CitationReader = (id: string) => Citation;

/**
 * Reads what a footnote says of a record, by its id.
 * @param people whose entries are asked for: theirs are read together, and any other one by one.
 */
export function citationReader(db: Db, read: EvidenceReader, people: readonly number[]): CitationReader {
  const entry = entriesBorneBy(db, people);
  const cited = (id: string): CitedEdition => {
    const row = Number(id.replace(/\D+/, ''));
    const edition = read.edition(row);
    const fields = readRecord(db, kindNamed('edition'), row)?.fields ?? {};
    return {
      series: edition.series,
      label: edition.label,
      asAt: spanInAnswer(edition.asAt.span),
      source: said(fields['source']),
      copy: said(fields['copy']),
      shelfmark: said(fields['shelfmark']),
    };
  };
  const named = (id: unknown): PersonName => personName(db, Number(String(id).slice(1)));
  const cite = (
    id: string,
    parsed: NonNullable<ReturnType<typeof parseId>>,
    fields: ShownRecord['fields'],
  ): Citation => {
    const text = (name: string): string => String(fields[name] ?? '');
    switch (parsed.kind.kind) {
      case 'entry':
        return { id, kind: 'entry', edition: cited(text('edition')), page: said(fields['page']), name: text('name') };
      case 'search':
        return {
          id,
          kind: 'search',
          edition: cited(text('edition')),
          person: fields['person'] === undefined ? null : named(fields['person']),
          surname: said(fields['surname']),
          outcome: text('outcome'),
          found: fields['found'] === undefined ? null : Number(fields['found']),
          note: said(fields['note']),
        };
      case 'notice':
        return {
          id,
          kind: 'notice',
          event: text('event'),
          date: saidDate(fields['date']),
          source: said(fields['source']),
        };
      case 'feature':
        return { id, kind: 'feature', text: text('text'), part: said(fields['part']), source: said(fields['source']) };
      case 'clue':
        return { id, kind: 'feature', text: text('text'), part: null, source: said(fields['source']) };
      case 'person':
        return {
          id,
          kind: 'person',
          name: personName(db, parsed.row).name,
          born: saidDate(fields['born']),
          died: saidDate(fields['died']),
          note: said(fields['note']),
        };
      case 'name':
        return { id, kind: 'name', name: text('name'), from: saidDate(fields['from']), to: saidDate(fields['to']) };
      case 'kin':
        return {
          id,
          kind: 'kin',
          person: named(fields['person']),
          relation: text('relation'),
          relative: named(fields['relative']),
        };
      case 'mark':
        return {
          id,
          kind: 'mark',
          text: text('text'),
          technique: said(fields['technique']),
          where: said(fields['where']),
        };
      case 'condition':
        return { id, kind: 'condition', rank: text('rank'), source: said(fields['source']) };
      default:
        return { id, kind: 'other' };
    }
  };
  return (id) => {
    const parsed = parseId(id);
    const record = parsed && (entry(id) ?? readRecord(db, parsed.kind, parsed.row));
    return parsed && record ? { ...cite(id, parsed, record.fields), key: record.key } : { id, kind: 'other' };
  };
}

const said = (value: unknown): Said => (value === undefined || value === null ? null : String(value));
