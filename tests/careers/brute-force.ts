/**
 * Slow reference for small careers: every assignment of whole days to the starts and ends of the appointments is gone
 * through. It knows nothing of networks, and reads the claims as statements about days.
 */
export type Window = readonly [first: number, last: number];

export type Statement =
  | {
      readonly says: 'listed';
      readonly post: number;
      readonly asAt: Window;
      readonly lag: number;
      readonly weight: number;
    }
  | { readonly says: 'start' | 'end'; readonly post: number; readonly in: Window; readonly weight: number }
  | {
      readonly says: 'lasts';
      readonly post: number;
      readonly least: number;
      readonly most: number;
      readonly weight: number;
    };

export type Absence = { readonly asAt: Window; readonly lag: number };

/** One assignment: start and end of each post. */
export type Assignment = readonly (readonly [start: number, end: number])[];

/** `apart[k]`: post k + 1 need not begin on the day on which post k ends. */
export type Shape = { readonly posts: number; readonly apart: readonly boolean[] };

/** All assignments with days in [first, last] that respect the succession; made once for each shape. */
export function assignments(shape: Shape, world: Window): readonly Assignment[] {
  const name = `${shape.posts} ${shape.apart.join(' ')} ${world.join(' ')}`;
  let all = made.get(name);
  if (all === undefined) {
    all = allAssignments(shape, world);
    made.set(name, all);
  }
  return all;
}

const made = new Map<string, readonly Assignment[]>();

function allAssignments({ posts, apart }: Shape, [first, last]: Window): Assignment[] {
  const all: Assignment[] = [];
  const place = (post: number, earlier: Assignment): void => {
    if (post === posts) {
      all.push(earlier);
      return;
    }
    const before = earlier.at(-1)?.[1];
    const starts: Window = before === undefined ? [first, last] : [before, apart[post - 1] ? last : before];
    for (let start = starts[0]; start <= starts[1]; start++) {
      for (let end = start + 1; end <= last; end++) place(post + 1, [...earlier, [start, end]]);
    }
  };
  place(0, []);
  return all;
}

function days([first, last]: Window): number[] {
  return Array.from({ length: last - first + 1 }, (_, at) => first + at);
}

export function holds(statement: Statement, assignment: Assignment): boolean {
  const [start, end] = assignment[statement.post] as readonly [number, number];
  if (statement.says === 'listed') {
    // Some day of the list, from its lag on, is a day in post.
    return Math.max(start, statement.asAt[0] - statement.lag) <= Math.min(end - 1, statement.asAt[1]);
  }
  if (statement.says === 'lasts') return end - start >= statement.least && end - start <= statement.most;
  const day = statement.says === 'start' ? start : end;
  return statement.in[0] <= day && day <= statement.in[1];
}

/** Some day of the absence lies in gap `gap`: before post 0, …, after the last. */
export function absentIn({ asAt, lag }: Absence, gap: number, assignment: Assignment): boolean {
  const ended = assignment[gap - 1]?.[1] ?? -Infinity;
  const begins = assignment[gap]?.[0] ?? Infinity;
  return days([asAt[0] - lag, asAt[1]]).some((day) => ended <= day && day < begins);
}

/** The set of statements that each assignment makes true, as bits; each once. */
export function truths(statements: readonly Statement[], all: readonly Assignment[]): number[] {
  const masks = new Set<number>();
  for (const one of all) {
    masks.add(statements.reduce((mask, statement, k) => (holds(statement, one) ? mask | (1 << k) : mask), 0));
  }
  return [...masks];
}

const contains = (mask: number, set: number): boolean => (mask & set) === set;

const bitsOf = (set: number): number[] => days([0, 30]).filter((bit) => (set & (1 << bit)) !== 0);

/** All minimal sets of statements that no assignment makes true together. */
export function minimalConflicts(count: number, masks: readonly number[]): number[] {
  const found: number[] = [];
  const bySize = days([1, 2 ** count - 1]).sort((a, b) => bitsOf(a).length - bitsOf(b).length);
  for (const set of bySize) {
    if (found.some((other) => contains(set, other)) || masks.some((mask) => contains(mask, set))) continue;
    found.push(set);
  }
  return found;
}

/** The least total weight of statements without which the rest can be true. */
export function leastSetAside(statements: readonly Statement[], masks: readonly number[]): number {
  const weigh = (mask: number) => statements.reduce((sum, { weight }, k) => (mask & (1 << k) ? sum : sum + weight), 0);
  return Math.min(...masks.map(weigh));
}
