import { HeldbyError } from '../errors.ts';
import { assumptionList } from './assumptions.ts';
import type { MarkSubject } from './grounds-mark-subject.ts';
import { asGround, candidateFigure } from './grounds-marks.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground, note } from './grounds-tree.ts';
import type { VariedAnswer, VaryAnswer } from './vary.ts';

/**
 * Between which values assumptions leave the same name first.
 * @param name one assumption; all that bear on the mark unless said.
 * @throws HeldbyError REFERENCE
 */
export function varyFigure(subject: MarkSubject, name: string | undefined): Reckoned {
  const { db, called, id, reader } = subject;
  if (name !== undefined && !assumptionList(db).some((each) => each.name === name))
    throw new HeldbyError('REFERENCE', `There is no assumption "${name}".`, 'See them all: heldby assume');
  const answer = subject.vary(name);
  const { leader, varied, steady } = answer;
  if (leader === null)
    return { value: null, says: `nobody leads ${called} whom another assumption could put second`, grounds: [] };
  const [one] = varied;
  const first = `${leader.name} stays first`;
  return {
    value: name === undefined ? answer : (one ?? (steady.length > 0 ? { from: null, to: null } : null)),
    says:
      name === undefined
        ? `${first} within ${varied.length === 0 ? 'whatever any one assumption is changed to' : `the limits of ${varied.length} assumptions`}; ${steady.length} others bear on it and move nobody`
        : one !== undefined
          ? `${first} as long as ${limitsInWords(one)}`
          : steady.length > 0
            ? `${first} whatever ${steady[0]} is, ${asTried(answer)}`
            : `${name} does not bear on the shares of ${called}`,
    grounds: [
      ...varied.map((each) => variedGround(each, reader)),
      ...(name === undefined && steady.length > 0
        ? [
            ground(
              'note',
              'moving nobody',
              null,
              steady.map((each) => reader.assumption(each)),
            ),
          ]
        : steady.map((each) => reader.assumption(each))),
      note(
        `each was tried ${asTried(answer)}, with everything that rests on it reckoned again for the first ${answer.candidates} candidates`,
      ),
      asGround(candidateFigure(subject, 'share', undefined), id),
    ],
  };
}

const asTried = ({ tried }: VaryAnswer): string => `from a ${tried}th of its value to ${tried} times it`;

const figure = (value: number): string => String(Number(value.toPrecision(3)));

function limitsInWords({ name, value, unit, from, to, below, above }: VariedAnswer): string {
  const who = (each: VariedAnswer['below']): string => (each === null ? 'somebody unrecorded' : (each?.name ?? ''));
  const ends = [
    ...(from === null ? [] : [`at least ${figure(from)} (below it ${who(below)} leads)`]),
    ...(to === null ? [] : [`at most ${figure(to)} (above it ${who(above)} leads)`]),
  ];
  return `${name} = ${[figure(value), unit].filter((part) => part !== '').join(' ')} is ${ends.join(', and ')}`;
}

const variedGround = (each: VariedAnswer, reader: GroundsReader): Ground =>
  ground(
    'figure',
    limitsInWords(each),
    each.name,
    [reader.assumption(each.name), ...[each.below, each.above].flatMap((who) => (who ? [reader.record(who.id)] : []))],
    { from: each.from, to: each.to },
  );
