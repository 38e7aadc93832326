import { likelihood } from '../attribution/agreement.ts';
import type { CandidateInput, Post } from '../attribution/candidate.ts';
import { type Borne, type FewDays, type Listable, weightIfListed, weightOf } from '../attribution/lookup-estimate.ts';
import { chancePassed } from '../careers/boundaries.ts';
import { impliedBelow } from '../careers/candidate-tenures.ts';
import type { Membership } from '../careers/career.ts';
import type { ListedEntry } from '../careers/evidence.ts';
import { memberships, type PostMembership } from '../careers/membership.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import { foldName } from '../names/pattern.ts';
import type { Day, Span } from '../time/span.ts';
import { candidateInputs, lastHeld } from './candidate-inputs.ts';
import { type KnownPerson, knownIn, type Situation, withEvidence } from './lookup-situation.ts';
import type { MarkQuestion } from './mark-question.ts';
import { tenureId } from './tenures.ts';

export type Edition = ReturnType<EvidenceReader['edition']>;

/** A line in which a list can show somebody, with its chance before the mark is considered. */
type Line = {
  readonly words: string;
  readonly entry: Pick<ListedEntry, 'rank' | 'corps' | 'kind'>;
  readonly on: Membership;
  readonly listable: Listable;
};

/** One person with everything about them that does not depend on which edition is looked into. */
export type Sought = {
  readonly person: string;
  readonly known: KnownPerson;
  /** Days on which some list can or cannot show them: outside, every answer is certain beforehand. */
  readonly lines: readonly (Line & { readonly service: string })[];
  readonly borne: readonly Borne[];
  readonly weight: number;
  /** The greatest weight of anybody else who is named. */
  readonly rival: number;
  /** The mark names no rank, so that the whole adult life counts: not to stand in a list takes nothing from it. */
  readonly isLife: boolean;
};

/** Chances below it are no answer to be told. */
const LEAST_CHANCE = 1e-3;

export const midDay = ({ from, until }: Span): Day => Math.floor((from + until - 1) / 2) as Day;

/** What is known of a person, as far as looking them up in a list goes. */
export function soughtPerson(situation: Situation, person: string): Sought | undefined {
  const found = soughtIn.get(situation) ?? new Map<string, Sought>();
  soughtIn.set(situation, found);
  const sought = found.get(person) ?? makeSought(situation, person);
  if (sought !== undefined) found.set(person, sought);
  return sought;
}

/** Of each situation, the people who were asked about: one is looked up in many editions. */
const soughtIn = new WeakMap<Situation, Map<string, Sought>>();

function makeSought(situation: Situation, person: string): Sought | undefined {
  const { question, ranked } = situation;
  const known = knownIn(situation, person);
  if (known === undefined) return undefined;
  return {
    person,
    known,
    ...stretchesOf(known, question),
    weight: ranked.reduce((sum, each) => (each.person === person ? sum + each.weight : sum), 0),
    rival: ranked.find((each) => each.person !== person)?.weight ?? 0,
    isLife: question.sought.ranks.length === 0,
  };
}

/** Of each person as they are known: the same whatever is found of others. */
const stretchesKnown = new WeakMap<KnownPerson, { question: MarkQuestion; found: Pick<Sought, 'lines' | 'borne'> }>();

function stretchesOf(known: KnownPerson, question: MarkQuestion): Pick<Sought, 'lines' | 'borne'> {
  const before = stretchesKnown.get(known);
  if (before?.question === question) return before.found;
  const { assumptions, sought } = question;
  const inPost = memberships(known.career, assumptions);
  const inputs = candidateInputs(known, sought, assumptions);
  const found = {
    lines: linesOf(known, question, inPost),
    borne: inputs.flatMap((input) => borneOf(input, known, inPost)),
  };
  stretchesKnown.set(known, { question, found });
  return found;
}

const alwaysAlike = { succession: 0, place: 0 };

function linesOf(known: KnownPerson, { assumptions, sought }: MarkQuestion, inPost: readonly PostMembership[]) {
  const lines: Sought['lines'][number][] = [];
  const { career } = known;
  for (const [succession, { tenures }] of career.chains.entries()) {
    for (const [place, index] of tenures.entries()) {
      const [tenure, membership] = [career.tenures[index], inPost[index]];
      if (tenure === undefined || membership === undefined || tenure.unsupported) continue;
      if (tenure.kind !== 'substantive' || tenure.rank.concurrent) continue;
      const { rank, corps, kind } = tenure;
      const stretch = stretchOf(membership);
      const listable = {
        ...stretch,
        ...(sought.ranks.length === 0 ? alwaysAlike : { succession, place }),
      };
      const words = `listed as ${rank.title}${corps === undefined ? '' : `, ${corps.name}`}`;
      lines.push({
        words,
        entry: { rank, corps, kind },
        on: membership,
        listable,
        service: rank.service,
      });
    }
  }
  for (const { rank, tenures, membership } of impliedBelow(career, known.mainSteps, assumptions)) {
    const succession = career.chains.findIndex((chain) => chain.tenures[0] === tenures[0]);
    const first = inPost[tenures[0] ?? -1];
    if (rank === undefined || first === undefined) continue;
    const listable = {
      ...belowOf(membership, first),
      ...(sought.ranks.length === 0 ? alwaysAlike : { succession, place: -1 }),
    };
    const entry = { rank, corps: undefined, kind: 'substantive' as const };
    lines.push({
      words: `listed as ${rank.title}`,
      entry,
      on: membership,
      listable,
      service: rank.service,
    });
  }
  return lines;
}

const stretchOf = (membership: PostMembership) => ({
  begun: (day: number) => chancePassed(membership.boundaries().start, day),
  ended: (day: number) => chancePassed(membership.boundaries().end, day),
});

/** The step below the first post: it ended when that began. */
const belowOf = (membership: Membership, above: PostMembership) => {
  const { begun: ended } = stretchOf(above);
  const begun = (day: number): number =>
    Math.min(1, membership.at(Math.floor(day) as Day) / Math.max(1e-9, 1 - ended(day)));
  return { begun, ended };
};

/** The stretches in which a candidate bore the rank of the mark, in the order of their successions. */
function borneOf(input: CandidateInput, known: KnownPerson, inPost: readonly PostMembership[]): Borne[] {
  const { career } = known;
  const placeOf = new Map(
    career.chains.flatMap(({ tenures }, succession) =>
      tenures.map((index, place) => [tenureId(known.person, { index }), { succession, place, index }] as const),
    ),
  );
  return input.posts.flatMap((post): Borne[] => {
    const read = post.readAs === undefined ? 1 : post.readAs.share * likelihood(bitsBeside(post.readAs));
    const factors = {
      factor: read * likelihood(post.rankBits + post.corpsBits),
      factorIfSeen: read * likelihood((post.standing === 'implied' ? 0 : post.rankBits) + post.corpsBits),
    };
    const at = placeOf.get((post.id ?? '').replace(/-below$/, ''));
    if (input.rank === undefined) return [{ ...lifeOf(post), ...alwaysAlike, ...factors }];
    if (post.standing === 'courtesy') return courtesyOf(post, input.rank, known, inPost, factors);
    const own = inPost[at?.index ?? -1];
    if (at === undefined || own === undefined) return [];
    if (post.id?.endsWith('-below'))
      return [
        {
          ...belowOf(post.membership, own),
          succession: at.succession,
          place: -1,
          ...factors,
        },
      ];
    return [{ ...stretchOf(own), succession: at.succession, place: at.place, ...factors }];
  });
}

/** Bits of name and place under one of several readings; where there is one, they are the same for every stretch. */
const bitsBeside = ({ forms, placeBits }: NonNullable<Post['readAs']>): number =>
  placeBits + Math.min(...forms.map(({ surnameBits, forenameBits }) => surnameBits + forenameBits));

const chanceOn = (membership: Membership, day: number): number => membership.at(Math.floor(day) as Day);

/** An adult life, begun by the first day known and ended after the last. */
const lifeOf = ({ membership, tenure }: Post) => ({
  begun: (day: number) => (day < (tenure?.start.latest ?? Infinity) ? chanceOn(membership, day) : 1),
  ended: (day: number) => (day >= (tenure?.end.earliest ?? -Infinity) ? 1 - chanceOn(membership, day) : 0),
});

/** A style kept after the last post of a succession. */
function courtesyOf(
  { membership }: Post,
  rank: string,
  { career }: KnownPerson,
  inPost: readonly PostMembership[],
  factors: Pick<Borne, 'factor' | 'factorIfSeen'>,
): Borne[] {
  const succession = career.chains.findIndex(({ tenures }) => lastHeld(career, tenures)?.rank.id === rank);
  const chain = career.chains[succession];
  const last = chain && inPost[lastHeld(career, chain.tenures)?.index ?? -1];
  if (chain === undefined || last === undefined) return [];
  const { ended: begun } = stretchOf(last);
  const ended = (day: number): number => 1 - Math.min(1, chanceOn(membership, day) / Math.max(1e-9, begun(day)));
  return [{ begun, ended, succession, place: chain.tenures.length, ...factors }];
}

/** Whether a list has been looked into for a person: an entry of them, a nil search, or a sweep of their name there. */
export function isDone({ known }: Sought, edition: Edition, swept: ReadonlySet<string>): boolean {
  const { entries, nilSearches } = known.evidence;
  if (entries.some((entry) => entry.edition.id === edition.id)) return true;
  if (nilSearches.some((search) => search.edition.id === edition.id)) return true;
  return swept.size > 0 && known.names.some(({ surname }) => swept.has(foldName(surname)));
}

const linesIn = ({ lines }: Sought, edition: Edition) => {
  const on = midDay(edition.asAt.span);
  return lines
    .filter(({ service }) => service === edition.service)
    .map((line) => ({ ...line, prior: line.on.at(on) }))
    .filter(({ prior }) => prior >= LEAST_CHANCE);
};

/** What a person weighs on a few days of the mark, in the same measure as the estimates. */
export const weightOnFewDays = ({ borne }: Sought, few: FewDays): number => weightOf(borne, few);

/**
 * About how much looking somebody up in an edition is worth: which answer would put another name first, without solving
 * anything anew. 0 where the answer is certain beforehand.
 */
export function estimatedGain(
  sought: Sought,
  edition: Edition,
  { total }: Situation,
  { few, now }: { readonly few: FewDays; readonly now: number },
): number {
  const { weight, rival, borne, isLife } = sought;
  const open = linesIn(sought, edition);
  const listed = open.reduce((sum, { prior }) => sum + prior, 0);
  if (open.length === 0 || open.some(({ prior }) => prior > 1 - LEAST_CHANCE)) return 0;
  if (!(now > 0)) return 0;
  const on = midDay(edition.asAt.span);
  const notListed = Math.max(0, 1 - listed);
  let listedWeight = 0;
  let expected = 0;
  for (const { listable, prior } of open) {
    const then = (weight * weightIfListed(borne, listable, on, few)) / now;
    listedWeight += prior * then;
    expected += prior * Math.max(then, rival);
  }
  const left = isLife ? notListed * weight : Math.max(0, weight - listedWeight);
  expected += Math.max(left, notListed * rival);
  // Whatever the answer, a post weighs on the whole what it did; a life that a list shows to be longer weighs more.
  const added = isLife ? Math.max(0, listedWeight + left - weight) : 0;
  return expected / (total + added) - Math.max(weight, rival) / total;
}

/** One answer that a list can give on somebody, its chance beforehand, and what would then stand. */
export type PersonAnswer = {
  readonly answer: string;
  readonly prior: number;
  readonly after: () => Situation;
};

/** Everything that can come of looking somebody up in an edition, each answer put in as evidence and solved again. */
export function personAnswers(sought: Sought, edition: Edition, situation: Situation): PersonAnswer[] {
  const open = linesIn(sought, edition);
  const listed = open.reduce((sum, { prior }) => sum + prior, 0);
  const scale = Math.max(1, listed);
  const answers = open.map(({ words, entry, prior }): PersonAnswer => {
    const line: ListedEntry = {
      id: HYPOTHETICAL,
      edition,
      ...entry,
      dated: undefined,
      page: undefined,
    };
    return {
      answer: words,
      prior: prior / scale,
      after: () => withEvidence(situation, sought.known, { entries: [line] }),
    };
  });
  const nil = { id: HYPOTHETICAL, edition, service: edition.service };
  const notListed: PersonAnswer = {
    answer: 'not listed',
    prior: 1 - listed / scale,
    after: () => withEvidence(situation, sought.known, { nilSearches: [nil] }),
  };
  return [...answers, notListed].filter(({ prior }) => prior >= LEAST_CHANCE);
}

/** Stands for a record that there is not yet. */
export const HYPOTHETICAL = 'e0';
