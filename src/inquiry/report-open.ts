import type { CandidateAnswer } from './candidates.ts';
import type { RedFlag } from './red-flags.ts';
import type { LotFacts, LotMark } from './report-lot.ts';
import type { OpenItem, OpenReason } from './report-reasons.ts';

/** A rival of at least this share is one that print has to speak of; common practice, from memory. */
export const RIVAL_SHARE = 0.05;

const item = (
  reason: OpenReason,
  about: readonly string[],
  data: Readonly<Record<string, string>>,
  command: string | null,
): OpenItem => ({ reason, about, data, command });

/** What is still open of a lot, in the order of the reasons above. */
export function openItems(lot: LotFacts, flags: readonly RedFlag[]): OpenItem[] {
  return [
    ...contradictions(lot),
    ...withoutEvidence(lot),
    ...lot.marks.flatMap((mark) => ofConclusion(lot, mark, hangsOn)),
    ...lot.marks.flatMap((mark) => ofConclusion(lot, mark, (each, concluded) => rivals(lot, each, concluded))),
    ...flags.map((flag) => flagged(lot, flag)),
  ];
}

function contradictions(lot: LotFacts): OpenItem[] {
  const ref = lot.object.id;
  const windows = lot.made.conflicts.map(({ members, setAside }) =>
    item(
      'windows',
      members.map(({ id }) => id),
      { members: members.map(({ id }) => id).join(', '), setAside: setAside.map(({ id }) => id).join(', ') },
      `heldby made ${ref}`,
    ),
  );
  const early = lot.marks
    .filter(({ beforeMaking }) => beforeMaking)
    .map(({ id, text }) => item('mark', [id], { mark: text }, `heldby show ${id}`));
  const provisional = lot.marks.flatMap((mark) =>
    ofConclusion(lot, mark, (each, leader) =>
      leader.provisional
        ? [
            item(
              'records',
              [leader.person.id, each.id],
              { person: leader.person.name, mark: each.text, ...leftOutOf(lot, leader.person.id) },
              `heldby tenures ${leader.person.id}`,
            ),
          ]
        : [],
    ),
  );
  const against = lot.attributions.flatMap(({ id, mark, person }) => {
    const own = lot.marks.find((each) => each.id === mark);
    const leader = own === undefined ? undefined : concludedOn(lot, own);
    if (!own || !leader || leader.person.id === person.id) return [];
    return [
      item(
        'conclusion',
        [id, mark],
        { mark: own.text, person: person.name, leader: leader.person.name },
        `heldby candidates ${mark}`,
      ),
    ];
  });
  return [...windows, ...early, ...provisional, ...against];
}

/** What is left out, and what speaks against it; of several the first. */
function leftOutOf({ people }: LotFacts, person: string): Readonly<Record<string, string>> {
  const [first] = people[person]?.leftOut ?? [];
  return first === undefined ? {} : { leftOut: first.claim, against: first.against };
}

function withoutEvidence({ object, made, marks }: LotFacts): OpenItem[] {
  const undated =
    made.windows.some(({ used }) => used) ||
    (made.withMarks?.marks.some(({ windowIs }) => windowIs === 'stated') ?? false)
      ? []
      : [item('undated', [object.id], {}, `heldby feature add ${object.id} TEXT --window DATE`)];
  const unmarked = marks.some(({ candidates }) => candidates !== null)
    ? []
    : [item('unmarked', [object.id], {}, `heldby mark add ${object.id} TEXT --role owner`)];
  const nobody = marks
    .filter(({ candidates }) => candidates !== null && candidates.candidates.length === 0)
    .map(({ id, text }) => item('nobody', [id], { mark: text }, `heldby candidates ${id}`));
  return [...undated, ...unmarked, ...nobody];
}

/** Who is taken to have put on a mark, and what that rests on. */
type Conclusion = Pick<CandidateAnswer, 'person' | 'provisional' | 'hangsOn'>;

/**
 * Of a lot with several marks the holder whom they name together, else the first candidate of the mark by itself: what
 * counts, and so what is to be questioned.
 */
function concludedOn({ provenance }: LotFacts, mark: LotMark): Conclusion | undefined {
  const first = mark.candidates?.candidates[0];
  const together = provenance?.chains[0]?.holders.find((each) => each.mark === mark.id)?.person;
  if (first === undefined || !together || together.id === first.person.id) return first;
  const holder = provenance?.holders.find(({ person }) => person?.id === together.id);
  return holder === undefined ? first : { ...holder, person: together };
}

const ofConclusion = (
  lot: LotFacts,
  mark: LotMark,
  work: (mark: LotMark, concluded: Conclusion) => readonly OpenItem[],
): readonly OpenItem[] => {
  const concluded = concludedOn(lot, mark);
  return concluded === undefined ? [] : work(mark, concluded);
};

const hangsOn = (mark: LotMark, leader: Conclusion): readonly OpenItem[] =>
  leader.hangsOn.length === 0
    ? []
    : [
        item(
          'hangs',
          leader.hangsOn,
          { mark: mark.text, person: leader.person.name, records: leader.hangsOn.join(', ') },
          `heldby show ${leader.hangsOn[0] ?? mark.id}`,
        ),
      ];

/** A conclusion that the researcher recorded on the mark has weighed its rivals. */
function rivals(lot: LotFacts, mark: LotMark, leader: Conclusion): readonly OpenItem[] {
  if (lot.attributions.some((own) => own.mark === mark.id)) return [];
  const others = (mark.candidates?.candidates ?? []).filter(
    ({ person, share }) => person.id !== leader.person.id && share >= RIVAL_SHARE,
  );
  const unrecorded = (mark.candidates?.unrecorded.share ?? 0) >= RIVAL_SHARE;
  if (others.length === 0 && !unrecorded) return [];
  return [
    item(
      'rivals',
      [mark.id, ...others.map(({ person }) => person.id)],
      {
        mark: mark.text,
        person: leader.person.name,
        rivals: others.map(({ person }) => person.name).join(', '),
        unrecorded: unrecorded ? 'yes' : 'no',
      },
      `heldby lookups ${mark.id}`,
    ),
  ];
}

function flagged({ object }: LotFacts, flag: RedFlag): OpenItem {
  switch (flag.flag) {
    case 'gap':
      return item('gap', [object.id], { from: flag.from, to: flag.to }, `heldby provenance ${object.id}`);
    case 'transfer':
      return item(
        'transfer',
        [object.id, ...(flag.person === null ? [] : [flag.person.id])],
        { from: flag.from, to: flag.to, person: flag.person?.name ?? '' },
        `heldby provenance ${object.id}`,
      );
    case 'species':
      return item('species', [object.id], { material: flag.material, word: flag.word, where: flag.where }, null);
    case 'living':
      return item('living', [flag.person.id], { person: flag.person.name }, `heldby show ${flag.person.id}`);
    case 'export':
      return item('export', [object.id], { years: String(flag.years), sure: flag.sure ? 'yes' : 'no' }, null);
  }
}
