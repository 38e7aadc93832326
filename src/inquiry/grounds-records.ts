import type { Assumptions } from '../assumptions.ts';
import { BOUNDS } from '../careers/bound-reasons.ts';
import { explainConflicts } from '../careers/explained-conflicts.ts';
import { bearerOfEntry } from '../ledger/bearers.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import { parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import { whyCheapest } from './conflicts-found.ts';
import { contradictionGrounds } from './grounds-contradictions.ts';
import { boundFigure, postInWords, type Reckoned, setAsideGrounds, solvedPerson } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground } from './grounds-tree.ts';
import { tenureId } from './tenures.ts';

/** Where a record comes from, what bounds of tenures rest on it, and whether it is set aside. */
export function recordFigure(
  db: Db,
  id: string,
  read: EvidenceReader,
  assumptions: Assumptions,
  reader: GroundsReader,
): Reckoned {
  const own = reader.record(id);
  return {
    value: null,
    says: own.says,
    grounds: [...own.grounds, ...restingBounds(db, id, read, assumptions, reader), ...contradicting(db, id, reader)],
  };
}

/** What a kinship, or a record of an object, contradicts. */
function contradicting(db: Db, id: string, reader: GroundsReader): Ground[] {
  const parsed = parseId(id);
  if (parsed === undefined || !['kin', 'same', 'differ', 'feature', 'clue', 'mark'].includes(parsed.kind.kind))
    return [];
  const subject = concernOf(db, id);
  return subject === undefined ? [] : contradictionGrounds(db, subject, (each) => each === id, reader);
}

/** The person, object or mark whom a record is about, where it is about one. */
export function concernOf(db: Db, id: string): string | undefined {
  const parsed = parseId(id);
  if (parsed === undefined) return undefined;
  if (parsed.kind.kind === 'entry') {
    const bearer = bearerOfEntry(db, parsed.row);
    return bearer === undefined ? undefined : `p${bearer}`;
  }
  const { person, object, mark } = readRecord(db, parsed.kind, parsed.row)?.fields ?? {};
  const subject = person ?? object ?? mark;
  return typeof subject === 'string' ? subject : undefined;
}

/** Whose career a record bears on. */
function personOf(db: Db, id: string): number | undefined {
  const concern = parseId(concernOf(db, id) ?? '');
  return concern?.kind.kind === 'person' ? concern.row : undefined;
}

function restingBounds(
  db: Db,
  id: string,
  read: EvidenceReader,
  assumptions: Assumptions,
  reader: GroundsReader,
): Ground[] {
  const person = personOf(db, id);
  if (person === undefined) return [];
  const solved = solvedPerson(db, read, person, assumptions);
  const bounds = solved.career.tenures.flatMap((tenure) =>
    BOUNDS.filter((bound) => tenure.grounds[bound].includes(id)).map((bound) =>
      ground(
        'figure',
        `on it rests: ${boundFigure(solved, tenure, bound, reader).says}`,
        tenureId(solved.person, tenure),
      ),
    ),
  );
  const shows = solved.career.tenures
    .filter(({ records }) => records.includes(id))
    .map((tenure) =>
      ground('figure', `it shows: ${solved.name}, ${postInWords(tenure)}`, tenureId(solved.person, tenure)),
    );
  const aside = explainConflicts(solved.settled, Number.MAX_SAFE_INTEGER).conflicts.flatMap((conflict) =>
    conflict.setAside
      .filter((claim) => claim.id === id)
      .map((claim) => ({
        claim: claim.claim,
        why: conflict.omission === undefined ? whyCheapest(conflict) : 'No gap of the service can hold it.',
        against: conflict.members.filter((member) => member.id !== claim.id || member.part !== claim.part),
      })),
  );
  const [first] = aside;
  const settled =
    first === undefined
      ? []
      : [
          ground(
            'note',
            `set aside: ${first.claim}. ${first.why}`,
            id,
            [
              ...new Map(
                aside.flatMap(({ against }) => against.map((each) => [`${each.id} ${each.part}`, each])),
              ).values(),
            ].map((each) => ground('claim', each.claim, each.id)),
          ),
        ];
  const reasons = solved.career.unused
    .filter((each) => each.id === id)
    .map(({ reason }) => ground('note', `not used: ${reason}`, id));
  return [
    ...shows,
    ...bounds,
    ...settled,
    ...reasons,
    ...setAsideGrounds(db, solved, reader).filter((each) => each.id === id),
  ];
}
