import { HeldbyError } from '../errors.ts';
import type { Whole } from '../inquiry/careers-found.ts';

/** Which editions count as taken down whole (`--whole all`); those that look so where nothing is said. */
export function wholeMeant(text: string | undefined): Whole {
  if (text === undefined) return 'by lines';
  if (text === 'all' || text === 'none') return text;
  throw new HeldbyError('USAGE', `--whole ${text} is not understood.`, 'Say --whole all or --whole none.');
}
