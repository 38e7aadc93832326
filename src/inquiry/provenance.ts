import type { Link } from '../attribution/chain-links.ts';
import type { ChainMark } from '../attribution/chain-marks.ts';
import { type Chains, chainsOf } from '../attribution/chains.ts';
import type { JointMarks } from '../attribution/joint-making.ts';
import { gradeOf, wordingOf } from '../attribution/wording.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, personName } from '../ledger/people.ts';
import { type CandidatesAnswer, candidatesForMark } from './candidates.ts';
import { spanInAnswer } from './days.ts';
import { type Days, jointMakingFigures, type MadeAnswer, type MakingAnswer, objectInAnswer } from './made.ts';
import { successionCautions } from './object-cautions.ts';
import { type ObjectMark, type ObjectMarks, objectMarks, objectNamed, standsFor } from './object-marks.ts';
import { type Gap, type Holding, provenanceText } from './provenance-text.ts';
import { recordInWords } from './record-words.ts';
import { type FirstCandidate, holderStanding } from './succession-standing.ts';

export type HolderAnswer = Days & {
  /** Null: somebody unrecorded. */
  readonly person: PersonName | null;
  readonly mark: string;
  /** What joins the holder to the one before; null for the first. */
  readonly link: Link | null;
  /** The recorded kinships between the two, nearest first; empty where the link is none of kin. */
  readonly kinships: readonly string[];
  /** Nobody recorded fits the mark: that its holder is unrecorded is then no finding. */
  readonly nobodyFits: boolean;
};

/** Days on which nobody is known to have held the object, between one mark and the next. */
export type GapAnswer = {
  readonly after: string;
  readonly before: string;
  readonly from: string | null;
  readonly to: string | null;
  readonly days: number;
};

export type ChainAnswer = {
  readonly share: number;
  readonly holders: readonly HolderAnswer[];
  readonly gaps: readonly GapAnswer[];
};

/** Successions told unless more are asked for. The more are sought, the less is summed up instead of weighed. */
export const USUAL_CHAINS = 5;
export const MOST_CHAINS = 1000;

/** A share below it is no conclusion of which to ask whether it stands. */
const LEAST_TRIED = 0.3;

export type UncertainRole = {
  readonly mark: string;
  /** Share of all successions in which the mark names no holder. */
  readonly noHolder: number;
  /** What would be said if the mark had each of its roles for certain, the likeliest role first. */
  readonly roles: readonly {
    readonly role: string;
    readonly weight: number;
    readonly made: string;
    /** The likeliest succession: who put on this mark, null where nobody is named, and its share. */
    readonly holder: PersonName | null;
    readonly chainShare: number | null;
    /** Shares over all successions, the greatest first. */
    readonly holders: readonly { readonly person: PersonName | null; readonly share: number }[];
  }[];
};

export type ProvenanceAnswer = {
  readonly object: MadeAnswer['object'];
  readonly made: Omit<MakingAnswer, 'years'>;
  readonly chains: readonly ChainAnswer[];
  readonly holders: readonly {
    readonly person: PersonName | null;
    readonly share: number;
    readonly provisional: boolean;
    /**
     * The share would stand without any one record. Tried for the likeliest named holder and for those of the likeliest
     * succession whose share is no smaller than `LEAST_TRIED`; null for others.
     */
    readonly robust: boolean | null;
    /** Records whose omission halves the share or worse, the most needed first. */
    readonly hangsOn: readonly string[];
    /** How firmly it may be put; null for somebody unrecorded. */
    readonly wording: string | null;
  }[];
  /** Of each mark whose role is uncertain, how much hangs on it. */
  readonly uncertainRoles: readonly UncertainRole[];
  /**
   * Candidates too unlikely to be taken one by one; `share`: of the successions that have one of them as a stranger to
   * everybody; `atMost`: the same if every one who may be joined to others were so on both sides, as closely as anybody
   * can be, so that no true share is above it. `summedTogether`: share of the successions that were weighed not one by one
   * but in one sum, which is near but not exact; `sharesWithin`: by that no share is out by more, 999 times of 1,000, as
   * far as a sample of these successions tells, each weighed by itself. Both are 0 where all is exact.
   */
  readonly leftOut: {
    readonly candidates: number;
    readonly share: number;
    readonly atMost: number;
    readonly summedTogether: number;
    readonly sharesWithin: number;
  };
  /** No succession that is not given is likelier than those that are. */
  readonly proved: boolean;
  readonly text: string;
  readonly cautions: readonly string[];
};

/** An object with its marks; who can have put on each, the first of them tried without each record. */
export type KnownMarks = {
  readonly given: ObjectMarks;
  readonly candidates: (mark: string) => Pick<CandidatesAnswer, 'candidates'>;
};

/**
 * Which successions of holders explain all marks of an object together.
 * @param known the object with its marks and what to ask of each, where that has been worked out already.
 */
export function provenanceOf(db: Db, words: string, wanted: number, known?: KnownMarks): ProvenanceAnswer {
  const assumptions = assumptionsOf(db);
  const given = known?.given ?? objectMarks(db, objectNamed(db, words), assumptions);
  const candidates =
    known?.candidates ?? ((mark: string) => candidatesForMark(db, mark, { tried: 1, wanted: 1 }, given));
  const { isKin, surnamesOf } = given;
  const isTold = (person: string): boolean => standsFor(person) === undefined;
  const chainsFor = (marks: readonly ChainMark[], many: number, joint?: JointMarks): Chains =>
    chainsOf(
      { making: given.dated.making.density, marks, isKin, surnamesOf, isTold, standsFor },
      assumptions,
      many,
      joint,
    );
  const found = chainsFor(
    given.marks.map(({ chain }) => chain),
    wanted,
    given.joint,
  );
  const made = jointMakingFigures(found.making, given);
  const named = namesOnce(db);
  const { chains } = found;
  const best = chains[0];
  const unfit = new Set(given.marks.filter(nobodyFits).map(({ chain }) => chain.id));
  const firstOf = (mark: string): FirstCandidate | undefined => {
    const [first] = candidates(mark).candidates;
    return first && { person: first.person.id, hangsOn: first.hangsOn };
  };
  const leader = found.holders.find(({ person }) => person !== undefined && !isOthers(person))?.person;
  const tried = new Set([leader, ...(best?.holdings ?? []).map(({ person }) => person)]);
  const holders = found.holders
    .filter(({ person }) => !isOthers(person))
    .map(({ person, share }) => {
      if (person === undefined)
        return { person: null, share, provisional: false, robust: null, hangsOn: [], wording: null };
      const provisional = given.provisional.has(person);
      const isTried = person === leader || (tried.has(person) && share >= LEAST_TRIED);
      const standing = isTried ? holderStanding(db, given, found, { person, share }, firstOf, assumptions) : undefined;
      const hangsOn = standing?.hangsOn ?? [];
      const words = hangsOn.map((id) => recordInWords(db, id));
      const wording = wordingOf(gradeOf(share, provisional, assumptions), words);
      return { person: named(person), share, provisional, robust: standing?.robust ?? null, hangsOn, wording };
    });
  const wordingOfHolder = (person: string): string => holders.find((each) => each.person?.id === person)?.wording ?? '';
  const leftOut = {
    candidates: given.marks.reduce((sum, mark) => sum + mark.leftOut, 0),
    ...found.leftOut,
    summedTogether: found.notLookedAt,
    sharesWithin: found.within,
  };
  return {
    object: objectInAnswer(given.object),
    made,
    chains: chains.map((chain) => chainInAnswer(chain, given, named)),
    holders,
    uncertainRoles: uncertainRolesOf(given, found, (marks) => chainsFor(marks, 1), named),
    leftOut,
    proved: found.proved,
    text: provenanceText(given, made.phrase, {
      holdings: best?.holdings ?? [],
      gaps: gapsIn(best?.holdings ?? []),
      nameOf: (person) => named(person).name,
      wordingOf: wordingOfHolder,
    }),
    cautions: successionCautions(given, {
      contradicted: found.makingContradicted,
      overlyingContradicted: found.overlyingContradicted,
      unrecordedLeads: best?.holdings.some(({ person, mark }) => person === undefined && !unfit.has(mark)) ?? false,
      nobodyFits: unfit.size > 0,
      hangs: holders.some(({ hangsOn }) => hangsOn.length > 0),
      gaps: gapsIn(best?.holdings ?? []).length > 0,
      provisional: best?.holdings.some(({ person }) => person !== undefined && given.provisional.has(person)) ?? false,
      proved: found.proved,
      leftOut: leftOut.candidates > 0,
    }),
  };
}

/** Each uncertain role by itself: the other marks as they are, their own roles uncertain or not. */
function uncertainRolesOf(
  given: ObjectMarks,
  found: Chains,
  chainsFor: (marks: readonly ChainMark[]) => Chains,
  named: (person: string) => PersonName,
): UncertainRole[] {
  return given.marks
    .filter(({ byRole }) => byRole.length > 0)
    .map(({ chain: { id }, byRole }) => ({
      mark: id,
      noHolder: found.noHolder.find(({ mark }) => mark === id)?.share ?? 0,
      roles: byRole.map(({ role, weight, chain }) => {
        const if_ = chainsFor(given.marks.map((other) => (other.chain.id === id ? chain : other.chain)));
        const [best] = if_.chains;
        const holding = best?.holdings.find(({ mark }) => mark === id);
        return {
          role,
          weight,
          made: jointMakingFigures(if_.making, given).phrase,
          holder: holding?.person === undefined ? null : named(holding.person),
          chainShare: best?.share ?? null,
          holders: if_.holders
            .filter(({ person }) => !isOthers(person))
            .map(({ person, share }) => ({ person: person === undefined ? null : named(person), share })),
        };
      }),
    }));
}

/** Candidates who stand for one holder together. */
const isOthers = (person: string | undefined): boolean => person !== undefined && standsFor(person) !== undefined;

const nobodyFits = ({ weighed, fitting }: ObjectMark): boolean => weighed !== undefined && fitting === 0;

function namesOnce(db: Db): (person: string) => PersonName {
  const known = new Map<string, PersonName>();
  return (person) => {
    const name = known.get(person) ?? personName(db, Number(person.slice(1)));
    known.set(person, name);
    return name;
  };
}

type FoundChain = Chains['chains'][number];

function chainInAnswer(
  { share, holdings }: FoundChain,
  given: ObjectMarks,
  named: (person: string) => PersonName,
): ChainAnswer {
  const holders = holdings.map(({ person, mark, span, link }, place): HolderAnswer => {
    const before = holdings[place - 1]?.person;
    return {
      person: person === undefined ? null : named(person),
      mark,
      ...spanInAnswer(span),
      link: link ?? null,
      kinships: link === 'kin' && before && person ? (given.kinPath(before, person) ?? []) : [],
      nobodyFits: given.marks.some((each) => each.chain.id === mark && nobodyFits(each)),
    };
  });
  const gaps = gapsIn(holdings).map(({ after, before, span }) => ({
    after,
    before,
    ...spanInAnswer(span),
    days: span.until - span.from,
  }));
  return { share, holders, gaps };
}

/** Less is within what the ends of two reckoned spans can be out by; judgement. */
const LEAST_GAP_DAYS = 365;

/**
 * Gaps of a year or more between one holding and the next, where all days of one lie before all days of the other. One
 * person who put on both held the object in between. Days on which two can have held it are no gap, whoever it was.
 */
function gapsIn(holdings: readonly Holding[]): Gap[] {
  return holdings.flatMap((holding, place) => {
    const before = holdings[place - 1];
    if (before === undefined || holding.link === 'same') return [];
    const span = { from: before.span.until, until: holding.span.from };
    return span.until - span.from >= LEAST_GAP_DAYS ? [{ after: before.mark, before: holding.mark, span }] : [];
  });
}
