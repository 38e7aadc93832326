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
  let ends: readonly End[] = situations.map((situation) => ({ chance: 1, situation }));
  const expected = (subject: Subject): number => ends.reduce((sum, end) => sum + shareAfter(end, subject), 0) - now;
  const plan: Planned[] = [];
  let reached = 0;
  while (plan.length < room) {
    const chosen = plan.map(({ subject }) => subject);
    const onTable = new Set(chosen.map(({ edition }) => edition.id));
    let best: { planned: Planned; value: number } | undefined;
    for (const subject of [...subjects, ...[...onTable].flatMap(inVolume)]) {
      if (chosen.includes(subject)) continue;
      const gain = expected(subject);
      const cost = costOf(subject, volumes, onTable.has(subject.edition.id));
      const value = (gain - reached) / cost;
      if (gain - reached > LEAST_ADDED && (best === undefined || value > best.value))
        best = { planned: { subject, gain, cost }, value };
    }
    if (best === undefined) break;
    plan.push(best.planned);
    const { subject } = best.planned;
    ends = ends.flatMap((end) => endsOf(end, subject));
    reached = best.planned.gain;
  }
  return plan;
}

/** Where the answers so far can have led, for one of the marks, with the chance of these answers. */
type End = { readonly chance: number; readonly situation: Situation };

/** Each answer to one look-up more, weighed by its chance given the mark. */
function endsOf({ chance, situation }: End, subject: Subject): End[] {
  const answers = answersTo(subject, situation).map(({ prior, after }) => {
    const then = after();
    return { chance: (prior * then.total) / situation.total, situation: then };
  });
  const all = answers.reduce((sum, answer) => sum + answer.chance, 0);
  if (!(all > 0)) return [{ chance, situation }];
  return answers.map((answer) => ({ ...answer, chance: (chance * answer.chance) / all }));
}

/** The share of the best named holder to be expected then, times the chance of the answers before. */
const shareAfter = (end: End, subject: Subject): number =>
  endsOf(end, subject).reduce((sum, { chance, situation }) => sum + chance * outcomeOf(situation).leaderShare, 0);
