import type { Assumptions } from '../assumptions.ts';
import { BOUNDS, type BoundName, type BoundReason, boundReasons } from '../careers/bound-reasons.ts';
import type { Career, Claim, Tenure } from '../careers/career.ts';
import type { CareerEvidence } from '../careers/evidence.ts';
import { explainConflicts } from '../careers/explained-conflicts.ts';
import { type SettledCareer, settleCareer, solveCareer } from '../careers/solve.ts';
import { HeldbyError } from '../errors.ts';
import { setAsideOf } from '../ledger/conflict-lookups.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import type { Db } from '../ledger/open.ts';
import { personName, samePeople } from '../ledger/people.ts';
import { dayInAnswer, spanInAnswer } from './days.ts';
import { dayInWords, type Ground, type GroundsReader, ground, note, spanInWords } from './grounds-tree.ts';
import { tenureId } from './tenures.ts';

/** One person solved, with all that is needed to say why. */
export type SolvedPerson = {
  readonly person: string;
  readonly name: string;
  readonly evidence: CareerEvidence;
  readonly career: Career;
  readonly settled: SettledCareer;
};

/** What a figure is and what it rests on. */
export type Reckoned = { readonly value: unknown; readonly says: string; readonly grounds: readonly Ground[] };

export function solvedPerson(db: Db, read: EvidenceReader, person: number, assumptions: Assumptions): SolvedPerson {
  const people = samePeople(db)(person);
  const evidence = read.careerOf(people);
  const first = people[0] ?? person;
  return {
    person: `p${first}`,
    name: personName(db, first).name,
    evidence,
    career: solveCareer(evidence, assumptions),
    settled: settleCareer(evidence, assumptions),
  };
}

/** The tenure at a place, from 1. @throws HeldbyError REFERENCE */
export function tenureAt({ person, name, career }: SolvedPerson, place: number): Tenure {
  const tenure = career.tenures[place - 1];
  if (tenure === undefined)
    throw new HeldbyError(
      'REFERENCE',
      `${name} has no tenure ${person}.${place}; there ${career.tenures.length === 1 ? 'is 1' : `are ${career.tenures.length}`}.`,
      `See them: heldby tenures ${person}`,
    );
  return tenure;
}

export const postInWords = ({ rank, corps, kind }: Pick<Tenure, 'rank' | 'corps' | 'kind'>): string =>
  `${rank.title}${corps === undefined ? '' : `, ${corps.name}`}${kind === 'substantive' ? '' : ` (${kind})`}`;

const BOUND_WORDS: Readonly<Record<BoundName, string>> = {
  startEarliest: 'began at the earliest on',
  startLatest: 'began at the latest on',
  endEarliest: 'was held until', // the first day no longer in post, at the earliest
  endLatest: 'ended at the latest on',
};

const dayOf = ({ start, end }: Tenure, bound: BoundName): string | null => {
  const bounds = bound.startsWith('start') ? start : end;
  return dayInAnswer(bound.endsWith('Earliest') ? bounds.earliest : bounds.latest);
};

/** One of the four bounds of a tenure, with the chain of claims behind it. */
export function boundFigure(solved: SolvedPerson, tenure: Tenure, bound: BoundName, reader: GroundsReader): Reckoned {
  const value = dayOf(tenure, bound);
  const reasons = boundReasons(solved.settled, tenure.index, bound);
  const provisional = tenure.provisional ? provisionalGrounds(solved, reader) : [];
  if (value === null)
    return {
      value,
      says: `${postInWords(tenure)}: nothing recorded bounds ${bound.startsWith('start') ? 'its beginning' : 'its end'} on that side`,
      grounds: [...openGrounds(solved, reader), ...provisional],
    };
  return {
    value,
    says: boundInWords(tenure, bound, value),
    grounds: [...chain(solved, bound, reasons, reader), ...provisional],
  };
}

const boundInWords = (tenure: Tenure, bound: BoundName, day: string | null): string =>
  `${postInWords(tenure)} ${BOUND_WORDS[bound]} ${day === null ? 'an unknown day' : dayInWords(day)}${bound === 'endEarliest' ? ' at the least' : ''}`;

/** Each step of the chain under the one before it. */
function chain(
  solved: SolvedPerson,
  bound: BoundName,
  [first, ...rest]: readonly BoundReason[],
  reader: GroundsReader,
): Ground[] {
  if (first === undefined) return [];
  const isEarliest = bound.endsWith('Earliest');
  const [next] = rest;
  const further =
    next === undefined
      ? []
      : [
          ground(
            'figure',
            boundInWords(solved.career.tenures[next.slot] as Tenure, boundOf(next, isEarliest), dayInAnswer(next.day)),
            tenureId(solved.person, { index: next.slot }),
            chain(solved, bound, rest, reader),
            dayInAnswer(next.day),
          ),
        ];
  if ('claim' in first.by) {
    const { id, part, claim } = first.by.claim;
    const assumed = part === 'born' ? [reader.assumption('minimum.age')] : [];
    const lag = part === 'listed' || part === 'nil' ? lagOf(solved.evidence, id) : [];
    return [ground('claim', claim, id, [reader.record(id), ...lag, ...assumed]), ...further];
  }
  return [ground('rule', ruleInWords(first, solved), null), ...further];
}

const boundOf = ({ side }: BoundReason, isEarliest: boolean): BoundName =>
  side === 'start' ? (isEarliest ? 'startEarliest' : 'startLatest') : isEarliest ? 'endEarliest' : 'endLatest';

/** How far the list can be behind the event. */
function lagOf({ entries, nilSearches }: CareerEvidence, id: string): Ground[] {
  const edition = [...entries, ...nilSearches].find((each) => each.id === id)?.edition;
  return edition === undefined || edition.lagDays === 0
    ? []
    : [note(`the list can lag up to ${edition.lagDays} days behind events`)];
}

function ruleInWords({ by, side, slot }: BoundReason, { career }: SolvedPerson): string {
  if ('claim' in by) return '';
  const post = (at: number): string => {
    const tenure = career.tenures[at];
    return tenure === undefined ? 'the other post' : `${postInWords(tenure)}${tenure.implied ? ' (implied)' : ''}`;
  };
  switch (by.rule) {
    case 'lasts':
      return 'a post lasts a day at least';
    case 'follows':
      return side === 'start'
        ? `it begins no earlier than ${post(slot - 1)} ends`
        : `${post(slot + 1)} begins no earlier than it ends`;
    case 'touches':
      return side === 'start'
        ? `it begins on the day on which ${post(slot - 1)} ends`
        : `${post(slot + 1)} begins on the day on which it ends`;
  }
}

/** Why a tenure is provisional: what was set aside, and what could be instead. */
function provisionalGrounds({ settled, career }: SolvedPerson, reader: GroundsReader): Ground[] {
  const { conflicts } = explainConflicts(settled, Number.MAX_SAFE_INTEGER);
  const seen = new Set<string>();
  const claims = (list: readonly Claim[]): Ground[] => list.map(({ id, claim }) => reader.claim(id, claim));
  const ways = conflicts.flatMap(({ wayOut, otherWayOut }) => {
    const signature = wayOut.map(({ id, part }) => `${id} ${part}`).join();
    if (otherWayOut === undefined || seen.has(signature)) return [];
    seen.add(signature);
    return [
      ground('note', 'records contradict; set aside is', null, claims(wayOut)),
      ground('note', 'and another way out would set aside instead', null, claims(otherWayOut)),
    ];
  });
  return ways.length > 0 || career.otherWayOut.length === 0 ? ways : claims(career.otherWayOut);
}

/** What is kept but cannot be used, where a side is open. */
const openGrounds = ({ career }: SolvedPerson, reader: GroundsReader): Ground[] =>
  career.unused.map(({ id, reason }) => ground('note', reason, id, [reader.record(id)]));

/** Records of the person that the researcher set aside. */
export const setAsideGrounds = (db: Db, { evidence }: SolvedPerson, reader: GroundsReader): Ground[] =>
  setAsideOf(db, evidence).map(({ record, why, act }) =>
    ground('note', `set aside by the researcher: ${why ?? 'no reason given'}`, record, [
      reader.record(record),
      reader.act(act),
    ]),
  );

/** A tenure with its four bounds, each with what it rests on. */
export function tenureGround(solved: SolvedPerson, tenure: Tenure, reader: GroundsReader): Ground {
  const bounds = BOUNDS.map((bound) => {
    const { says, grounds, value } = boundFigure(solved, tenure, bound, reader);
    return ground('figure', says, tenureId(solved.person, tenure), grounds, value);
  });
  return ground('figure', `${solved.name}, ${postInWords(tenure)}`, tenureId(solved.person, tenure), bounds);
}

export type TenureFigure = BoundName | 'possible' | 'certain' | 'provisional';

export function tenureFigure(
  solved: SolvedPerson,
  tenure: Tenure,
  figure: TenureFigure,
  reader: GroundsReader,
): Reckoned {
  const bound = (name: BoundName): Ground => {
    const { says, grounds, value } = boundFigure(solved, tenure, name, reader);
    return ground('figure', says, tenureId(solved.person, tenure), grounds, value);
  };
  const post = postInWords(tenure);
  switch (figure) {
    case 'possible': {
      const value = spanInAnswer(tenure.possible);
      return {
        value,
        says: `${post} can have been held ${spanInWords(value)}`,
        grounds: [bound('startEarliest'), bound('endLatest')],
      };
    }
    case 'certain': {
      const value = tenure.certain === undefined || tenure.unsupported ? null : spanInAnswer(tenure.certain);
      return {
        value,
        says:
          value === null
            ? `${post} was held on no day for certain`
            : `${post} was certainly held ${spanInWords(value)}`,
        grounds: [bound('startLatest'), bound('endEarliest')],
      };
    }
    case 'provisional':
      return {
        value: tenure.provisional,
        says: tenure.provisional
          ? `${post} is provisional: another choice among contradicting records would give other bounds`
          : `${post} is not provisional: no other choice among contradicting records would change its bounds`,
        grounds: provisionalGrounds(solved, reader),
      };
    default:
      return boundFigure(solved, tenure, figure, reader);
  }
}
