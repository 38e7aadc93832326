import { outcomeOf } from '../attribution/sweep-answers.ts';
import type { Situation } from './lookup-situation.ts';
import { answersTo, costOf, type Subject, type VolumeCost } from './lookup-subject.ts';

type Planned = {
  readonly subject: Subject;
  readonly gain: number;
  readonly cost: number;
};

/** Less than this is added by nothing worth a walk to the shelf. */
const LEAST_ADDED = 1e-5;

/**
 * What to look up in one visit of `room` look-ups, chosen beforehand: one after another, each that which adds most to
 * the expected share of the best named holders for what it costs, whatever the answers to those before it. A volume that
 * is on the table already costs no more than a look.
 * @param subjects the look-ups that are worth most by themselves.
 * @param inVolume what else is worth looking up in an edition.
 * @see Nemhauser, G. L., Wolsey, L. A. and Fisher, M. L., An analysis of approximations for maximizing submodular set
 *   functions, Mathematical Programming 14 (1978) 265–294: how far such a choice can fall short of the best.
 */
export function planOf(
  situations: readonly Situation[],
  subjects: readonly Subject[],
  inVolume: (edition: string) => readonly Subject[],
  room: number,
  volumes: VolumeCost,
): Planned[] {
  const now = situations.reduce((sum, situation) => sum + outcomeOf(situation).leaderShare, 0);
  const expected = (chosen: readonly Subject[]): number =>
    situations.reduce((sum, situation) => sum + expectedShare(situation, chosen), 0) - now;
  const plan: Planned[] = [];
  let reached = 0;
  while (plan.length < room) {
    const chosen = plan.map(({ subject }) => subject);
    const onTable = new Set(chosen.map(({ edition }) => edition.id));
    let best: { planned: Planned; value: number } | undefined;
    for (const subject of [...subjects, ...[...onTable].flatMap(inVolume)]) {
      if (chosen.includes(subject)) continue;
      const gain = expected([...chosen, subject]);
      const cost = costOf(subject, volumes, onTable.has(subject.edition.id));
      const value = (gain - reached) / cost;
      if (gain - reached > LEAST_ADDED && (best === undefined || value > best.value))
        best = { planned: { subject, gain, cost }, value };
    }
    if (best === undefined) break;
    plan.push(best.planned);
    reached = best.planned.gain;
  }
  return plan;
}

/**
 * The share of the best named holder to be expected after all these look-ups: over every answer of the first, each
 * weighed by its chance given the mark, what the others then let expect.
 */
function expectedShare(situation: Situation, [first, ...others]: readonly Subject[]): number {
  if (first === undefined) return outcomeOf(situation).leaderShare;
  const answers = answersTo(first, situation).map(({ prior, after }) => {
    const then = after();
    return { chance: (prior * then.total) / situation.total, then };
  });
  const all = answers.reduce((sum, { chance }) => sum + chance, 0);
  if (!(all > 0)) return expectedShare(situation, others);
  return answers.reduce((sum, { chance, then }) => sum + (chance / all) * expectedShare(then, others), 0);
}
