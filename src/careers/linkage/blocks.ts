import type { Ground } from './ground.ts';

/** The entries of each key in the order of time, without those that stand behind another. */
export function blocksBy(
  { coded, standsBehind }: Pick<Ground, 'coded' | 'standsBehind'>,
  keyOf: (at: number) => number,
): ReadonlyMap<number, Int32Array> {
  const lists = new Map<number, number[]>();
  for (let at = 0; at < coded.count; at++) {
    if ((standsBehind[at] as number) >= 0) continue;
    const key = keyOf(at);
    const list = lists.get(key);
    if (list === undefined) lists.set(key, [at]);
    else list.push(at);
  }
  return new Map([...lists].map(([key, list]) => [key, Int32Array.from(list)]));
}

/** More than there are letters, and one for no letter. */
const INITIALS = 32;

/**
 * Blocks of one surname and one first initial: nearly all lines of a man are in one of them, and they stay small where a
 * surname is common.
 */
export const nameBlocks = (ground: Ground): ReadonlyMap<number, Int32Array> =>
  blocksBy(
    ground,
    (at) =>
      (ground.coded.surname[at] as number) * INITIALS +
      (ground.forenames.initial[ground.coded.forenames[at] as number] as number),
  );
