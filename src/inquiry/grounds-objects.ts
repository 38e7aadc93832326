import { HeldbyError } from '../errors.ts';
import type { ObjectRow } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { spanInAnswer } from './days.ts';
import { contradictionGrounds } from './grounds-contradictions.ts';
import { chainInWords, HOLDER_FIGURES, holderFigure, linkAssumptions } from './grounds-holders.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground, note, spanInWords } from './grounds-tree.ts';
import { madeOf } from './made.ts';
import type { ObjectDays } from './mark-dating.ts';
import { MOST_CHAINS, type ProvenanceAnswer, provenanceOf, USUAL_CHAINS } from './provenance.ts';

/** The traits that bear on the making, and those that do not, with their windows. */
export function featureGrounds({ features, making }: ObjectDays, reader: GroundsReader): Ground[] {
  if (features.length === 0) return [note('no datable trait is recorded: every day of the horizon is alike')];
  return features.map(({ id, text, window, force, weight, state }) => {
    const days = spanInWords(spanInAnswer(window));
    const how = force === 'usual' ? `usual, ${weight}` : force;
    const used = making.used.includes(id) ? '' : '; not used';
    return ground('claim', `${text}: ${days} (${how}; ${state}${used})`, id, [reader.record(id)]);
  });
}

/** The years reckoned with: the object's own, or the ledger's, made to hold every stated date. */
export function horizonGround(object: ObjectRow | undefined, { horizon }: ObjectDays, reader: GroundsReader): Ground {
  const years = spanInWords(spanInAnswer(horizon));
  return object === undefined || object.horizon_id === null
    ? ground('note', `the horizon reaches ${years}`, null, [reader.assumption('horizon')])
    : ground('note', `the object's own horizon reaches ${years}`, `o${object.id}`, [reader.record(`o${object.id}`)]);
}

export const MADE_FIGURES = {
  span: 'when it was made by its features: the shortest span that holds 95 %',
  half: 'the same, the shortest span that holds half',
  phrase: 'the same, as print has it',
  spanWithMarks: 'when it was made by its features and marks together: 95 %',
  halfWithMarks: 'the same, half',
  phraseWithMarks: 'the same, as print has it',
  horizon: 'the years in which it can have been made at all',
} as const;
export type MadeFigure = keyof typeof MADE_FIGURES;

/** A figure of the making of an object. */
export function madeFigure(
  db: Db,
  object: ObjectRow,
  figure: MadeFigure,
  given: { readonly dated: ObjectDays; readonly markWindows: () => readonly Ground[] },
  reader: GroundsReader,
): Reckoned {
  const made = madeOf(db, `o${object.id}`);
  if (figure === 'horizon')
    return {
      value: made.horizon,
      says: `${object.title} can have been made ${spanInWords(made.horizon)}`,
      grounds: [horizonGround(object, given.dated, reader)],
    };
  const together = figure.endsWith('WithMarks');
  const name = figure.replace('WithMarks', '') as 'span' | 'half' | 'phrase';
  const making = together ? made.withMarks : made;
  if (making === null) return { value: null, says: `${object.title} bears no mark`, grounds: [] };
  const by = together ? 'its features and marks together' : 'its features';
  const value = making[name];
  const part = name === 'span' ? '95 %' : 'half';
  return {
    value,
    says:
      typeof value === 'string'
        ? `${object.title}, by ${by}: made ${value}`
        : `${object.title}, by ${by}: made ${spanInWords(value)}, the shortest span that holds ${part}`,
    grounds: [
      ...featureGrounds(given.dated, reader),
      ...(together ? given.markWindows() : []),
      ...contradictionGrounds(db, `o${object.id}`, (id) => together || id.startsWith('f'), reader),
      horizonGround(object, given.dated, reader),
    ],
  };
}

export const PROVENANCE_FIGURES = {
  ...HOLDER_FIGURES,
  chain: 'a succession with its share, holders, days and gaps: 1 for the likeliest',
  leftOut: 'the share of the candidates who were not taken one by one, and at most',
} as const;

export const isProvenanceFigure = (name: string): name is keyof typeof PROVENANCE_FIGURES =>
  Object.hasOwn(PROVENANCE_FIGURES, name);

type ProvenanceGiven = {
  /** How many successions were asked for: the more, the less is summed up instead of weighed. */
  readonly chains: number | undefined;
  readonly markGrounds: (mark: string, person: string | undefined) => Ground;
};

/** A figure of the succession of holders. */
export function provenanceFigure(
  db: Db,
  object: ObjectRow,
  figure: keyof typeof PROVENANCE_FIGURES,
  words: string | undefined,
  { chains, markGrounds }: ProvenanceGiven,
  reader: GroundsReader,
): Reckoned {
  const last = figure === 'chain' ? chainAsked(words, object) : 1;
  const answer = provenanceOf(db, `o${object.id}`, Math.max(chains ?? USUAL_CHAINS, last));
  const made = ground(
    'figure',
    `made ${answer.made.phrase}, with all its marks`,
    `o${object.id}`,
    [],
    answer.made.span,
  );
  if (figure === 'leftOut') {
    const { candidates, share, atMost } = answer.leftOut;
    return {
      value: answer.leftOut,
      says: `${candidates} less likely candidates were not taken one by one: together ${(share * 100).toFixed(1)} % of all successions, at most ${(atMost * 100).toFixed(1)} %`,
      grounds: [
        note(
          'of each mark the likeliest are taken one by one, and of the rest those who are joined to somebody at another mark; the others stand for one or two strangers',
        ),
        ...linkAssumptions(reader),
      ],
    };
  }
  if (figure === 'chain') return chainFigure(answer, last, object, made, markGrounds, reader);
  return holderFigure(db, answer, object, figure, words, { made, markGrounds }, reader);
}

/** The place of a succession, as many as `provenance --chains` can tell. */
function chainAsked(words: string | undefined, object: ObjectRow): number {
  if (words === undefined) return 1;
  if (/^[1-9]\d{0,3}$/.test(words) && Number(words) <= MOST_CHAINS) return Number(words);
  throw new HeldbyError(
    'USAGE',
    `"${words}" is no place of a succession.`,
    `Give one up to ${MOST_CHAINS}: heldby grounds ${object.ref} chain 2`,
  );
}

function chainFigure(
  answer: ProvenanceAnswer,
  place: number,
  object: ObjectRow,
  made: Ground,
  markGrounds: (mark: string, person: string | undefined) => Ground,
  reader: GroundsReader,
): Reckoned {
  const at = place - 1;
  const chain = answer.chains[at];
  if (chain === undefined)
    throw new HeldbyError(
      'REFERENCE',
      `There is no succession ${place} of ${object.ref}; there are ${answer.chains.length}.`,
      `See them: heldby provenance ${object.ref}`,
    );
  return {
    value: chain,
    says: chainInWords(answer, at),
    grounds: [
      made,
      ...chain.holders.map(({ mark, person }) => markGrounds(mark, person?.id)),
      ...chain.holders.flatMap(({ kinships }) => kinships.map((id) => reader.record(id))),
      ...linkAssumptions(reader),
    ],
  };
}
