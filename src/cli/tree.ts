import { shown, wrapped } from './text.ts';

/** A line with what hangs under it. `short`: what it is called once it has been told, though nothing hangs under it. */
export type Branch = { readonly text: string; readonly branches: readonly Branch[]; readonly short?: string };

const LEAST_ROOM = 24;

/**
 * Branches as lines under each other, every level a little further in. A branch that has been drawn with what is under
 * it is not drawn whole again: it is named, with a sign that it stands above.
 * @param drawn what stands above already, in trees drawn before this one; what is drawn here is added.
 */
export function tree(
  branches: readonly Branch[],
  width: number,
  faint: (text: string) => string,
  drawn: Set<string> = new Set(),
): string[] {
  const lines: string[] = [];
  const draw = (list: readonly Branch[], indent: string): void => {
    for (const [at, { text, branches: under, short }] of list.entries()) {
      const isLast = at === list.length - 1;
      const signature = JSON.stringify([text, under]);
      const known = (under.length > 0 || short !== undefined) && drawn.has(signature);
      drawn.add(signature);
      const further = `${indent}${isLast ? '   ' : '│  '}`;
      const room = Math.max(LEAST_ROOM, width - indent.length - 3);
      const told = wrapped(known ? `${shown(short ?? text)}  (as above)` : shown(text), room);
      for (const [line, part] of told.entries())
        lines.push(`${faint(line === 0 ? `${indent}${isLast ? '└─ ' : '├─ '}` : further)}${part}`);
      if (!known) draw(under, further);
    }
  };
  draw(branches, '');
  return lines;
}
