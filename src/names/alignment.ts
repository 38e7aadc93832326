import { type CompiledPattern, compile, NEVER } from './compiled-pattern.ts';
import { CLASSES, codeOf, HALF_BITS, isSeparator, letterCosts, OTHER_CLASS } from './letter-costs.ts';
import { allRows, cellAt, type LetterRows } from './letter-rows.ts';
import { type Pattern, printPattern } from './pattern.ts';
import { bestForm, formBits, type SurnameOptions } from './surname-cost.ts';

/** What of the reading answers what of the name, as folded; either may be empty. */
type AlignmentStep = {
  readonly reading: string;
  readonly name: string;
  readonly bits: number;
  readonly reason: string;
};

export type Alignment = { readonly bits: number; readonly steps: readonly AlignmentStep[] };

const AS_READ = 'as read';
const LOST = 'a lost letter';
const RUN = 'any number of lost letters';
const ELEMENT = 'only one element of a compound name';

/**
 * The cheapest way to take a reading for a name, letter by letter; undefined beyond the limit. Where the form counts (one
 * element only, a particle written differently), the first step says so. The bits of the steps add up.
 */
export function alignment(pattern: Pattern, name: string, options: SurnameOptions): Alignment | undefined {
  const best = bestForm(pattern, name, options);
  if (best === undefined) return undefined;
  const { form, reading } = best;
  const whole = { reading: printPattern(pattern), name };
  const elementBits = formBits(form.kind, false, options.elementBits) - formBits(form.kind, false, 0);
  const respeltBits = formBits(form.kind, reading !== pattern, 0);
  const steps: AlignmentStep[] = [];
  if (form.kind === 'element' || form.kind === 'respelt element')
    steps.push({ ...whole, bits: elementBits, reason: ELEMENT });
  if (respeltBits > 0)
    steps.push({ ...whole, bits: respeltBits, reason: letterCosts('forward').reasonOf('separator') });
  const rows = allRows(compile(reading), form.text);
  return { bits: best.bits, steps: [...steps, ...tracedBack(rows, form.text)] };
}

/** One step into a cell: how many units and letters it takes, in half bits. */
type Move = { readonly depth: number; readonly state: number; readonly cost: number; readonly reason: string };

function tracedBack(rows: LetterRows, name: string): readonly AlignmentStep[] {
  const steps: AlignmentStep[] = [];
  let depth = name.length;
  let state = rows.states;
  while (depth > 0 || state > 0) {
    const here = cellAt(rows, depth, state);
    const move = movesInto(rows, depth, state).find(
      (each) => cellAt(rows, each.depth, each.state) + each.cost === here,
    );
    if (move === undefined) throw new Error('A table of letter costs has a cell that no step leads into.');
    const reading = printPattern(rows.pattern.units.slice(move.state, state));
    steps.push({ reading, name: name.slice(move.depth, depth), bits: move.cost / HALF_BITS, reason: move.reason });
    ({ depth, state } = move);
  }
  return joined(steps.reverse());
}

/** The letters that one run stands for are one step. */
function joined(steps: readonly AlignmentStep[]): readonly AlignmentStep[] {
  const found: AlignmentStep[] = [];
  for (const step of steps) {
    const last = found.at(-1);
    if (step.reason === RUN && last?.reason === RUN && step.reading === '')
      found[found.length - 1] = { ...last, name: last.name + step.name };
    else found.push(step);
  }
  return found;
}

/** Every step that may lead into a cell, the plainest first; the same steps as in `fillRow`. */
function movesInto({ pattern, letters }: LetterRows, depth: number, state: number): readonly Move[] {
  const { costs, units, read, added, addedTwo, behindRun, pairs } = pattern;
  const { step } = costs;
  const unit = state - 1;
  const letter = depth > 0 ? (letters[depth - 1] ?? 0) : 0;
  const before = depth > 1 ? (letters[depth - 2] ?? 0) : 0;
  const digraph =
    before <= 26 && letter <= 26 ? costs.digraphs[(costs.digraphAt[before * CLASSES + letter] ?? 0) - 1] : undefined;
  const pair = state - 2;
  const letterPair = before > 0 && !isSeparator(letter) && !isSeparator(before);
  const moves: Move[] = [];
  const add = (takes: number, gives: number, cost: number, reason: string): void => {
    moves.push({ depth: depth - gives, state: takes, cost, reason });
  };
  if (state > 0 && units[unit]?.kind === 'run') add(unit, 0, 0, RUN);
  if (state > 0 && depth > 0) add(unit, 1, costOfOne(pattern, unit, letter), reasonOfOne(pattern, unit, letter));
  if (depth > 0 && behindRun[state] === 1) add(state, 1, 0, RUN);
  if (state > 1 && depth > 0) {
    const cost = costOfTwo(pattern, pair, letter);
    add(pair, 1, cost, cost === step.doubled ? costs.reasonOf('doubled') : digraphReason(pattern, letter, cost));
  }
  if (state > 0 && letterPair) {
    if (before === letter && read[unit] === 1 && costOfOne(pattern, unit, letter) === 0)
      add(unit, 2, step.doubled, costs.reasonOf('doubled'));
    const at = digraph === undefined ? -1 : costs.digraphs.indexOf(digraph);
    if (digraph !== undefined)
      add(unit, 2, pattern.oneForTwo[unit * costs.digraphs.length + at] ?? NEVER, digraph.reason);
  }
  if (state > 1 && letterPair && letter !== before && pairs[pair] === 1)
    if (costOfOne(pattern, pair, letter) === 0 && costOfOne(pattern, unit, before) === 0)
      add(pair, 2, step.transposed, costs.reasonOf('transposed'));
  if (letterPair && digraph === costs.silent) add(state, 2, digraph.halfBits, digraph.reason);
  if (state > 1) add(pair, 0, addedTwo[pair] ?? 0, costs.silent.reason);
  if (state > 0) {
    const kind = units[unit]?.kind === 'separator' ? 'separator' : 'added';
    add(unit, 0, added[unit] ?? 0, costs.reasonOf(kind));
  }
  if (depth > 0) {
    const kind = isSeparator(letter) ? 'separator' : 'missing';
    add(state, 1, step[kind], costs.reasonOf(kind));
  }
  return moves;
}

const costOfOne = ({ one, own }: CompiledPattern, unit: number, letter: number): number =>
  own[unit] === letter ? 0 : (one[unit * CLASSES + Math.min(letter, OTHER_CLASS)] ?? 0);

function costOfTwo({ twoForOne, own, costs }: CompiledPattern, at: number, letter: number): number {
  if (letter <= OTHER_CLASS) return twoForOne[at * CLASSES + letter] ?? NEVER;
  return own[at] === letter && own[at + 1] === letter ? costs.step.doubled : NEVER;
}

function reasonOfOne(pattern: CompiledPattern, unit: number, letter: number): string {
  const { costs, units } = pattern;
  const read = units[unit];
  const cost = costOfOne(pattern, unit, letter);
  if (read?.kind === 'lost') return LOST;
  if (cost === 0) return AS_READ;
  if (read?.kind !== 'letter') return costs.reasonOf('separator');
  if (cost === costs.step.other) return costs.reasonOf('other');
  if (read.dotted) return costs.reasonOf(cost === costs.step.dotted ? 'dotted' : 'dottedPair');
  return costs.reasonOfPair(codeOf(read.letter), letter);
}

/** Two letters of the reading for one of the name; the cost tells an unsure one. */
function digraphReason({ costs }: CompiledPattern, letter: number, cost: number): string {
  const pair = costs.digraphs.find(({ single, halfBits }) => single === letter && halfBits === cost);
  return pair?.reason ?? costs.reasonOf('dottedPair');
}
