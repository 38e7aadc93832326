import { expectedUnswept, nameFrequency } from '../attribution/unrecorded.ts';
import { HeldbyError } from '../errors.ts';
import { type MarkSubject, markGrounds } from './grounds-mark-subject.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground, note, percent, spanInWords, weightText } from './grounds-tree.ts';

/** The nearest people beyond the limit of the reading, where nobody recorded is within it. */
export function beyondFigure({ candidates, called, reader, shares }: MarkSubject): Reckoned {
  const { beyond } = candidates({ tried: 0, wanted: 0 });
  const said = beyond.map(({ person, bits }) => `${person.name} (${bits} bits)`).join(', ');
  return {
    value: beyond,
    says: !shares.nobodyFits
      ? `somebody recorded fits ${called}, so nobody is looked for beyond the limit`
      : `nearest beyond the limit: ${said || 'nobody'}`,
    grounds: [
      reader.assumption('agree.limit'),
      reader.assumption('agree.limit.letter'),
      ...beyond.map(({ person }) => reader.record(person.id)),
    ],
  };
}

/** Shares are taken of that part of the chances in which the mark names a holder. */
export const ofRoles = ({ namesHolder }: MarkSubject): string =>
  namesHolder === 1 ? '' : `, times ${percent(namesHolder)} that the mark names a holder at all`;

/** The share of somebody unrecorded, and how many such people are expected. */
export function unrecordedFigure(subject: MarkSubject, figure: 'unrecorded' | 'expected'): Reckoned {
  const { shares, question, assumptions, reader, called, namesHolder } = subject;
  const { unrecorded } = question;
  const { share, expected } = shares.unrecorded;
  const grounds: Ground[] = [];
  if (shares.nobodyFits) grounds.push(note('nobody recorded fits, so this is 1 for want of anybody else: no finding'));
  grounds.push(
    note(
      `before any sweep the number of such people expected on one day is ${weightText(expectedUnswept(unrecorded, assumptions))}: those in post, times the part of them whose surname fits (${weightText(nameFrequency(unrecorded.surname, assumptions))})${unrecorded.unknownBits === 0 ? '' : `, times 2 to the power of −${unrecorded.unknownBits}, as for a person of whom nothing else is known`}`,
    ),
    unrecorded.rank === undefined ? reader.assumption('in-post.any') : reader.forRank('in-post', unrecorded.rank),
  );
  if (unrecorded.surname !== undefined) grounds.push(reader.assumption('name.frequency'));
  if (unrecorded.surname?.damaged === true)
    grounds.push(
      note(`the reading is damaged: ${unrecorded.surname.seenLetters} letters can be seen, and more surnames fit`),
    );
  for (const id of question.sweepIds) grounds.push(ground('note', 'a sweep lowers it', id, [reader.record(id)]));
  if (question.sweepIds.length > 0) grounds.push(reader.assumption('sweep.missed'), reader.assumption('service.mean'));
  return figure === 'expected'
    ? {
        value: expected,
        says: `the number of people who fit ${called} and are not in the ledger is expected to be ${weightText(expected)}`,
        grounds,
      }
    : {
        value: share * namesHolder,
        says: `somebody unrecorded has a share of ${percent(share * namesHolder)}: a weight of ${weightText(expected)} of ${weightText(shares.total)} in all${ofRoles(subject)}`,
        grounds,
      };
}

/** How likely it is that the mark names no holder, and what would be if it had a role for certain. */
export function roleFigure(subject: MarkSubject, role: string | undefined, reader: GroundsReader): Reckoned {
  const { called, id, namesHolder } = subject;
  const { roles } = subject.candidates({ tried: 0 }).mark;
  const asked = roles.filter((each) => role === undefined || each.role === role.toLowerCase());
  if (asked.length === 0)
    throw new HeldbyError(
      'REFERENCE',
      `${called} has no role ${role}.`,
      `One of: ${roles.map((each) => each.role).join(', ')}.`,
    );
  const told = asked.map(({ role: name, weight, namesHolder: names, first, leaderShare, window }) =>
    ground(
      'figure',
      `${name}, with a weight of ${percent(weight)}: ${names ? (first === null ? 'nobody recorded fits' : `${first.person.name} leads with ${percent(first.share)}`) : 'names no holder'}; put on ${spanInWords(window)}`,
      null,
      [],
      { weight, leaderShare, first, window },
    ),
  );
  return {
    value: role === undefined ? 1 - namesHolder : told[0]?.value,
    says:
      role === undefined
        ? `${called} names no holder with a chance of ${percent(1 - namesHolder)}: the weights of its roles that name none`
        : `if it were ${told[0]?.says}`,
    grounds: [
      ...(role === undefined ? told : []),
      note(
        `the weights of the roles are those that were ${id === null ? 'given with the words' : 'recorded with the mark'}`,
      ),
      ...markGrounds({ id, reader }),
    ],
  };
}
