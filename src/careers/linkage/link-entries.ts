import type { RecordId } from '../evidence.ts';
import { type Beside, besideCareers } from './beside.ts';
import { nameBlocks } from './blocks.ts';
import { type Chains, from, newChains } from './chains.ts';
import { bitsOf, chanceOf, type FoundDoubt, rankedDoubts, type Source } from './doubts.ts';
import type { LinkageInput } from './entries.ts';
import { chanceGrounds, type SolvedCareers, sidesOf, whyNever } from './explain.ts';
import { type Ground, groundOf } from './ground.ts';
import { joinGrounds } from './join-grounds.ts';
import { knotsOf } from './knots.ts';
import { type LearnedFrom, learn } from './learn.ts';
import type { ChanceGrounds, Doubt, Join, JoinGround, Linkage, LinkedPerson, NameChange } from './linkage.ts';
import { findMargins, type Margins, newMargins } from './margins.ts';
import { renamedCareers } from './name-changes.ts';
import { apartOnRecord } from './on-record.ts';
import { groupsOf } from './people.ts';
import { solver } from './solve.ts';
import { weightTable } from './weight-table.ts';
import { BOUND, type Worth, worthOf } from './worth.ts';

/**
 * Puts entries together into people. The weights are estimated from the entries themselves; what was bound is kept; all
 * entries of a name are solved together. The answer depends on what the entries say, not on their order.
 * @throws HeldbyError CONFLICT where two are bound together and kept apart.
 */
export function linkEntries(input: LinkageInput): Linkage {
  const ground = groundOf(input);
  const learned = learn(ground);
  const chains = newChains(ground.coded.count, ground.extend);
  const worth = worthOf(ground, learned, chains);
  const solve = solver(ground.coded, chains, worth);
  for (const block of nameBlocks(ground).values()) solve(block);
  for (const knot of knotsOf(ground, chains, worth)) solve(knot);
  const beside = besideCareers(ground, learned, chains, worth);
  return new Solved(ground, learned, chains, worth, beside, bitsOf(input.certainShare));
}

class Solved implements Linkage {
  readonly people: readonly LinkedPerson[];
  readonly #ground: Ground;
  readonly #learned: LearnedFrom;
  readonly #chains: Chains;
  readonly #worth: Worth;
  readonly #beside: readonly Beside[];
  readonly #limit: number;
  readonly #groups: readonly (readonly number[])[];
  #margins: Margins | undefined;
  #doubts: readonly FoundDoubt[] | undefined;
  #numbers: ReadonlyMap<RecordId, number> | undefined;

  constructor(
    ground: Ground,
    learned: LearnedFrom,
    chains: Chains,
    worth: Worth,
    beside: readonly Beside[],
    limit: number,
  ) {
    this.#ground = ground;
    this.#learned = learned;
    this.#chains = chains;
    this.#worth = worth;
    this.#beside = beside;
    this.#limit = limit;
    this.#groups = groupsOf(ground, chains, beside);
    this.people = this.#groups.map((group) => this.#personOf(group));
  }

  get weights() {
    return weightTable(this.#learned);
  }

  #idOf(at: number): RecordId {
    const { coded } = this.#ground;
    return coded.source[coded.place[at] ?? -1]?.id ?? '';
  }

  #personOf(group: readonly number[]): LinkedPerson {
    const { owner, bound } = this.#ground.coded;
    const owners = new Set(group.map((at) => owner[at] as number));
    return {
      entries: group.map((at) => this.#idOf(at)),
      persons: [...owners].flatMap((each) => bound.persons.get(each) ?? []).sort(),
    };
  }

  #groundsOf(tail: number, head: number): readonly JoinGround[] {
    return joinGrounds(this.#ground, this.#learned, this.#chains, this.#worth, tail, head);
  }

  /** Each block together with all of every career that has a line in it. */
  #found(): Margins {
    if (this.#margins !== undefined) return this.#margins;
    const { coded } = this.#ground;
    const margins = newMargins(coded.count);
    for (const block of nameBlocks(this.#ground).values()) {
      const firsts = new Set(Array.from(block, (at) => this.#chains.tails.end[at] as number));
      const whole = Int32Array.from([...firsts].flatMap((first) => [...from(this.#chains, first)])).sort();
      findMargins(coded, whole, this.#chains, this.#worth, this.#limit, margins);
    }
    this.#margins = margins;
    return margins;
  }

  joins(person: number): readonly Join[] {
    const group = this.#groups[person] ?? [];
    const { next, tails, heads } = this.#chains;
    const { join, line } = this.#found();
    const joins: Join[] = [];
    for (const tail of group) {
      const head = next[tail] as number;
      if (head < 0) continue;
      const bits = this.#worth.of(tails, tail, heads, head, Number.NEGATIVE_INFINITY);
      const margin = Math.min(join[tail] as number, line[tail] as number, line[head] as number);
      joins.push(this.#joinOf(tail, head, bits, margin));
    }
    const members = new Set(group);
    for (const each of this.#beside)
      if (members.has(each.career))
        joins.push(this.#joinOf(each.substantive, each.career, each.bits, each.margin, () => each.grounds));
    return joins;
  }

  #joinOf(tail: number, head: number, bits: number, margin: number, grounds = () => this.#groundsOf(tail, head)): Join {
    const isBound = bits >= BOUND / 2;
    return {
      earlier: this.#idOf(tail),
      later: this.#idOf(head),
      bits: isBound ? Number.POSITIVE_INFINITY : bits,
      chance: isBound ? 1 : chanceOf(margin),
      decision: isBound ? 'bound' : margin >= this.#limit ? 'certain' : 'doubtful',
      get grounds() {
        return grounds();
      },
    };
  }

  #ranked(): readonly FoundDoubt[] {
    if (this.#doubts !== undefined) return this.#doubts;
    const margins = this.#found(); // which brings all that is known of each career up to date
    const onRecord = apartOnRecord(this.#ground, this.#chains, this.#worth, this.#limit);
    this.#doubts = rankedDoubts(margins, this.#chains, this.#beside, onRecord, this.#limit);
    return this.#doubts;
  }

  doubts(): readonly Doubt[] {
    return this.#ranked().map(({ tail, head, joined, chance, settles, instead, source }) => {
      const grounds = () => (source.is === 'beside' ? source.beside.grounds : this.#groundsOf(tail, head));
      return {
        one: this.#idOf(tail),
        other: this.#idOf(head),
        joined,
        chance,
        settles,
        instead: instead < 0 ? undefined : this.#idOf(instead),
        get grounds() {
          return grounds();
        },
      };
    });
  }

  /** The numbers of two entries, the earlier one first. */
  #inOrder(one: RecordId, other: RecordId): readonly [number, number] {
    this.#numbers ??= new Map(Array.from({ length: this.#ground.coded.count }, (_, at) => [this.#idOf(at), at]));
    const [a, b] = [this.#numbers.get(one) as number, this.#numbers.get(other) as number];
    return a < b ? [a, b] : [b, a];
  }

  compared(one: RecordId, other: RecordId): Pick<Doubt, 'chance' | 'grounds'> {
    const grounds = this.#groundsOf(...this.#inOrder(one, other));
    return { chance: chanceOf(grounds.reduce((sum, { bits }) => sum + bits, 0)), grounds };
  }

  whyNever(one: RecordId, other: RecordId): string | undefined {
    this.#found();
    return whyNever(this.#solved, ...this.#inOrder(one, other));
  }

  explained(one: RecordId, other: RecordId): ChanceGrounds | undefined {
    const [a, b] = this.#inOrder(one, other);
    const source = this.#sourceOf(a, b);
    return source === undefined ? undefined : chanceGrounds(this.#solved, this.#found(), source);
  }

  sides(one: RecordId, other: RecordId): { one: readonly RecordId[]; other: readonly RecordId[] } | undefined {
    const source = this.#sourceOf(...this.#inOrder(one, other));
    return source === undefined ? undefined : sidesOf(this.#solved, source);
  }

  get #solved(): SolvedCareers {
    const idOf = (at: number): string => this.#idOf(at);
    return { ground: this.#ground, learned: this.#learned, chains: this.#chains, worth: this.#worth, idOf };
  }

  /** Where the chance of two entries comes from: what is asked about, else the join that holds them together. */
  #sourceOf(a: number, b: number): Source | undefined {
    const asked = this.#ranked().find(({ tail, head }) => Math.min(tail, head) === a && Math.max(tail, head) === b);
    if (asked !== undefined) return asked.source;
    const beside = this.#beside.find(
      ({ career, substantive }) => Math.min(career, substantive) === a && Math.max(career, substantive) === b,
    );
    if (beside !== undefined) return { is: 'beside', beside };
    if (this.#chains.next[a] !== b) return undefined;
    const { join, line } = this.#found();
    const [own, tail, head] = [join[a] as number, line[a] as number, line[b] as number];
    if (own <= tail && own <= head) return { is: 'join', tail: a, head: b };
    return { is: 'line', line: tail <= head ? a : b };
  }

  nameChanges(): readonly NameChange[] {
    const { coded } = this.#ground;
    const nameOf = (at: number): string => {
      const entry = coded.source[coded.place[at] ?? -1];
      return [entry?.forenames, entry?.surname].filter((part) => part !== undefined && part !== '').join(' ');
    };
    return renamedCareers(this.#ground, this.#learned, this.#chains, this.#worth).map(({ tail, head, bits }) => ({
      last: this.#idOf(tail),
      first: this.#idOf(head),
      before: nameOf(tail),
      after: nameOf(head),
      bits,
      grounds: this.#groundsOf(tail, head).filter(({ field }) => field !== 'surname'),
    }));
  }
}
