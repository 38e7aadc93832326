import { type ChainMark, prepareMarks } from '../attribution/chain-marks.ts';
import { jointMaking } from '../attribution/joint-making.ts';
import type { Density } from '../dating/density.ts';
import type { WindowConflict } from '../dating/hard-windows.ts';
import { byYear, type MakingInWords, makingInWords } from '../dating/making-words.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import type { Span } from '../time/span.ts';
import { spanInAnswer, whenInWords } from './days.ts';
import type { ObjectDays } from './mark-dating.ts';
import { madeCautions } from './object-cautions.ts';
import { type ObjectMark, type ObjectMarks, objectMarks, objectNamed } from './object-marks.ts';

export type Days = { readonly from: string | null; readonly to: string | null };
type Named = { readonly id: string; readonly claim: string };

/** When something was made: the shortest spans that hold 95 % and half of the density, words for print, and its years. */
export type MakingAnswer = {
  readonly span: Days;
  readonly half: Days;
  readonly phrase: string;
  /** The whole years that the phrase says. */
  readonly printed: Days;
  readonly years: { readonly firstYear: number; readonly shares: readonly number[] };
};

export type WindowAnswer = Days & {
  readonly id: string;
  readonly text: string;
  readonly force: string;
  readonly weight: string;
  readonly part: string | null;
  readonly state: string;
  readonly confidence: string | null;
  readonly source: string | null;
  readonly fact: string | null;
  /** Whether the dating uses it: not where a contradiction sets it aside, or the part is none of the original. */
  readonly used: boolean;
};

export type MarkWindowAnswer = Days & {
  readonly id: string;
  readonly key: string | null;
  readonly text: string;
  readonly role: string;
  readonly windowIs: 'stated' | 'reckoned';
  readonly namesHolder: boolean;
  /** Where its role is uncertain: when the object was made, by features and marks, if the mark had each of them. */
  readonly roles: readonly { readonly role: string; readonly weight: number; readonly phrase: string }[];
  /** Its datable wordings that were confirmed. */
  readonly clues: readonly (Days & {
    readonly id: string;
    readonly text: string;
    readonly force: string;
    readonly weight: string;
    readonly source: string | null;
    readonly fact: string | null;
  })[];
  /** Kept out of the dating, because its own date lies before any day on which the object can have been made. */
  readonly beforeMaking: boolean;
};

export type MadeAnswer = {
  readonly object: { readonly id: string; readonly key: string | null; readonly ref: string; readonly title: string };
  readonly horizon: Days;
  readonly windows: readonly WindowAnswer[];
  /** Facts of the reference shelf on which it rests, each with the records that name it. */
  readonly facts: readonly { readonly fact: string; readonly records: readonly string[] }[];
  readonly conflicts: readonly { readonly members: readonly Named[]; readonly setAside: readonly Named[] }[];
  /** By features and marks together; null where the object has no mark. */
  readonly withMarks: (MakingAnswer & { readonly marks: readonly MarkWindowAnswer[] }) | null;
  readonly cautions: readonly string[];
} & MakingAnswer;

/**
 * When an object was made: by its features alone, and by its features and all its marks together.
 * @param known the object with its marks, where that has been worked out already.
 */
export function madeOf(db: Db, words: string, known?: ObjectMarks): MadeAnswer {
  const assumptions = assumptionsOf(db);
  const given = known ?? objectMarks(db, objectNamed(db, words), assumptions);
  const { object, dated, marks, joint } = given;
  const ifRole = (place: number, chain: ChainMark): string => {
    const changed = joint.marks.flatMap((mark, other) =>
      other === place ? prepareMarks(dated.making.density, [chain], given.surnamesOf, assumptions) : [mark],
    );
    return jointMakingFigures(jointMaking(dated.making.density, changed).density, given).phrase;
  };
  const windows = windowsOf(db, given);
  return {
    object: objectInAnswer(object),
    horizon: spanInAnswer(dated.horizon),
    windows,
    facts: factsNamed([...windows.filter(({ used }) => used), ...marks.flatMap(({ days }) => days.clues)]),
    ...makingFigures(makingInWords(dated.making.density, endsOf(given))),
    years: yearsOf(dated.making.density),
    conflicts: dated.making.conflicts.map((conflict) => conflictInAnswer(conflict, dated.features)),
    withMarks:
      marks.length === 0
        ? null
        : {
            ...jointMakingFigures(joint.density, given),
            years: yearsOf(joint.density),
            marks: marks.map((mark, place) => ({
              ...markInAnswer(mark),
              roles: mark.byRole.map(({ role, weight, chain }) => ({ role, weight, phrase: ifRole(place, chain) })),
            })),
          },
    cautions: madeCautions(given, joint.excluded),
  };
}

export const objectInAnswer = ({ id, key, ref, title }: ObjectMarks['object']): MadeAnswer['object'] => ({
  id: `o${id}`,
  key,
  ref,
  title,
});

/** Spans whose ends are evidence where they are the horizon's own: the object's horizon, and the dates of its marks. */
const endsOf = ({ object, dated, marks }: ObjectMarks): Span[] => [
  ...(object.horizon_id === null ? [] : [dated.horizon]),
  ...marks.flatMap(({ days }) => (days.marking.windowIs === 'stated' ? [days.marking.window] : [])),
];

/** A making by a density, as answers give it. */
const makingFigures = ({ span, half, phrase, printed }: MakingInWords): Omit<MakingAnswer, 'years'> => ({
  span: spanInAnswer(span),
  half: spanInAnswer(half),
  phrase,
  printed: spanInAnswer(printed),
});

/** By features and marks together. */
export function jointMakingFigures(density: Density, given: ObjectMarks): Omit<MakingAnswer, 'years'> {
  if (density !== given.joint.density) return makingFigures(makingInWords(density, endsOf(given)));
  const known = jointFigures.get(given) ?? makingFigures(makingInWords(density, endsOf(given)));
  jointFigures.set(given, known);
  return known;
}

/** All marks as they are, worked out once for each object. */
const jointFigures = new WeakMap<ObjectMarks, Omit<MakingAnswer, 'years'>>();

const DECIMALS = 1e6;

function yearsOf(density: Density): MakingAnswer['years'] {
  const { firstYear, shares } = byYear(density);
  return { firstYear, shares: shares.map((share) => Math.round(share * DECIMALS) / DECIMALS) };
}

/** Facts that records name, in the order in which they first do. */
function factsNamed(records: readonly { readonly id: string; readonly fact: string | null }[]): MadeAnswer['facts'] {
  const named = new Map<string, string[]>();
  for (const { id, fact } of records) {
    if (fact !== null) named.set(fact, [...(named.get(fact) ?? []), id]);
  }
  return [...named].map(([fact, ids]) => ({ fact, records: ids }));
}

function windowsOf(db: Db, { dated }: ObjectMarks): WindowAnswer[] {
  return dated.features.map(({ id, text, window, force, weight, state }) => {
    const fields = readRecord(db, kindNamed('feature'), Number(id.slice(1)))?.fields ?? {};
    const said = (name: string): string | null => (fields[name] === undefined ? null : String(fields[name]));
    return {
      id,
      text,
      ...spanInAnswer(window),
      force,
      weight,
      part: said('part'),
      state,
      confidence: said('confidence'),
      source: said('source'),
      fact: said('fact'),
      used: dated.making.used.includes(id),
    };
  });
}

function conflictInAnswer(
  { members, setAside }: WindowConflict,
  features: ObjectDays['features'],
): MadeAnswer['conflicts'][number] {
  const named = (id: string): Named => {
    const feature = features.find((each) => each.id === id);
    return { id, claim: feature === undefined ? id : `${feature.text}: made ${whenInWords(feature.window)}` };
  };
  return { members: members.map(named), setAside: setAside.map(named) };
}

const markInAnswer = ({ row, days, weighed }: ObjectMark): Omit<MarkWindowAnswer, 'roles'> => ({
  id: `m${row.id}`,
  key: row.key,
  text: row.text,
  role: row.role,
  ...spanInAnswer(days.marking.window),
  windowIs: days.marking.windowIs,
  namesHolder: weighed !== undefined,
  clues: days.clues.map(({ id, text, window, force, weight, source, fact }) => ({
    id,
    text,
    ...spanInAnswer(window),
    force,
    weight,
    source,
    fact,
  })),
  beforeMaking: days.marking.beforeMaking,
});
