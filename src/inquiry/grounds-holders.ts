import { HeldbyError } from '../errors.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { ObjectRow } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { personName, samePeople } from '../ledger/people.ts';
import { resolveRef } from '../ledger/refs.ts';
import { provisionalInWords, standsGrounds, standsInWords, wordingGrounds } from './grounds-conclusions.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground, spanInWords } from './grounds-tree.ts';
import type { ProvenanceAnswer } from './provenance.ts';

export const HOLDER_FIGURES = {
  holder: 'the share of all successions in which a person, or "unrecorded", held it',
  hangsOn: 'records without which the conclusion on a holder does not stand',
  robust: 'whether it stands without any one record; of the likeliest holders',
  provisional: 'whether it rests on a choice among contradicting records',
  wording: 'how firmly it may be put that a person held it',
} as const;
export type HolderFigure = keyof typeof HOLDER_FIGURES;

type Holder = ProvenanceAnswer['holders'][number];

/** What a figure of a holder rests on beside the holder's own records. */
type HolderGrounds = {
  readonly made: Ground;
  readonly markGrounds: (mark: string, person: string | undefined) => Ground;
};

/**
 * A figure of one holder over all successions.
 * @param words who, or `unrecorded`; the likeliest unless said.
 * @throws HeldbyError REFERENCE for somebody who is none.
 */
export function holderFigure(
  db: Db,
  answer: ProvenanceAnswer,
  object: ObjectRow,
  figure: HolderFigure,
  words: string | undefined,
  given: HolderGrounds,
  reader: GroundsReader,
): Reckoned {
  const holder = holderAsked(db, answer, object, words);
  const name = holder.person?.name ?? 'somebody unrecorded';
  switch (figure) {
    case 'holder':
      return {
        value: holder.share,
        says: heldInWords(holder, object),
        grounds: shareGrounds(answer, holder, given, reader),
      };
    case 'hangsOn':
    case 'robust':
      return holder.robust === null
        ? {
            value: figure === 'robust' ? null : holder.hangsOn,
            says: `no conclusion is drawn on ${name} that could hang on a record: only the likeliest holders are tried`,
            grounds: [asFigure(answer, holder, object, given, reader)],
          }
        : {
            value: holder[figure],
            says: standsInWords(name, holder.hangsOn),
            grounds: standsGrounds(holder.hangsOn, reader),
          };
    case 'provisional':
      return {
        value: holder.provisional,
        says: provisionalInWords(name, holder.provisional),
        grounds: [asFigure(answer, holder, object, given, reader)],
      };
    case 'wording':
      return {
        value: holder.wording,
        says: `${name}: ${holder.wording ?? 'nothing is said of somebody who is not known'}`,
        grounds: wordingGrounds(holder, reader),
      };
  }
}

function holderAsked(db: Db, { holders }: ProvenanceAnswer, object: ObjectRow, words: string | undefined): Holder {
  const isUnrecorded = words?.toLowerCase() === 'unrecorded';
  const person = words === undefined || isUnrecorded ? undefined : firstRecord(db, words);
  const holder = holders.find((each) =>
    words === undefined ? true : isUnrecorded ? each.person === null : each.person?.id === person,
  );
  if (holder !== undefined) return holder;
  throw new HeldbyError(
    'REFERENCE',
    `No succession of ${object.ref} has ${isUnrecorded ? 'somebody unrecorded' : personName(db, Number(person?.slice(1))).name} as a holder.`,
    `See them: heldby provenance ${object.ref}`,
  );
}

function firstRecord(db: Db, words: string): string {
  const found = resolveRef(db, kindNamed('person'), words);
  return `p${samePeople(db)(found)[0] ?? found}`;
}

const heldInWords = ({ person, share }: Holder, { ref }: ObjectRow): string =>
  `${person?.name ?? 'somebody unrecorded'} held ${ref} in ${(share * 100).toFixed(1)} % of all successions by weight`;

function shareGrounds(
  answer: ProvenanceAnswer,
  { person }: Holder,
  { made, markGrounds }: HolderGrounds,
  reader: GroundsReader,
): Ground[] {
  const id = person?.id;
  const isOne = (each: { readonly person: Holder['person'] }): boolean => each.person?.id === id;
  const held = answer.chains.flatMap(({ holders }) => holders.filter(isOne).map(({ mark }) => mark));
  const inChains = answer.chains.filter(({ holders }) => holders.some(isOne));
  return [
    made,
    ...[...new Set(held)].map((mark) => markGrounds(mark, id)),
    ...inChains.map((each) => chainGround(answer, answer.chains.indexOf(each), reader)),
    ...linkAssumptions(reader),
  ];
}

const asFigure = (
  answer: ProvenanceAnswer,
  holder: Holder,
  object: ObjectRow,
  given: HolderGrounds,
  reader: GroundsReader,
): Ground =>
  ground(
    'figure',
    heldInWords(holder, object),
    holder.person?.id ?? null,
    shareGrounds(answer, holder, given, reader),
    holder.share,
  );

export const linkAssumptions = (reader: GroundsReader): Ground[] =>
  ['chain.same', 'chain.kin', 'chain.surname'].map((name) => reader.assumption(name));

const chainGround = (answer: ProvenanceAnswer, at: number, reader: GroundsReader): Ground =>
  ground(
    'figure',
    chainInWords(answer, at),
    null,
    (answer.chains[at]?.holders ?? []).flatMap(({ kinships }) => kinships.map((id) => reader.record(id))),
    answer.chains[at]?.share ?? null,
  );

export const chainInWords = ({ chains }: ProvenanceAnswer, at: number): string => {
  const chain = chains[at];
  const holders = (chain?.holders ?? []).map(
    ({ person, mark, link, from, to }) =>
      `${person?.name ?? 'somebody unrecorded'} (${mark}, ${spanInWords({ from, to })}${link === null ? '' : `, ${link}`})`,
  );
  return `succession ${at + 1}, ${((chain?.share ?? 0) * 100).toFixed(1)} %: ${holders.join(', then ')}`;
};
