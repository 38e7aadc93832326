import { HeldbyError } from '../errors.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { personName, samePeople } from '../ledger/people.ts';
import { resolveRef } from '../ledger/refs.ts';
import { TOLD_IN_PRINT } from './candidates.ts';
import { type MarkSubject, markGrounds } from './grounds-mark-subject.ts';
import { asGround, surnameGrounds, windowFigure } from './grounds-marks.ts';
import { type Reckoned, solvedPerson, tenureGround } from './grounds-tenures.ts';
import { type Ground, ground, percent, spanInWords } from './grounds-tree.ts';
import { ofRoles } from './grounds-unrecorded.ts';
import { ruledOutOf } from './ruled-out.ts';
import { unplacedLines } from './unplaced-lines.ts';

/**
 * The share of all candidates together who are not told one by one.
 * @param words how many are told; as many as print tells unless said.
 * @throws HeldbyError USAGE
 */
export function furtherFigure(subject: MarkSubject, words: string | undefined): Reckoned {
  const { db, called, id, shares, namesHolder, reader } = subject;
  if (words !== undefined && !/^[1-9]\d{0,6}$/.test(words))
    throw new HeldbyError(
      'USAGE',
      `"${words}" is no number of candidates.`,
      `Write: heldby grounds ${id ?? '--text WORDS'} further 5   (for those behind the first five)`,
    );
  const told = words === undefined ? TOLD_IN_PRINT : { wanted: Number(words) };
  const { further, candidates } = subject.candidates({ tried: 0, ...told });
  const behind = shares.ranked.slice(candidates.length);
  return {
    value: further,
    says:
      further.count === 0
        ? `all candidates for ${called} are told one by one`
        : `${further.count} more ${further.count === 1 ? 'candidate has' : 'candidates have together'} a share of ${percent(further.share)}: the sum of their own${ofRoles(subject)}`,
    grounds: behind.map((each) =>
      ground(
        'figure',
        `${personName(db, Number(each.person.slice(1))).name}: ${percent(each.share * namesHolder)}`,
        each.person,
        [reader.record(each.person)],
        each.share * namesHolder,
      ),
    ),
  };
}

/**
 * Why somebody is no candidate: not in the rank on the days of the mark, never in the rank at all, or of another name.
 * @param words who; the one of the nearest name unless said.
 * @throws HeldbyError REFERENCE for one who is a candidate.
 */
export function ruledOutFigure(subject: MarkSubject, words: string | undefined): Reckoned {
  const { db, called, id, words: asked, shares, question, reader } = subject;
  const person = words === undefined ? ruledOutOf(question, shares)[0]?.person.id : personMeant(subject, words);
  if (person === undefined)
    return { value: null, says: `nobody else of the name is known who is no candidate for ${called}`, grounds: [] };
  const name = personName(db, Number(person.slice(1))).name;
  if (shares.ranked.some((each) => each.person === person))
    throw new HeldbyError(
      'REFERENCE',
      `${name} is a candidate for ${called}.`,
      `Ask: heldby grounds ${id ?? '--text WORDS'} share ${person}`,
    );
  const known = question.known.get(person);
  const [out] = known === undefined ? [] : ruledOutOf({ ...question, known: new Map([[person, known]]) }, shares);
  if (out === undefined)
    return {
      value: null,
      says: `${name} is no candidate for ${called}: no name of theirs agrees with “${asked.text}” within the limit`,
      grounds: [reader.record(person), reader.assumption('agree.limit'), reader.assumption('agree.limit.letter')],
    };
  const { ground: by, bits, inRank } = out;
  const hasRank = question.sought.ranks.length > 0 || question.readings.some(({ parts }) => parts.rank !== undefined);
  const days = inRank.map(spanInWords).join(', and ');
  return {
    value: { ground: by, bits, inRank },
    says:
      by === 'rank'
        ? `${name} is no candidate for ${called}: not known to have held the rank in it; the name disagrees by ${bits} bits`
        : `${name} is no candidate for ${called}: ${hasRank ? 'in that rank' : 'of age and alive'} on none of its days${days === '' ? '' : `, but ${days}`}; the name disagrees by ${bits} bits`,
    grounds: [
      ...nameGrounds(subject, person),
      ...(by === 'time' ? [asGround(windowFigure(subject), id)] : rankGrounds(subject)),
      ...careerGrounds(subject, person),
    ],
  };
}

function personMeant({ db }: MarkSubject, words: string): string {
  const found = resolveRef(db, kindNamed('person'), words);
  return `p${samePeople(db)(found)[0] ?? found}`;
}

/** By the reading whose surname is nearest. */
function nameGrounds(subject: MarkSubject, person: string): Ground[] {
  const [first] = subject.question.readings
    .map(({ parts }) => surnameGrounds(subject, person, parts, undefined))
    .filter((each) => each.length > 0);
  return first ?? [];
}

const rankGrounds = ({ question, reader, id }: MarkSubject): Ground[] => [
  ground(
    'note',
    `the rank in the mark: ${[...new Set(question.readings.flatMap(({ parts }) => parts.rank?.ranks.map(({ title }) => title) ?? []))].join(' or ') || 'none that a ladder knows'}`,
    id,
    markGrounds({ id, reader }),
  ),
];

function careerGrounds({ db, read, assumptions, reader }: MarkSubject, person: string): Ground[] {
  const solved = solvedPerson(db, read, Number(person.slice(1)), assumptions);
  const { tenures } = solved.career;
  return tenures.length === 0
    ? [ground('note', 'no post of theirs is recorded', person, [reader.record(person)])]
    : [
        ground(
          'note',
          'every post that is known of them',
          person,
          tenures.map((tenure) => tenureGround(solved, tenure, reader)),
        ),
      ];
}

/** Lines of the name that are nobody's yet. */
export function unplacedFigure({ question, called, reader }: MarkSubject): Reckoned {
  const value = unplacedLines(question);
  return {
    value,
    says:
      value.count === 0
        ? `every line of a name that fits ${called} is somebody’s`
        : `${value.count} lines of a name that fits ${called} are nobody’s yet, and were not weighed`,
    grounds: value.entries.map((id) => reader.record(id)),
  };
}
