/**
 * Every kind of record, in one table: how it is stored, what it is called in JSON Lines, what may be said in it. From
 * this follow recording, correcting, showing, listing, importing and exporting. Entries have their own layout
 * (`entries.ts`), but the same names for their fields stand here.
 */

import { YEAR_BEGINNINGS } from '../time/given-options.ts';
import { choice, date, type Kind, type KindName, ref, required, text, whole } from './kind.ts';

export const APPOINTMENT_KINDS = [
  'substantive',
  'brevet',
  'staff',
  'local',
  'temporary',
  'acting',
  'half-pay',
  'retired',
] as const;
export const EVENTS = [
  'appointed',
  'promoted',
  'exchanged',
  'half-pay',
  'retired',
  'resigned',
  'dismissed',
  'superseded',
  'died',
  'born',
  'married',
  'renamed',
  'other',
] as const;
/**
 * Whether a window excludes other days: all of them, none of them (a custom of the trade), or only those before its
 * first day, or after its last.
 */
export const FORCES = ['hard', 'usual', 'hard-start', 'hard-end'] as const;
export const RELATIONS = ['parent', 'child', 'sibling', 'spouse', 'kin'] as const;

export const KINDS: readonly Kind[] = [
  {
    kind: 'service',
    called: 'a service',
    plural: 'services',
    table: 'service',
    prefix: 'sv',
    fields: [required(text('name'))],
  },
  {
    kind: 'rank',
    called: 'a rank',
    plural: 'ranks',
    table: 'rank',
    prefix: 'rk',
    fields: [
      required(text('service')),
      required(text('title')),
      whole('order', 'place'),
      { type: 'texts', name: 'abbreviations', column: 'abbreviations' },
      choice('courtesy', ['yes', 'sometimes', 'no'], 'no'),
    ],
  },
  {
    kind: 'corps',
    called: 'a corps',
    plural: 'corps',
    table: 'corps',
    prefix: 'co',
    fields: [required(text('name')), ref('sameAs', 'corps', 'same_as_id'), date('from'), date('to')],
  },
  {
    kind: 'series',
    called: 'a series',
    plural: 'series',
    table: 'series',
    prefix: 's',
    fields: [
      required(text('name')),
      required(text('service')),
      whole('lagDays', 'lag_days'),
      text('country'),
      choice('yearBegins', YEAR_BEGINNINGS, undefined, 'year_begins'),
    ],
  },
  {
    kind: 'edition',
    called: 'an edition',
    plural: 'editions',
    table: 'edition',
    prefix: 'ed',
    fields: [
      required(ref('series', 'series')),
      required(text('label')),
      required(date('asAt', 'as_at_id')),
      text('source'),
      text('copy'),
      text('shelfmark'),
    ],
  },
  {
    kind: 'person',
    called: 'a person',
    plural: 'people',
    table: 'person',
    prefix: 'p',
    fields: [
      required({ type: 'name', name: 'name', column: 'name_id' }),
      date('born'),
      date('died'),
      { type: 'texts', name: 'places', column: 'places' },
      text('note'),
    ],
  },
  {
    kind: 'name',
    called: 'a name',
    plural: 'names',
    table: 'name_form',
    prefix: 'nm',
    fields: [
      required(ref('person', 'person')),
      required({ type: 'name', name: 'name', column: 'name_id' }),
      date('from'),
      date('to'),
    ],
  },
  {
    kind: 'same',
    called: 'a finding that two are one',
    plural: 'findings that two are one',
    table: 'same',
    prefix: 'sm',
    fields: [required(ref('person', 'person')), required(ref('other', 'person')), text('why')],
  },
  {
    kind: 'differ',
    called: 'a finding that two are not one',
    plural: 'findings that two are not one',
    table: 'differ',
    prefix: 'df',
    fields: [required(ref('person', 'person')), required(ref('other', 'person')), text('why')],
  },
  {
    kind: 'kin',
    called: 'a kinship',
    plural: 'kinships',
    table: 'kin',
    prefix: 'k',
    fields: [
      required(ref('person', 'person')),
      required(choice('relation', RELATIONS)),
      required(ref('relative', 'person')),
    ],
  },
  {
    kind: 'entry',
    called: 'an entry',
    plural: 'entries',
    table: 'entry',
    prefix: 'e',
    fields: [
      required(ref('edition', 'edition')),
      ref('person', 'person'),
      required({ type: 'name', name: 'name', column: 'name_id' }),
      required({ type: 'rank', name: 'rank', column: 'rank_id' }),
      { type: 'corps', name: 'corps', column: 'corps_id' },
      date('dated'),
      text('page'),
      choice('kind', APPOINTMENT_KINDS, 'substantive', 'appointment'),
      text('note'),
    ],
  },
  {
    kind: 'link',
    called: 'a link',
    plural: 'links',
    table: 'link',
    prefix: 'l',
    fields: [required(ref('entry', 'entry')), ref('person', 'person'), text('why')],
  },
  {
    kind: 'search',
    called: 'a search',
    plural: 'searches',
    table: 'search',
    prefix: 'q',
    fields: [
      required(ref('edition', 'edition')),
      ref('person', 'person'),
      text('surname'),
      required(choice('outcome', ['not found', 'all taken'])),
      whole('found'),
      text('note'),
    ],
  },
  {
    kind: 'notice',
    called: 'a notice',
    plural: 'notices',
    table: 'notice',
    prefix: 'n',
    fields: [
      required(ref('person', 'person')),
      required(choice('event', EVENTS)),
      required(date('date')),
      { type: 'rank', name: 'rank', column: 'rank_id' },
      { type: 'corps', name: 'corps', column: 'corps_id' },
      choice('kind', APPOINTMENT_KINDS, 'substantive', 'appointment'),
      text('source'),
      ref('vice', 'person'),
      { type: 'name', name: 'name', column: 'name_id' },
      text('note'),
    ],
  },
  {
    kind: 'condition',
    called: 'a condition of service',
    plural: 'conditions of service',
    table: 'condition',
    prefix: 'cd',
    fields: [
      required({ type: 'rank', name: 'rank', column: 'rank_id' }),
      whole('atLeastDays', 'at_least_days'),
      whole('atMostDays', 'at_most_days'),
      text('source'),
    ],
  },
  {
    kind: 'object',
    called: 'an object',
    plural: 'objects',
    table: 'object',
    prefix: 'o',
    fields: [required(text('ref')), required(text('title')), text('note'), date('horizon')],
  },
  {
    kind: 'feature',
    called: 'a feature',
    plural: 'features',
    table: 'feature',
    prefix: 'f',
    fields: [
      required(ref('object', 'object')),
      required(text('text')),
      date('window'),
      choice('force', FORCES, 'usual'),
      choice('weight', ['strong', 'moderate', 'weak'], 'moderate'),
      text('part'),
      choice('state', ['original', 'thought-original', 'doubtful', 'replaced', 'added'], 'original'),
      text('fact'),
      choice('confidence', ['high', 'medium', 'low']),
      text('source'),
    ],
  },
  {
    kind: 'mark',
    called: 'a mark',
    plural: 'marks',
    table: 'mark',
    prefix: 'm',
    fields: [
      required(ref('object', 'object')),
      required(text('text')),
      required({ type: 'roles', name: 'role', column: 'role' }),
      text('technique'),
      text('where', 'where_on'),
      date('made'),
      ref('over', 'mark'),
      text('surname'),
      text('forenames'),
      text('rank'),
      text('corps'),
      text('place'),
    ],
  },
  {
    kind: 'reading',
    called: 'a reading',
    plural: 'readings',
    table: 'reading',
    prefix: 'r',
    fields: [required(ref('mark', 'mark')), required(text('text')), text('by', 'by_whom')],
  },
  {
    kind: 'photo',
    called: 'a photograph',
    plural: 'photographs',
    table: 'photo',
    prefix: 'ph',
    fields: [
      required({ type: 'any-ref', to: ['mark', 'object'], name: 'of', column: 'of' }),
      required(text('file')),
      text('sha256'),
      whole('bytes'),
    ],
  },
  {
    kind: 'attribution',
    called: 'an attribution',
    plural: 'attributions',
    table: 'attribution',
    prefix: 'a',
    fields: [required(ref('mark', 'mark')), required(ref('person', 'person')), text('grade'), text('why')],
  },
  {
    kind: 'assumption',
    called: 'an assumption',
    plural: 'assumptions',
    table: 'assumption',
    prefix: 'as',
    fields: [required(text('name')), required(text('value')), text('why')],
  },
  {
    kind: 'setAside',
    called: 'a setting aside',
    plural: 'records set aside',
    table: 'set_aside',
    prefix: 'x',
    fields: [required({ type: 'any-ref', to: 'all', name: 'record', column: 'record' }), text('why')],
  },
  {
    kind: 'fact',
    called: 'a fact of the shelf',
    plural: 'facts of the shelf',
    table: 'fact',
    prefix: 'ft',
    fields: [
      required(text('name')),
      required(text('text')),
      text('pattern'),
      date('window'),
      choice('force', FORCES, 'usual'),
      choice('weight', ['strong', 'moderate', 'weak'], 'moderate'),
      choice('confidence', ['high', 'medium', 'low']),
      text('source'),
    ],
  },
  {
    kind: 'clue',
    called: 'a clue',
    plural: 'clues',
    table: 'clue',
    prefix: 'cl',
    fields: [
      required(ref('mark', 'mark')),
      required(text('text')),
      text('fact'),
      required(date('window')),
      choice('force', FORCES, 'usual'),
      choice('weight', ['strong', 'moderate', 'weak'], 'moderate'),
      choice('confidence', ['high', 'medium', 'low']),
      text('source'),
      text('why'),
    ],
  },
];

const BY_NAME: ReadonlyMap<string, Kind> = new Map(KINDS.map((each) => [each.kind, each]));
const BY_PREFIX: ReadonlyMap<string, Kind> = new Map(KINDS.map((each) => [each.prefix, each]));

export function kindNamed(name: KindName): Kind {
  const kind = BY_NAME.get(name);
  if (!kind) throw new Error(`no such kind of record: ${name}`);
  return kind;
}

export const findKind = (name: string): Kind | undefined =>
  BY_NAME.get(name) ??
  BY_NAME.get(name.replace(/s$/, '')) ??
  KINDS.find((each) => each.plural === name || each.plural.replaceAll(' ', '-') === name);

/** `p12` is the twelfth row of the people; undefined where the words are no id. */
export function parseId(words: string): { kind: Kind; row: number } | undefined {
  const match = /^([a-z]{1,2})([1-9]\d{0,14})$/.exec(words);
  const kind = match?.[1] === undefined ? undefined : BY_PREFIX.get(match[1]);
  return kind ? { kind, row: Number(match?.[2]) } : undefined;
}
