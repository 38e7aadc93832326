import { type Context, WIDTH_WITHOUT_TERMINAL } from './context.ts';
import { wrapped } from './text.ts';

/** Help is read in lines no longer than these. */
const WIDEST = 100;

export const helpWidthOf = ({ columns }: Pick<Context, 'columns'>): number =>
  Math.min(columns ?? WIDTH_WITHOUT_TERMINAL, WIDEST);

/** A row of two columns: what is explained, a gap, and the explanation. */
const ROW = /^( +\S+(?: \S+)*)( {2,})(\S.*)$/;
/** What is to be typed stands indented, and is told by how it begins. */
const TYPED = /^ +(?:heldby|npm|\$|\{)/;
/** A line of a paragraph that is shorter than this is its last. */
const ENDS_SHORT = 66;
/** A heading stands by itself. */
const HEADING = /^[A-Z][\w ]{0,30}:$/;
/** Fewest columns that an explanation is broken to; where fewer are left, the line is left alone. */
const LEAST = 24;

/**
 * Help texts at a width: a paragraph with a line that is too long is broken anew, and so is the explanation of a row of two
 * columns, with the lines under it that belong to it. What is to be typed stays as it stands.
 */
export function fitHelp(text: string, width: number): string {
  const lines = text.split('\n');
  const out: string[] = [];
  for (let at = 0; at < lines.length; ) {
    const line = lines[at] as string;
    const row = TYPED.test(line) ? null : ROW.exec(line);
    const indent = row === null ? line.search(/\S/) : (row[1] as string).length + (row[2] as string).length;
    const belongs = (next: string): boolean =>
      next.search(/\S/) === indent && (row !== null || !(TYPED.test(next) || ROW.test(next) || HEADING.test(next)));
    const block = [line];
    const isEnded = (): boolean => row === null && (block.at(-1) ?? '').length < ENDS_SHORT;
    while (line !== '' && !isEnded() && at + block.length < lines.length && belongs(lines[at + block.length] as string))
      block.push(lines[at + block.length] as string);
    at += block.length;
    if (block.every((each) => each.length <= width) || TYPED.test(line) || width - indent < LEAST) {
      out.push(...block);
      continue;
    }
    const words = [row?.[3] ?? line.trim(), ...block.slice(1).map((each) => each.trim())].join(' ');
    const [first = '', ...more] = wrapped(words, width - indent);
    out.push(line.slice(0, indent) + first, ...more.map((each) => ' '.repeat(indent) + each));
  }
  return out.join('\n');
}
