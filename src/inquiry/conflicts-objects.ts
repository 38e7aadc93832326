import type { Assumptions } from '../assumptions.ts';
import { type ObjectConflict, objectConflicts, type WindowClaim } from '../dating/object-conflicts.ts';
import { splitForce } from '../dating/recorded-force.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import { marksOf, objectById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { isoDay } from '../time/calendar.ts';
import { phrase } from '../time/phrase.ts';
import { type Day, isClosed, type Span } from '../time/span.ts';
import type { AsideClaim, ConflictFound, SaidClaim } from './conflicts-found.ts';
import { markDaysOf, objectDays } from './mark-dating.ts';

/** Windows without a common day, marks older than their wording or than what they lie over, or than the object. */
export function conflictsOfObject(
  db: Db,
  read: EvidenceReader,
  object: number,
  assumptions: Assumptions,
): ConflictFound[] {
  const row = objectById(db, object);
  if (!row) return [];
  const dated = objectDays(db, object, read, assumptions);
  const marks = marksOf(db, object);
  const texts = new Map<string, string>(dated.features.map(({ id, text }) => [id, text]));
  const keys = new Map<string, string | null>();
  for (const { id, key, text } of marks) {
    texts.set(`m${id}`, `“${text}”`);
    keys.set(`m${id}`, key);
  }
  const conflicts = objectConflicts(
    dated.features.flatMap(splitForce),
    marks.map((mark) => {
      const { marking, clues } = markDaysOf(mark, dated, read, assumptions);
      return {
        id: `m${mark.id}`,
        stated: mark.made_id === null ? undefined : read.date(mark.made_id).span,
        clues: clues.flatMap(splitForce),
        over: mark.over_id === null ? undefined : `m${mark.over_id}`,
        recorded: mark.id,
        marking,
      };
    }),
    dated.making,
  );
  const say = (claim: WindowClaim): SaidClaim => ({
    id: claim.id,
    key: keys.get(claim.id) ?? null,
    claim: inWords(claim, texts),
    part: claim.part,
    source: null,
  });
  return conflicts.map((conflict) => ({
    kind: 'object',
    concerns: [{ id: `o${row.id}`, key: row.key, name: `${row.ref}  ${row.title}` }],
    members: conflict.members.map(say),
    setAside: conflict.setAside.map(
      (claim): AsideClaim => ({ ...say(claim), by: 'computed', why: whyAside(claim, conflict, dated.horizon) }),
    ),
    frees: conflict.frees,
    otherWayOut: (conflict.otherWayOut ?? []).map(say),
    omission: null,
  }));
}

function inWords({ id, part, on, window, over }: WindowClaim, texts: ReadonlyMap<string, string>): string {
  const text = texts.get(id) ?? id;
  switch (part) {
    case 'window':
      return `${text}: made ${daysInWords(window)}`;
    case 'made':
      return `${text} is dated ${daysInWords(window)}`;
    case 'clue':
      return `a wording of ${texts.get(on) ?? on} was written ${daysInWords(window)}`;
    case 'over':
      return `${text} lies over ${texts.get(over ?? '') ?? over}`;
  }
}

const daysInWords = (window: Span | undefined): string => {
  if (window === undefined) return 'at any time';
  const words = phrase(window);
  return isClosed(window) && /^\d/.test(words) ? `in ${words}` : words;
};

function whyAside(claim: WindowClaim, { members }: ObjectConflict, horizon: Span): string {
  if (members.length === 1)
    return `It lies outside the years in which the object can have been made, ${isoDay(horizon.from)} to ${isoDay((horizon.until - 1) as Day)}.`;
  if (claim.part === 'over') return 'By their own dates the marks cannot lie so; their order is left out of account.';
  const others = members.filter((other) => other !== claim);
  if (claim.part === 'made' || others.some(({ part, on }) => part !== claim.part && on !== claim.on))
    return 'A mark dated before the object can have been made is left out of its dating.';
  const surest = others.find(({ confidence }) => confidence !== claim.confidence);
  return surest === undefined
    ? `As sure as the other (${claim.confidence}); of equals the later recorded gives way.`
    : `The less sure of the two (${claim.confidence}; the other ${surest.confidence}).`;
}
