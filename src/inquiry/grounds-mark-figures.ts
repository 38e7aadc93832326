import { HeldbyError } from '../errors.ts';
import { furtherFigure, ruledOutFigure, unplacedFigure } from './grounds-beside-candidates.ts';
import type { MarkSubject } from './grounds-mark-subject.ts';
import { type CandidateFigure, candidateFigure, windowFigure } from './grounds-marks.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { beyondFigure, roleFigure, unrecordedFigure } from './grounds-unrecorded.ts';
import { varyFigure } from './grounds-vary.ts';

/**
 * A figure that `candidates` prints of a mark, recorded or not.
 * @param whose the words behind the figure: a person, a role, a number, an assumption.
 */
export function markFigure(subject: MarkSubject, name: string, whose: string | undefined): Reckoned {
  switch (name) {
    case 'window':
      return windowFigure(subject);
    case 'unrecorded':
    case 'expected':
      return unrecordedFigure(subject, name);
    case 'noHolder':
      return roleFigure(subject, undefined, subject.reader);
    case 'role':
      if (whose === undefined) throw new HeldbyError('USAGE', 'Which role?', 'Write: heldby grounds MARK role owner');
      return roleFigure(subject, whose, subject.reader);
    case 'further':
      return furtherFigure(subject, whose);
    case 'ruledOut':
      return ruledOutFigure(subject, whose);
    case 'unplaced':
      return unplacedFigure(subject);
    case 'vary':
      return varyFigure(subject, whose);
    case 'beyond':
      return beyondFigure(subject);
    default:
      return candidateFigure(subject, name as CandidateFigure, whose);
  }
}
