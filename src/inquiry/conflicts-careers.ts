import type { Assumptions } from '../assumptions.ts';
import type { CareerEvidence } from '../careers/evidence.ts';
import { type ExplainedConflict, explainConflicts, type WeighedClaim } from '../careers/explained-conflicts.ts';
import { type ListedTwice, listedTwice } from '../careers/listed-twice.ts';
import { settleCareer } from '../careers/solve.ts';
import { linesOfAnother, type PostLines } from '../careers/two-of-one-name.ts';
import type { Concern, ConflictFound, SaidClaim } from './conflicts-found.ts';
import { whyCheapest } from './conflicts-found.ts';

/** What is known of a record beside its claims. */
export type RecordAbout = {
  readonly key: string | null;
  readonly source: string | null;
  readonly edition?: string | undefined;
};

/** Why a record was set aside by the researcher; undefined for one that they did not. */
export type WhySetAside = (id: string) => string | undefined;

/** The conflicts of one career, and those that the researcher has decided by setting a record aside. */
export type CareerConflicts = {
  readonly open: readonly ConflictFound[];
  readonly openBeyond: number;
  readonly decided: readonly ConflictFound[];
  /** Claims that the arithmetic sets aside, as `id part`. */
  readonly aside: ReadonlySet<string>;
  /** Where there are open conflicts: editions that name the person in two posts. */
  readonly twice: readonly TwiceListed[];
  readonly otherOfTheName: OtherOfTheName | undefined;
};

/** A person whom an edition names in two posts: perhaps two people of one name. */
export type TwiceListed = { readonly of: Concern } & ListedTwice;

/** The lines that would be the other's, were it so. */
export type OtherOfTheName = { readonly of: Concern; readonly posts: readonly PostLines[] };

const NONE: CareerConflicts = {
  open: [],
  openBeyond: 0,
  decided: [],
  aside: new Set(),
  twice: [],
  otherOfTheName: undefined,
};

export function careerConflicts(
  evidence: CareerEvidence,
  concern: () => Concern,
  whySetAside: WhySetAside,
  assumptions: Assumptions,
  most: number,
): CareerConflicts {
  const solved = settleCareer(evidence, assumptions);
  const found = explainConflicts(solved, most);
  const whyOf = evidence.setAside.size === 0 ? whySetAside : withEditions(evidence, whySetAside);
  const decides = evidence.setAside.size > 0 && idsOf(evidence).some((id) => whyOf(id) !== undefined);
  if (found.conflicts.length === 0 && !decides) return NONE;
  const about = recordsAbout(evidence);
  const say = sayerFor(about);
  const listedIn = new Set(evidence.entries.map(({ edition }) => edition.id));
  const missed = new Set(evidence.nilSearches.flatMap(({ id, edition }) => (listedIn.has(edition.id) ? [id] : [])));
  // Many conflicts share a way out, and it can be long.
  const ways = new Map<readonly WeighedClaim[], readonly SaidClaim[]>();
  const waySaid = (way: readonly WeighedClaim[]): readonly SaidClaim[] => {
    const known = ways.get(way) ?? way.map(say);
    ways.set(way, known);
    return known;
  };
  const open = found.conflicts.map((conflict) => conflictInAnswer(conflict, concern(), say, waySaid, missed));
  const aside = new Set(found.conflicts.flatMap(({ setAside }) => setAside.map(({ id, part }) => `${id} ${part}`)));
  const twice = open.length === 0 ? [] : listedTwice(evidence).map((each) => ({ of: concern(), ...each }));
  const posts = twice.length < 2 ? [] : linesOfAnother(evidence);
  return {
    open,
    openBeyond: found.beyond,
    decided: decides ? decidedConflicts(evidence, concern(), whyOf, say, assumptions, most) : [],
    aside,
    twice,
    otherOfTheName: posts.length === 0 ? undefined : { of: concern(), posts },
  };
}

/** What stands in an edition that was set aside is set aside with it. */
function withEditions({ entries, nilSearches }: CareerEvidence, whySetAside: WhySetAside): WhySetAside {
  const editionOf = new Map([...entries, ...nilSearches].map(({ id, edition }) => [id, edition.id]));
  return (id) => whySetAside(id) ?? whySetAside(editionOf.get(id) ?? '');
}

/** What would contradict each other, were the records that the researcher set aside still counted. */
function decidedConflicts(
  evidence: CareerEvidence,
  concern: Concern,
  whySetAside: WhySetAside,
  say: (claim: WeighedClaim) => SaidClaim,
  assumptions: Assumptions,
  most: number,
): ConflictFound[] {
  const all = settleCareer({ ...evidence, setAside: new Set() }, assumptions);
  return explainConflicts(all, most).conflicts.flatMap((conflict) => {
    const { members, omission } = conflict;
    const aside = members.filter(({ id }) => whySetAside(id) !== undefined);
    if (aside.length === 0) return [];
    return [
      {
        kind: 'career' as const,
        concerns: [concern],
        members: members.map(say),
        setAside: aside.map((claim) => ({
          ...say(claim),
          by: 'researcher' as const,
          why: whySetAside(claim.id) ?? '',
        })),
        frees: 1,
        otherWayOut: [],
        omission: omission ?? null,
      },
    ];
  });
}

function conflictInAnswer(
  conflict: ExplainedConflict,
  concern: Concern,
  say: (claim: WeighedClaim) => SaidClaim,
  waySaid: (way: readonly WeighedClaim[]) => readonly SaidClaim[],
  missed: ReadonlySet<string>,
): ConflictFound {
  const { members, setAside, frees, otherWayOut, omission } = conflict;
  const isMissed = setAside.some(({ id }) => missed.has(id));
  const why = omission === undefined ? whyCheapest(conflict) : WHY_OMITTED[isMissed ? 'missed' : omission];
  return {
    kind: 'career',
    concerns: [concern],
    members: members.map(say),
    setAside: setAside.map((claim) => ({ ...say(claim), by: 'computed', why })),
    frees,
    otherWayOut: otherWayOut === undefined ? [] : waySaid(otherWayOut),
    omission: omission ?? null,
  };
}

const WHY_OMITTED = {
  missed: 'No gap of the service as recorded can hold it.',
  printer: 'No gap of the service as recorded can hold it, so the printer left the name out.',
  'likely break':
    'No gap of the service as recorded can hold it, but three or more in a row are likely a break of service. If it was one, record how the post was left.',
} as const;

const idsOf = ({ entries, notices, nilSearches, conditions, born, died }: CareerEvidence): string[] => [
  ...[...entries, ...notices, ...nilSearches, ...conditions].map(({ id }) => id),
  ...[born, died].flatMap((life) => (life === undefined ? [] : [life.id])),
];

/** Keys and lists of all records of a career. */
export function recordsAbout(evidence: CareerEvidence): ReadonlyMap<string, RecordAbout> {
  const about = new Map<string, RecordAbout>();
  for (const { id, key, edition } of [...evidence.entries, ...evidence.nilSearches])
    about.set(id, { key: key ?? null, source: edition.series ?? null, edition: edition.label });
  for (const { id, key } of [...evidence.notices, ...evidence.conditions])
    about.set(id, { key: key ?? null, source: null });
  for (const life of [evidence.born, evidence.died])
    if (life !== undefined) about.set(life.id, { key: life.key ?? null, source: null });
  return about;
}

export const sayerFor =
  (about: ReadonlyMap<string, RecordAbout>) =>
  ({ id, claim, part }: { readonly id: string; readonly claim: string; readonly part: string }): SaidClaim => ({
    id,
    key: about.get(id)?.key ?? null,
    claim,
    part,
    source: about.get(id)?.source ?? null,
    edition: about.get(id)?.edition,
  });
