import type { AssumptionName } from '../assumptions.ts';
import { HeldbyError } from '../errors.ts';
import { resolveAny } from '../ledger/refs.ts';
import type { ConflictsAnswer } from './conflicts.ts';
import type { AsideClaim, ConflictFound, SaidClaim } from './conflicts-found.ts';
import type { Situation } from './grounds-situation.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground } from './grounds-tree.ts';

/** A conflict by its claims: they stay the same when other records are left out. */
export type ConflictAsked = { readonly conflict: string } | { readonly record: string };

const nameOf = ({ id, part }: SaidClaim): string => `${id} ${part}`;
const signature = ({ members }: ConflictFound): string => members.map(nameOf).sort().join();

/**
 * Which conflict is meant: by its number in `conflicts --csv`, or by a record in it; the first unless said.
 * @param of the person or object asked about; undefined for the whole ledger.
 * @throws HeldbyError REFERENCE
 */
export function conflictAsked(situation: Situation, of: string | undefined, words: string | undefined): ConflictAsked {
  if (words !== undefined && !/^[1-9]\d{0,3}$/.test(words)) return { record: resolveAny(situation.db, words) };
  const { conflicts } = situation.conflicts(of);
  const found = conflicts[Number(words ?? 1) - 1];
  if (found !== undefined) return { conflict: signature(found) };
  if (words === undefined) return { conflict: '' };
  throw new HeldbyError(
    'REFERENCE',
    `There is no conflict ${words}; ${conflicts.length} ${conflicts.length === 1 ? 'is' : 'are'} listed.`,
    `See them, numbered: heldby conflicts${of === undefined ? '' : ` ${of}`} --csv`,
  );
}

/** That in which a record gives way comes first, then any in which it stands, then what the researcher decided. */
function foundOf({ conflicts, decided }: ConflictsAnswer, asked: ConflictAsked): ConflictFound | undefined {
  if ('conflict' in asked) return conflicts.find((each) => signature(each) === asked.conflict);
  const among = (claims: readonly SaidClaim[]): boolean => claims.some(({ id }) => id === asked.record);
  return (
    conflicts.find(({ setAside }) => among(setAside)) ??
    conflicts.find(({ members }) => among(members)) ??
    decided.find(({ members }) => among(members))
  );
}

const GIVES_WAY: Readonly<Record<AsideClaim['by'], string>> = {
  computed: 'set aside is',
  researcher: 'set aside by the researcher is',
  proposed: 'to be set aside, if you say so, is',
};

/** How many conflicts are cleared by what gives way in one of them, and why it is that which gives way. */
export function freesFigure(situation: Situation, of: string | undefined, asked: ConflictAsked): Reckoned {
  const { reader } = situation;
  const answer = situation.conflicts(of);
  const conflict = foundOf(answer, asked);
  if (conflict === undefined)
    return {
      value: null,
      says: 'record' in asked ? `${asked.record} contradicts nothing` : 'there is no such conflict',
      grounds: [],
    };
  const { members, setAside, frees, otherWayOut } = conflict;
  const aside = new Set(setAside.map(nameOf));
  const others = members.filter((each) => !aside.has(nameOf(each)));
  const alike = answer.conflicts.filter(
    (each) => each !== conflict && each.members.some((one) => aside.has(nameOf(one))),
  );
  const what = setAside.map(({ id, claim }) => `“${claim}” (${id})`).join(' and ');
  const clears = frees === 1 ? 'one conflict, this one' : `${frees} conflicts, this one included`;
  return {
    value: frees,
    says: `setting aside ${what} clears ${clears}: ${members.length} claims cannot all be true`,
    grounds: [
      ...setAside.map((each) =>
        ground('claim', `${GIVES_WAY[each.by]}: ${each.claim}. ${each.why}`, each.id, [
          reader.record(each.id),
          ...reliabilityOf(each, reader),
        ]),
      ),
      ...others.map((each) => claimGround(each, reader)),
      ...(otherWayOut.length === 0
        ? []
        : [
            ground(
              'note',
              'the next best way out would set aside instead',
              null,
              otherWayOut.map((each) => claimGround(each, reader)),
            ),
          ]),
      ...(alike.length === 0
        ? []
        : [
            ground(
              'note',
              'cleared with it',
              null,
              alike.map((each) => conflictGround(each, reader, aside)),
            ),
          ]),
    ],
  };
}

const claimGround = (each: SaidClaim, reader: GroundsReader): Ground =>
  ground('claim', each.claim, each.id, [reader.record(each.id), ...reliabilityOf(each, reader)]);

/** @param told claims that have been told already. */
const conflictGround = (
  { concerns, members, frees }: ConflictFound,
  reader: GroundsReader,
  told: ReadonlySet<string> = new Set(),
): Ground =>
  ground(
    'note',
    `of ${concerns.map(({ name }) => name).join(', ')}: ${members.length} claims cannot all be true`,
    null,
    members.filter((each) => !told.has(nameOf(each))).map((each) => reader.claim(each.id, each.claim)),
    frees,
  );

/** What a claim of this part weighs when it is asked which gives way; no weight bears on windows of objects. */
const RELIABILITY: Readonly<Record<string, AssumptionName>> = {
  listed: 'reliability.listing',
  dated: 'reliability.dated',
  start: 'reliability.notice',
  end: 'reliability.notice',
  born: 'reliability.life',
  died: 'reliability.life',
  condition: 'reliability.notice',
  nil: 'reliability.nil',
  kin: 'reliability.kin',
};

const reliabilityOf = ({ part }: SaidClaim, reader: GroundsReader): Ground[] => {
  const name = RELIABILITY[part];
  return name === undefined ? [] : [reader.assumption(name)];
};

export const CONFLICT_COUNTS = {
  count: 'how many conflicts there are',
  people: 'how many people have some',
  objects: 'how many objects have some',
} as const;
export type ConflictCount = keyof typeof CONFLICT_COUNTS;

/** How many conflicts there are, or people or objects that have some. */
export function conflictCount(situation: Situation, of: string | undefined, figure: ConflictCount): Reckoned {
  const { conflicts, conflictsBeyond, people, objects, of: concern } = situation.conflicts(of);
  const whose = concern === null ? 'of the ledger' : `of ${concern.name}`;
  if (figure === 'count') {
    const count = conflicts.length + conflictsBeyond;
    return {
      value: count,
      says:
        count === 0
          ? `no records ${whose} contradict each other`
          : `${count} ${count === 1 ? 'conflict' : 'conflicts'} between records ${whose}: each a set of claims that cannot all be true, of which none can be spared`,
      grounds: [
        ...conflicts.map((each) => conflictGround(each, situation.reader)),
        ...(conflictsBeyond === 0 ? [] : [ground('note', `and ${conflictsBeyond} larger ones`)]),
      ],
    };
  }
  const isOfObject = figure === 'objects';
  const having = new Map<string, { name: string; conflicts: number }>();
  for (const { kind, concerns } of conflicts)
    if ((kind === 'object') === isOfObject)
      for (const { id, name } of concerns) having.set(id, { name, conflicts: (having.get(id)?.conflicts ?? 0) + 1 });
  const value = isOfObject ? objects : people;
  return {
    value,
    says: `${value} ${isOfObject ? (value === 1 ? 'object has' : 'objects have') : value === 1 ? 'person has' : 'people have'} records that contradict each other`,
    grounds: [...having].map(([id, { name, conflicts: many }]) =>
      ground('figure', `${name}: ${many} ${many === 1 ? 'conflict' : 'conflicts'}`, id, [], many),
    ),
  };
}
