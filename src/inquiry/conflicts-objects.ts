import type { Assumptions } from '../assumptions.ts';
import { type ObjectConflict, objectConflicts, type WindowClaim } from '../dating/object-conflicts.ts';
import { splitForce } from '../dating/recorded-force.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import { keyReader } from '../ledger/keys.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { type MarkRow, marksOf, objectById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import { isoDay } from '../time/calendar.ts';
import { phrase } from '../time/phrase.ts';
import type { Day, Span } from '../time/span.ts';
import { cluesIn } from './clues.ts';
import type { AsideClaim, ConflictFound, SaidClaim } from './conflicts-found.ts';
import { spanInAnswer, whenInWords } from './days.ts';
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
  const sources = new Map<string, string>();
  const unconfirmed: ConflictFound[] = [];
  const concerns = [{ id: `o${row.id}`, key: row.key, name: `${row.ref}  ${row.title}` }];
  const keyOf = keyReader(db);
  for (const { id, text } of marks) texts.set(`m${id}`, `“${text}”`);
  const conflicts = objectConflicts(
    dated.features.flatMap(splitForce),
    marks.map((mark) => {
      const { marking, clues } = markDaysOf(mark, dated, read, assumptions);
      const stated = mark.made_id === null ? undefined : read.date(mark.made_id).span;
      for (const { id, text, source } of clues) {
        texts.set(id, text);
        if (source !== null) sources.set(id, source);
      }
      if (stated !== undefined) unconfirmed.push(...wordingsAgainst(db, mark, stated, concerns));
      return {
        id: `m${mark.id}`,
        stated,
        clues: clues.flatMap(splitForce),
        over: mark.over_id === null ? undefined : `m${mark.over_id}`,
        recorded: mark.id,
        marking,
      };
    }),
    dated.making,
  );
  const sourceOf = ({ id, part }: WindowClaim): string => {
    const source = part === 'window' ? featureSource(db, id) : part === 'clue' ? sources.get(id) : undefined;
    return source === undefined ? '' : ` (${source})`;
  };
  const say = (claim: WindowClaim): SaidClaim => ({
    id: claim.id,
    key: keyOf(claim.id) ?? null,
    claim: `${inWords(claim, texts)}${sourceOf(claim)}`,
    part: claim.part,
    source: null,
  });
  const found = conflicts.map(
    (conflict): ConflictFound => ({
      kind: 'object',
      concerns,
      members: conflict.members.map(say),
      setAside: conflict.setAside.map(
        (claim): AsideClaim => ({ ...say(claim), by: 'computed', why: whyAside(claim, conflict, dated.horizon) }),
      ),
      frees: conflict.frees,
      otherWayOut: (conflict.otherWayOut ?? []).map(say),
      omission: null,
    }),
  );
  return [...found, ...unconfirmed];
}

function featureSource(db: Db, id: string): string | undefined {
  const source = readRecord(db, kindNamed('feature'), Number(id.slice(1)))?.fields['source'];
  return source === undefined ? undefined : String(source);
}

/** Datable wordings that nobody has confirmed, and that could not have been written on the day that the mark states. */
function wordingsAgainst(db: Db, mark: MarkRow, stated: Span, concerns: ConflictFound['concerns']): ConflictFound[] {
  const days = spanInAnswer(stated);
  return cluesIn(db, `m${mark.id}`).clues.flatMap(({ confirmed, force, window, words, fact, text }) => {
    const tooEarly = force !== 'usual' && force !== 'hard-end' && isBefore(days.to, window.from);
    const tooLate = force !== 'usual' && force !== 'hard-start' && isBefore(window.to, days.from);
    if (confirmed !== null || (!tooEarly && !tooLate)) return [];
    const said = { id: `m${mark.id}`, key: mark.key, source: null };
    const limit = tooEarly ? `not before ${window.from}` : `not after ${window.to}`;
    const wording = { ...said, claim: `its wording “${words}” (${text}) was written ${limit}`, part: 'wording' };
    const made = { ...said, claim: `“${mark.text}” is dated ${phrase(stated)}`, part: 'made' };
    const why = `Nothing is reckoned from a wording until it is confirmed. Look at the date again, or confirm it: heldby clue confirm m${mark.id} ${fact} --why TEXT`;
    return [
      {
        kind: 'object' as const,
        concerns,
        members: [made, wording],
        setAside: [{ ...wording, by: 'computed' as const, why }],
        frees: 1,
        otherWayOut: [made],
        omission: null,
      },
    ];
  });
}

/** Days of an answer, null where open. */
const isBefore = (a: string | null, b: string | null): boolean => a !== null && b !== null && a < b;

function inWords({ id, part, on, window, over }: WindowClaim, texts: ReadonlyMap<string, string>): string {
  const text = texts.get(id) ?? id;
  switch (part) {
    case 'window':
      return `${text}: made ${whenInWords(window)}`;
    case 'made':
      return `${text} is dated ${window === undefined ? 'at no time' : phrase(window)}`;
    case 'clue':
      return `the wording “${text}” on ${texts.get(on) ?? on} was written ${whenInWords(window)}`;
    case 'over':
      return `${text} lies over ${texts.get(over ?? '') ?? over}`;
  }
}

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
