import { createHash } from 'node:crypto';
import type { Days } from '../inquiry/made.ts';
import type { SaidDate } from '../inquiry/report-dates.ts';
import type { LotMark, LotPerson, LotReport } from '../inquiry/report-lot.ts';
import type { TenureAnswer } from '../inquiry/tenures.ts';
import { gregorianDay, isoDay } from '../time/calendar.ts';
import type { Day } from '../time/span.ts';
import { holderSteps } from './holder-steps.ts';
import { plainLine } from './lines.ts';
import { makingInWords } from './lot-date.ts';
import { markText } from './lot-marks.ts';
import { provenanceSection } from './lot-provenance.ts';
import { notesOf } from './notes.ts';
import type { Degree } from './style.ts';
import { withoutLiving } from './withheld.ts';
import { lifeOf, type Naming, namingOf, type Words } from './words.ts';

/** One document of Linked Art 1.0 (JSON-LD). @see https://linked.art/api/1.0/ (read as stored pages). */
export type LinkedDocument = Readonly<Record<string, unknown>>;

const CONTEXT = 'https://linked.art/ns/v1/linked-art.json';

/** Terms of the Art & Architecture Thesaurus that Linked Art requires or uses; `possibly` and `probably` as libraries of it do. */
const TERM = {
  primaryName: ['300404670', 'Primary Name'],
  displayName: ['300404669', 'Display Name'],
  statement: ['300418049', 'Brief Text'],
  description: ['300435416', 'Description'],
  provenance: ['300435438', 'Provenance Statement'],
  provenanceActivity: ['300055863', 'Provenance Activity'],
  professionalActivity: ['300393177', 'Professional Activity'],
  inscription: ['300028702', 'Inscription'],
  possibly: ['300435722', 'Possibly'],
  probably: ['300435721', 'Probably'],
} as const;

const term = (name: keyof typeof TERM, meta?: keyof typeof TERM): LinkedDocument => {
  const [id, label] = TERM[name];
  return {
    id: `http://vocab.getty.edu/aat/${id}`,
    type: 'Type',
    _label: label,
    ...(meta === undefined ? {} : { classified_as: [term(meta)] }),
  };
};

const nameOf = (content: string, as: 'primaryName' | 'displayName' = 'primaryName'): LinkedDocument => ({
  type: 'Name',
  classified_as: [term(as)],
  content,
});

const statement = (
  content: string,
  as: 'description' | 'provenance' | 'inscription' | 'statement',
): LinkedDocument => ({
  type: 'LinguisticObject',
  classified_as: [as === 'statement' ? term('statement') : term(as, 'statement')],
  content,
});

/** Addresses of documents: under the house's own, or made from the key, the same in every ledger. */
export type Addresses = (kind: string, id: string, part?: string) => string;

/**
 * @param base where the house keeps its documents (`https://house.example/ledger/`); without one they are URNs of
 * name-based UUIDs (RFC 9562, version 8), of the kind and the key.
 */
export const addressesUnder =
  (base: string | undefined, keys: ReadonlyMap<string, string>): Addresses =>
  (kind, id, part = '') => {
    const key = `${keys.get(id) ?? id}${part}`;
    if (base !== undefined) return `${base.replace(/\/?$/, '/')}${kind}/${encodeURIComponent(key)}`;
    const hex = createHash('sha256').update(`${kind}\n${key}`, 'utf8').digest('hex');
    const variant = '89ab'[Number.parseInt(hex.charAt(16), 16) % 4] ?? '8';
    return `urn:uuid:${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
  };

/** A time-span by its four dates: the earliest and latest first moment, the earliest and latest last moment. */
export type FourDates = {
  readonly beginEarliest: string | null;
  readonly beginLatest: string | null;
  readonly endEarliest: string | null;
  readonly endLatest: string | null;
};

/** `end_of_the_begin` and the like are left out where nothing bounds them. */
export function timeSpan(dates: FourDates, display: string): LinkedDocument {
  const first = (day: string): string => `${day}T00:00:00Z`;
  const last = (day: string): string => `${day}T23:59:59Z`;
  return {
    type: 'TimeSpan',
    identified_by: [nameOf(display, 'displayName')],
    ...(dates.beginEarliest === null ? {} : { begin_of_the_begin: first(dates.beginEarliest) }),
    ...(dates.beginLatest === null ? {} : { end_of_the_begin: last(dates.beginLatest) }),
    ...(dates.endEarliest === null ? {} : { begin_of_the_end: first(dates.endEarliest) }),
    ...(dates.endLatest === null ? {} : { end_of_the_end: last(dates.endLatest) }),
  };
}

/** Something that happened at one time within a span of days. */
const within = ({ from, to }: Days): FourDates => ({
  beginEarliest: from,
  beginLatest: to,
  endEarliest: from,
  endLatest: to,
});

/** The last day in post is the one before the first that is none. */
const ofTenure = ({ start, end }: TenureAnswer): FourDates => ({
  beginEarliest: start.earliest,
  beginLatest: start.latest,
  endEarliest: dayBefore(end.earliest),
  endLatest: dayBefore(end.latest),
});

function dayBefore(day: string | null): string | null {
  if (day === null) return null;
  const [year, month, date] = day.split('-').map(Number);
  return isoDay((gregorianDay(year ?? 0, month ?? 1, date ?? 1) - 1) as Day);
}

/** An object, the succession of its holders, and the people named, each as a document of its own. */
export function linkedLot(given: LotReport, words: Words, addresses: Addresses): LinkedDocument[] {
  const { lot } = withoutLiving({ lot: given }, words);
  const naming = namingOf(lot, words);
  const { object, made } = lot;
  const making = made.withMarks ?? made;
  const id = addresses('object', object.id);
  const provenance = provenanceSection(
    lot,
    { ...words, style: { ...words.style, conventions: false } },
    naming,
    notesOf(words, false),
  )
    .flatMap((block) => (block.kind === 'paragraph' ? [plainLine(block.line)] : []))
    .join(' ');
  const thing: LinkedDocument = {
    '@context': CONTEXT,
    id,
    type: 'HumanMadeObject',
    _label: object.title,
    identified_by: [nameOf(object.title), { type: 'Identifier', content: object.ref }],
    referred_to_by: [
      ...(object.note === null ? [] : [statement(object.note, 'description')]),
      statement(provenance, 'provenance'),
      ...lot.cautions.map((caution) => statement(caution, 'statement')),
    ],
    produced_by: {
      type: 'Production',
      timespan: timeSpan(within(making.span), makingInWords(making, words) ?? words.say('made.none')),
    },
    ...(lot.marks.length === 0 ? {} : { carries: lot.marks.map((mark) => inscription(mark, naming, addresses)) }),
  };
  const steps = holderSteps(lot);
  const activities = steps.map((step, place): LinkedDocument => {
    const person = step.person !== null && !naming.isWithheld(step.person.id) ? step.person : null;
    const label = step.person === null ? words.say('picture.unrecorded') : naming.plain(step.person);
    const holder = person && { id: addresses('person', person.id), type: 'Person', _label: label };
    const doubted = holder && step.degree !== 'certain' ? [doubt(step.degree, holder)] : [];
    return {
      '@context': CONTEXT,
      id: addresses('holding', object.id, `#${place + 1}`),
      type: 'Activity',
      _label: label,
      classified_as: [term('provenanceActivity')],
      identified_by: [nameOf(label)],
      timespan: timeSpan(within(step), words.dates.years(step)),
      ...(holder === null ? {} : { participant: [holder] }),
      ...(doubted.length === 0 ? {} : { attributed_by: doubted }),
      part: [
        {
          type: 'Transfer',
          transferred: [{ id, type: 'HumanMadeObject', _label: object.title }],
          ...(holder === null ? {} : { transferred_to: [holder] }),
        },
      ],
    };
  });
  const named = new Set(steps.flatMap(({ person }) => (person === null ? [] : [person.id])));
  const people = Object.values(lot.people).filter((person) => named.has(person.id) && !naming.isWithheld(person.id));
  return [thing, ...activities, ...people.map((person) => linkedPerson(person, words, addresses))];
}

/** That somebody held it is an opinion: said to be probable or possible, unless it is almost certain. */
const doubt = (degree: Degree, holder: LinkedDocument): LinkedDocument => ({
  type: 'AttributeAssignment',
  classified_as: [term(degree === 'very' || degree === 'probably' ? 'probably' : 'possibly')],
  assigned_property: 'participant',
  assigned: [holder],
});

const inscription = (mark: LotMark, naming: Naming, addresses: Addresses): LinkedDocument => ({
  id: addresses('mark', mark.id),
  type: 'LinguisticObject',
  _label: markText(mark, naming),
  classified_as: [term('inscription')],
  content: markText(mark, naming),
  ...(mark.technique === null && mark.where === null
    ? {}
    : {
        referred_to_by: [
          statement([mark.technique, mark.where].filter((each) => each !== null).join(', '), 'statement'),
        ],
      }),
});

/** A person with birth, death, and each appointment with the four dates of its bounds. */
export function linkedPerson(person: LotPerson, words: Words, addresses: Addresses): LinkedDocument {
  const said = (date: SaidDate): LinkedDocument => timeSpan(within(date), words.dates.said(date));
  const life = lifeOf(person, words);
  return {
    '@context': CONTEXT,
    id: addresses('person', person.id),
    type: 'Person',
    _label: person.name,
    identified_by: [
      nameOf(person.name),
      ...person.names.filter(({ name }) => name !== person.name).map(({ name }) => ({ type: 'Name', content: name })),
    ],
    ...(person.born === null ? {} : { born: { type: 'Birth', timespan: said(person.born) } }),
    ...(person.died === null ? {} : { died: { type: 'Death', timespan: said(person.died) } }),
    ...(life === '' ? {} : { referred_to_by: [statement(life, 'statement')] }),
    ...(person.tenures.length === 0
      ? {}
      : {
          carried_out: person.tenures.map((tenure) => ({
            type: 'Activity',
            _label: [tenure.rank, ...(tenure.corps === null ? [] : [tenure.corps])].join(', '),
            classified_as: [term('professionalActivity')],
            timespan: timeSpan(ofTenure(tenure), words.dates.days(tenure.possible)),
          })),
        }),
  };
}
