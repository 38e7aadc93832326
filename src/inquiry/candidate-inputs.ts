import type { Assumptions } from '../assumptions.ts';
import { corpsBits, placeBits, rankBits, type Standing } from '../attribution/agreement.ts';
import type { CandidateInput, NameForm, Post } from '../attribution/candidate.ts';
import { courtesyTenure, impliedBelow, lifeTenure } from '../careers/candidate-tenures.ts';
import type { Career, Tenure } from '../careers/career.ts';
import type { CareerEvidence } from '../careers/evidence.ts';
import { memberships } from '../careers/membership.ts';
import type { BorneName } from '../ledger/people.ts';
import { type Forename, forenameBits, readForenames } from '../names/forenames.ts';
import { isKeptAsCourtesy } from '../services/ladder.ts';
import { placeKey } from '../services/place.ts';
import type { Rank } from '../services/rank.ts';
import type { Lasting } from '../time/allen.ts';
import { tenureId } from './tenures.ts';

/** What a mark says of its maker, in the form in which people are compared with it. */
export type Sought = {
  /** Every rank that the style on the mark can stand for, of every service; empty: none on the mark. */
  readonly ranks: readonly Rank[];
  readonly forenames: readonly Forename[];
  /** Bits of each surname of the ledger within the limit; undefined: the mark gives no surname. */
  readonly surnameBits: ReadonlyMap<number, number> | undefined;
  /** The keys of every corps that the words can name. */
  readonly corps: readonly string[] | undefined;
  readonly place: string | undefined;
  /** Each of several readings of the mark, in their order. What stands above is then what any of them asks. */
  readonly readings?: readonly SoughtReading[];
};

/** What one of several readings says, and how likely it is the right one; all their shares add up to 1. */
export type SoughtReading = { readonly reading: string; readonly share: number; readonly sought: Sought };

/** One person, whose records may be several, with what follows from them. */
export type Known = {
  readonly person: string;
  readonly names: readonly BorneName[];
  readonly places: readonly string[];
  readonly career: Career;
  readonly mainSteps: CareerEvidence['mainSteps'];
};

/** The names within the limit of a reading, with their bits. */
export function agreeingForms(names: readonly BorneName[], sought: Sought, assumptions: Assumptions): NameForm[] {
  if (sought.readings !== undefined)
    return sought.readings.flatMap((one) => agreeingForms(names, one.sought, assumptions));
  return names.flatMap((name) => {
    const { surnameId, inUse } = name;
    const surnameBits = sought.surnameBits === undefined ? 0 : sought.surnameBits.get(surnameId);
    if (surnameBits === undefined) return [];
    return [{ surnameBits, forenameBits: forenameBits(sought.forenames, forenamesIn(name), assumptions), inUse }];
  });
}

/** Read once, however often the same name is compared. */
const readOnce = new WeakMap<BorneName, readonly Forename[]>();

function forenamesIn(name: BorneName): readonly Forename[] {
  const known = readOnce.get(name) ?? readForenames(name.forenames);
  readOnce.set(name, known);
  return known;
}

/**
 * A person as a candidate for each rank that the mark's style can stand for; none where they never bore it. Where the
 * mark has several readings, the stretches of each stand side by side, so that the weights of the candidate are the mean
 * of its weights under the readings.
 */
export function candidateInputs(known: Known, sought: Sought, assumptions: Assumptions): CandidateInput[] {
  if (sought.readings === undefined) return inputsOfOne(known, sought, assumptions);
  const merged = new Map<string, CandidateInput>();
  for (const { reading, share, sought: one } of sought.readings) {
    for (const input of inputsOfOne(known, one, assumptions)) {
      const { forms, placeBits: bits } = input;
      const posts = input.posts.map((post) => ({ ...post, readAs: { reading, share, forms, placeBits: bits } }));
      const key = input.rank ?? '';
      const before = merged.get(key);
      merged.set(
        key,
        before === undefined
          ? { ...input, posts }
          : {
              ...before,
              forms: [...before.forms, ...forms],
              placeBits: Math.min(before.placeBits, bits),
              posts: [...before.posts, ...posts],
            },
      );
    }
  }
  return [...merged.values()];
}

function inputsOfOne(known: Known, sought: Sought, assumptions: Assumptions): CandidateInput[] {
  const forms = agreeingForms(known.names, sought, assumptions);
  if (forms.length === 0) return [];
  const places = sought.place === undefined ? [] : known.places.map(placeKey);
  const base = { person: known.person, forms, placeBits: placeBits(sought.place, places, assumptions) };
  if (sought.ranks.length === 0) {
    const posts = lifePosts(known, sought, assumptions);
    return posts.length === 0 ? [] : [{ ...base, rank: undefined, posts }];
  }
  const services = new Set(known.career.tenures.map(({ rank }) => rank.service));
  return sought.ranks
    .filter(({ service }) => services.has(service))
    .flatMap((rank) => {
      const posts = rankPosts(known, rank, sought, assumptions);
      return posts.length === 0 ? [] : [{ ...base, rank: rank.id, posts }];
    });
}

const isSameRank = (a: Rank, b: Rank): boolean => a.service === b.service && a.id === b.id;

/** A step that is implied goes by the title of its grade, whatever the corps called it. */
const isSameGrade = (a: Rank, b: Rank): boolean =>
  a.service === b.service && (a.id === b.id || (a.order !== undefined && a.order === b.order));

/** A rank held beside the succession that the succession itself reached: it was not the last style. */
const isOvertaken = ({ rank, kind }: Tenure, { tenures }: Career): boolean =>
  kind !== 'substantive' &&
  tenures.some(
    (other) =>
      other.kind === 'substantive' &&
      !other.unsupported &&
      other.rank.service === rank.service &&
      !other.rank.concurrent &&
      (other.rank.order ?? -Infinity) >= (rank.order ?? Infinity),
  );

const standingOf = ({ implied, kind }: Tenure): Standing =>
  implied ? 'implied' : kind === 'brevet' ? 'brevet' : kind === 'retired' ? 'courtesy' : 'in-post';

function rankPosts({ person, career, mainSteps }: Known, rank: Rank, sought: Sought, assumptions: Assumptions): Post[] {
  const inPost = memberships(career, assumptions);
  const post = (tenure: Tenure, standing: Standing): Omit<Post, 'membership' | 'tenure'> => ({
    id: tenureId(person, tenure),
    standing,
    rankBits: rankBits(standing, assumptions),
    corpsBits: corpsBits(sought.corps, tenure.corps?.key, assumptions),
    provisional: tenure.provisional,
  });
  const posts: Post[] = [];
  for (const [index, tenure] of career.tenures.entries()) {
    const membership = inPost[index];
    // Where every claim of it is set aside, nothing says that they ever held it.
    if (!membership || !(tenure.implied ? isSameGrade : isSameRank)(tenure.rank, rank)) continue;
    if (tenure.unsupported) {
      if (isImpliedAnyway(career, index, mainSteps)) {
        const implied = { ...tenure, corps: undefined };
        posts.push({ ...post(implied, 'implied'), membership, tenure });
      }
      continue;
    }
    posts.push({
      ...post(tenure, standingOf(tenure)),
      membership,
      tenure: { ...tenure, lasting: lastingOf(career, index) },
    });
  }
  for (const { tenures } of career.chains) {
    const last = lastHeld(career, tenures);
    const membership = last && inPost[last.index];
    if (!last || !membership || last.implied || !isSameRank(last.rank, rank) || !isKeptAsCourtesy(last.rank)) continue;
    if (isOvertaken(last, career)) continue;
    const kept = courtesyTenure(career, last.index, membership, assumptions);
    if (kept)
      posts.push({
        ...post(last, 'courtesy'),
        id: undefined,
        membership: kept.membership,
        tenure: undefined,
        provisional: kept.provisional,
      });
  }
  for (const below of impliedBelow(career, mainSteps, assumptions)) {
    const above = career.tenures[below.tenures[0] ?? -1];
    if (!below.rank || !above || !isSameGrade(below.rank, rank)) continue;
    posts.push({
      id: `${tenureId(person, above)}-below`,
      standing: 'implied',
      rankBits: rankBits('implied', assumptions),
      corpsBits: corpsBits(sought.corps, undefined, assumptions),
      provisional: below.provisional,
      membership: below.membership,
      tenure: {
        start: { earliest: below.possible.from, latest: (above.start.latest - 1) as Tenure['start']['latest'] },
        end: { earliest: above.start.earliest, latest: above.start.latest },
        possible: below.possible,
        certain: below.certain,
      },
    });
  }
  return posts;
}

/** The last post of a succession for which anything speaks that is not set aside. */
export const lastHeld = ({ tenures }: Career, succession: readonly number[]): Tenure | undefined =>
  succession.flatMap((at) => tenures[at] ?? []).findLast(({ unsupported }) => !unsupported);

/**
 * Whether a post whose every claim is set aside follows from the others all the same: a main step between two of them, or
 * the one just below the first.
 */
function isImpliedAnyway({ chains, tenures }: Career, index: number, mainSteps: Known['mainSteps']): boolean {
  const chain = chains.find((one) => one.tenures.includes(index));
  const place = chain?.tenures.indexOf(index) ?? -1;
  const { rank, kind } = tenures[index] as Tenure;
  const isHeld = (at: number): boolean => tenures[at]?.unsupported === false;
  const above = chain?.tenures.slice(place + 1).find(isHeld);
  const first = above === undefined ? undefined : tenures[above];
  if (first === undefined || kind !== 'substantive') return false;
  const steps = mainSteps.get(rank.service)?.filter(({ order = Infinity }) => order < (first.rank.order ?? -Infinity));
  return chain?.tenures.slice(0, place).some(isHeld) === true
    ? steps?.some((step) => isSameGrade(step, rank)) === true
    : steps?.at(-1) !== undefined && isSameGrade(steps.at(-1) as Rank, rank);
}

/** How long conditions of service let a tenure last. */
function lastingOf({ chains }: Career, index: number): Lasting | undefined {
  for (const { tenures, leastDays, mostDays } of chains) {
    const place = tenures.indexOf(index);
    if (place >= 0) return { least: leastDays[place] ?? 1, most: mostDays[place] ?? Infinity };
  }
  return undefined;
}

/** For a mark without a rank: the adult life of the person, in whatever post or none. */
function lifePosts({ career }: Known, sought: Sought, assumptions: Assumptions): Post[] {
  const life = lifeTenure(career, assumptions);
  if (!life) return [];
  const keys = career.tenures.flatMap(({ corps }) => (corps === undefined ? [] : [corps.key]));
  const corps = keys.find((key) => corpsBits(sought.corps, key, assumptions) === 0) ?? keys[0];
  return [
    {
      id: undefined,
      standing: 'in-post',
      membership: life.membership,
      rankBits: 0,
      corpsBits: corpsBits(sought.corps, corps, assumptions),
      provisional: life.provisional,
      tenure: {
        start: {
          earliest: life.possible.from,
          latest: (life.certain?.from ?? life.possible.until - 1) as Tenure['start']['latest'],
        },
        end: {
          earliest: (life.certain?.until ?? life.possible.from + 1) as Tenure['end']['earliest'],
          latest: life.possible.until,
        },
        possible: life.possible,
        certain: life.certain,
      },
    },
  ];
}
