import { markDays } from '../../../src/attribution/candidate.ts';
import { sharesOf } from '../../../src/attribution/candidates.ts';
import { solveCareer } from '../../../src/careers/solve.ts';
import { candidateInputs, type Known, type Sought } from '../../../src/inquiry/candidate-inputs.ts';
import { readForenames } from '../../../src/names/forenames.ts';
import { ALL_TIME } from '../../../src/time/span.ts';
import { ASSUMED, type Case, type Figure } from './story.ts';

/** What is said of a mark, and what was so. */
export type Verdict = {
  /** Shares by person; undefined is somebody unrecorded. They add up to 1. */
  readonly shares: ReadonlyMap<string | undefined, number>;
  /** The same by a plain rule: everybody who fits has an equal part, and so has somebody unrecorded. */
  readonly plain: ReadonlyMap<string | undefined, number>;
  readonly owner: string | undefined;
};

export function judge({ figures, rank, marking, unrecorded, owner }: Case): Verdict {
  const sought: Sought = {
    ranks: [rank],
    forenames: readForenames(unrecorded.unknownBits > 0 ? 'J.' : ''),
    surnameBits: new Map(figures.map(({ bits }) => [bits.surname, bits.surname])),
    corps: undefined,
    place: undefined,
  };
  const candidates = figures.flatMap((figure) => candidateInputs(knownOf(figure), sought, ASSUMED));
  const { ranked, unrecorded: nobody } = sharesOf({ mark: markDays(marking.density), candidates, unrecorded }, ASSUMED);
  const shares = new Map<string | undefined, number>(ranked.map(({ person, share }) => [person, share]));
  shares.set(undefined, nobody.share);
  const fitting = ranked.filter(
    ({ input, bits }) =>
      bits.surname === 0 &&
      bits.forenames === 0 &&
      input.posts.some(
        ({ tenure }) =>
          tenure !== undefined &&
          tenure.possible.from < marking.window.until &&
          marking.window.from < tenure.possible.until,
      ),
  );
  const each = 1 / (fitting.length + 1);
  const plain = new Map<string | undefined, number>(fitting.map(({ person }) => [person, each]));
  plain.set(undefined, each);
  return { shares, plain, owner };
}

function knownOf({ person, bits, evidence }: Figure): Known {
  const name = { id: person, surnameId: bits.surname, surname: 'Ferrand', inUse: ALL_TIME, recorded: true };
  return {
    person,
    names: [{ ...name, forenames: bits.forenames === 0 ? 'John' : 'Peter' }],
    places: [],
    career: solveCareer(evidence, ASSUMED),
    mainSteps: evidence.mainSteps,
  };
}

export const BANDS = [
  [0.3, 0.6],
  [0.6, 0.8],
  [0.8, 0.95],
  [0.95, 1],
] as const;

export type Band = { readonly from: number; readonly marks: number; readonly said: number; readonly right: number };

/** In each band of the best named holder's share: what was said in the mean, and how often it was so. */
export const inBands = (verdicts: readonly Verdict[]): Band[] =>
  BANDS.map(([from, until]) => {
    const best = verdicts.flatMap(({ shares, owner }) => {
      const [person, share] = [...shares].filter(([who]) => who !== undefined)[0] ?? [undefined, 0];
      return share >= from && (share < until || until === 1) ? [{ share, right: person === owner ? 1 : 0 }] : [];
    });
    const mean = (of: (one: (typeof best)[number]) => number): number =>
      best.reduce((sum, one) => sum + of(one), 0) / Math.max(1, best.length);
    return { from, marks: best.length, said: mean(({ share }) => share), right: mean(({ right }) => right) };
  });

/** Nobody is given less than this: a rule that leaves somebody out altogether would lose without end. */
const LEAST = 1e-4;

export type Losses = { readonly log: number; readonly brier: number };

/** Mean logarithmic loss of the true holder's share, and Brier score over all holders. */
export function losses(verdicts: readonly Verdict[], by: 'shares' | 'plain'): Losses {
  let log = 0;
  let brier = 0;
  for (const verdict of verdicts) {
    const said = verdict[by];
    log -= Math.log(Math.max(LEAST, said.get(verdict.owner) ?? 0));
    brier += said.has(verdict.owner) ? 0 : 1;
    for (const [who, share] of said) brier += (share - (who === verdict.owner ? 1 : 0)) ** 2;
  }
  return { log: log / verdicts.length, brier: brier / verdicts.length };
}
