import type { Pattern } from '../../src/names/pattern.ts';

/**
 * A slow second way to reckon the letter cost, with its own copy of the table: every way to cut reading and name into
 * steps is tried, and every length of a run. Bits, not half bits.
 */
const SIX = 'u/n c/e l/t i/j i/y c/k s/z rn/m ph/f';
const SEVEN = 'a/o e/o h/b h/k f/s u/v n/r m/n a/e e/y g/q e/i f/t v/w d/t ie/y ck/k ks/x cl/d vv/w ey/y gh/';

const PAIRS = new Map<string, number>();
for (const [bits, list] of [
  [6, SIX],
  [7, SEVEN],
] as const)
  for (const pair of list.split(' ')) {
    const [a, b] = pair.split('/');
    PAIRS.set(`${a}/${b}`, bits).set(`${b}/${a}`, bits);
  }

/** No options: a lost letter. `behindRun`: the letter before it, even of an empty run, is not its neighbour. */
type Letter = {
  readonly options: readonly string[];
  readonly dotted: boolean;
  readonly separator: boolean;
  readonly behindRun?: boolean;
};

const wild: Letter = { options: [], dotted: false, separator: false };

/** The pattern with each run replaced by a number of lost letters, in every combination up to `most`. */
function expansions(pattern: Pattern, most: number): Letter[][] {
  let found: Letter[][] = [[]];
  let behindRun = false;
  for (const unit of pattern) {
    const choices: Letter[][] =
      unit.kind === 'run'
        ? Array.from({ length: most + 1 }, (_none, count) => new Array<Letter>(count).fill(wild))
        : [[unit.kind === 'lost' ? wild : { ...fixed(unit), behindRun }]];
    behindRun = unit.kind === 'run';
    found = found.flatMap((before) => choices.map((choice) => [...before, ...choice]));
  }
  return found;
}

const fixed = (unit: Exclude<Pattern[number], { kind: 'run' } | { kind: 'lost' }>): Letter =>
  unit.kind === 'separator'
    ? { options: [unit.sign], dotted: false, separator: true }
    : { options: [unit.letter, ...(unit.also ?? [])], dotted: unit.dotted, separator: false };

const isSeparator = (char: string): boolean => " -'".includes(char);

/** What it costs to take these letters of the reading as these letters of the name, in one step; Infinity if none. */
function reckonStep(reading: readonly Letter[], name: string): number {
  const dotted = reading.some((letter) => letter.dotted);
  if (reading.some((letter) => letter.separator) || [...name].some(isSeparator)) {
    if (reading.length + name.length === 1) return 0.5;
    if (reading.length !== 1 || name.length !== 1 || !reading[0]?.separator || !isSeparator(name)) return Infinity;
    return reading[0].options.includes(name) ? 0 : 0.5;
  }
  if (reading[1]?.behindRun === true) return Infinity;
  if (reading.some((letter) => letter.options.length === 0)) {
    if (reading.length > 1) return Infinity;
    return [12, 0][name.length] ?? Infinity;
  }
  let least = Infinity;
  for (const text of spellings(reading)) {
    const pair = PAIRS.get(`${text}/${name}`);
    if (text === name && text.length === 1) return 0;
    if (pair !== undefined) least = Math.min(least, dotted ? 2 : pair);
    if (text.length === 1 && name === text + text) least = Math.min(least, 5);
    if (name.length === 1 && text === name + name) least = Math.min(least, 5);
    if (text.length === 1 && name.length === 1) least = Math.min(least, dotted ? 5 : 11);
    if (text.length === 2 && text[0] !== text[1] && name === `${text[1]}${text[0]}`) least = Math.min(least, 10);
  }
  if (reading.length === 0 && name.length === 1) least = Math.min(least, 8);
  if (reading.length === 1 && name.length === 0) least = Math.min(least, 12);
  return least;
}

const steps = new Map<string, number>();

function stepCost(reading: readonly Letter[], name: string): number {
  const key = `${reading.map(({ options, dotted, behindRun }) => `${options.join('')}${dotted}${behindRun}`).join()}/${name}`;
  const known = steps.get(key) ?? reckonStep(reading, name);
  steps.set(key, known);
  return known;
}

function spellings(reading: readonly Letter[]): string[] {
  let texts = [''];
  for (const letter of reading) texts = texts.flatMap((text) => letter.options.map((option) => text + option));
  return texts;
}

function plainCost(reading: readonly Letter[], name: string): number {
  const known = new Map<number, number>();
  const from = (i: number, j: number): number => {
    if (i === reading.length && j === name.length) return 0;
    const key = i * 100 + j;
    const before = known.get(key);
    if (before !== undefined) return before;
    let least = Infinity;
    for (let takes = 0; takes <= 2 && i + takes <= reading.length; takes++)
      for (let gives = 0; gives <= 2 && j + gives <= name.length; gives++) {
        if (takes + gives === 0) continue;
        const step = stepCost(reading.slice(i, i + takes), name.slice(j, j + gives));
        if (step < Infinity) least = Math.min(least, step + from(i + takes, j + gives));
      }
    known.set(key, least);
    return least;
  };
  return from(0, 0);
}

/** Bits between a pattern and a folded name, letter by letter only: no particles, no compound names. */
export function exhaustiveLetterBits(pattern: Pattern, folded: string): number {
  return Math.min(...expansions(pattern, folded.length).map((reading) => plainCost(reading, folded)));
}
