import { PRIOR_PAIRS } from '../careers/linkage/fields.ts';
import type {
  JoinGround,
  Linkage,
  PairGrounds,
  WeightRow,
  WeightSample,
  WeightTable,
} from '../careers/linkage/linkage.ts';
import { HeldbyError } from '../errors.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground, note, percent } from './grounds-tree.ts';

/** Evidence as the answers print it: `+4.2`. */
export const signed = (bits: number): string => `${bits > -0.05 ? '+' : '−'}${Math.abs(bits).toFixed(1)}`;

/** Two lines taken for successive ones of one person: what that is worth, field by field, and the two lines. */
export function pairGround(pair: PairGrounds, weights: WeightTable, reader: GroundsReader): Ground {
  const { earlier, later, bits, grounds, sign } = pair;
  return ground(
    'figure',
    sign === 1
      ? `${earlier} and ${later} as lines of one person: ${signed(bits)} bits, the sum of`
      : `less what ${earlier} and ${later} are worth without the line between: ${signed(-bits)} bits`,
    null,
    [...grounds.map((each) => evidenceGround(each, weights)), reader.record(earlier), reader.record(later)],
    sign * bits,
  );
}

/** One ground for or against two being one, with the shares behind it. */
export function evidenceGround({ field, level, bits, text, because }: JoinGround, weights: WeightTable): Ground {
  const row = weights.rows.find((each) => each.field === field && each.level === level);
  return ground(
    'claim',
    `${signed(bits)}  ${text}`,
    null,
    [
      ...because.map(note),
      ...(row === undefined ? [] : [rowGround(row, weights.sample)]),
      ...(field === 'lists' ? [foundGround(weights), newGround(weights)] : []),
    ],
    bits,
  );
}

const times = (count: number): string => (count === 1 ? 'once' : `${count} times`);

const rowGround = (row: WeightRow, sample: WeightSample): Ground =>
  ground('figure', rowInWords(row), null, rowGrounds(row, sample), row.bits);

const rowInWords = ({ field, level, bits, byValue }: WeightRow): string =>
  `${field}, ${level}: ${signed(bits)} bits${byValue ? ' in the mean, more for a rare value and less for a common one' : ''}`;

const rowGrounds = ({ field, sameMan, twoMen, seen }: WeightRow, sample: WeightSample): Ground[] => [
  note(
    `the logarithm to base 2 of ${percent(sameMan)} by ${percent(twoMen)}: how often lines of one person that follow each other are so, and how often lines of two are`,
  ),
  field === 'surname'
    ? note(
        `of one person: expectation and maximisation over ${sample.likelyPairs} pairs of lines that may be of one, each counted with its chance, and ${PRIOR_PAIRS} pairs of common practice; of two: how common the surnames are`,
      )
    : note(
        `of one person: seen ${times(seen.sameMan)} among the ${sample.people} people found in ${sample.entries} entries, one case left out, beside ${PRIOR_PAIRS} pairs of common practice; of two: among ${sample.strangerPairs} pairs of lines of any two, corrected by how lines of two who are listed together agree (${times(seen.twoMen)}) and by what newcomers are like`,
      ),
];

const foundGround = ({ found }: WeightTable): Ground =>
  ground(
    'figure',
    'how people stay in the lists',
    null,
    found.map((each) => note(`${foundInWords(each)}: ${foundSeen(each)}`)),
    found.map(({ editions, chance }) => ({ editions, chance })),
  );

type Found = WeightTable['found'][number];

const foundInWords = ({ editions, chance }: Found): string =>
  `found again after ${editions === 1 ? '1 edition' : `${editions} editions`}, if not seen before: ${percent(chance)}`;

const foundSeen = ({ seen }: Found): string =>
  seen.of === 0
    ? 'no case was seen, so this is common practice'
    : `${seen.found} of ${seen.of} cases, beside ${PRIOR_PAIRS} of common practice`;

const newGround = ({ newShare, sample }: WeightTable): Ground =>
  ground('figure', newInWords(newShare), null, [note(newSeen(sample))], newShare);

const newInWords = (share: number): string =>
  `a line in an edition is somebody’s first with a chance of ${percent(share)}`;

const newSeen = ({ firsts, later }: WeightSample): string =>
  `${firsts} of ${later} lines beyond the first edition, beside ${PRIOR_PAIRS} of common practice`;

const plain = (text: string): string => text.toLowerCase().replaceAll(/[^\p{L}\p{N}]/gu, '');

/** The weights of one field, or of one of its levels. @throws HeldbyError USAGE with the fields and levels there are. */
export function weightFigures({ weights }: Linkage, words: readonly string[]): Reckoned {
  const said = plain(words.join(''));
  const exact = weights.rows.filter(({ field, level }) => [field, `${field}${level}`].map(plain).includes(said));
  const rows =
    exact.length > 0 ? exact : weights.rows.filter(({ field, level }) => plain(field + level).startsWith(said));
  if (rows.length === 0) {
    const fields = [...new Set(weights.rows.map(({ field }) => field))];
    const levels = weights.rows
      .filter(({ field }) => said.startsWith(plain(field)))
      .map(({ field, level }) => `${field} ${level}`);
    throw new HeldbyError(
      'USAGE',
      `Lines are not compared by ${words.join(' ')}.`,
      `One of: ${(levels.length > 0 ? levels : fields).join('; ')}.`,
    );
  }
  const [only] = rows;
  if (rows.length === 1 && only !== undefined)
    return {
      value: { bits: only.bits, sameMan: only.sameMan, twoMen: only.twoMen },
      says: rowInWords(only),
      grounds: rowGrounds(only, weights.sample),
    };
  return {
    value: rows.map(({ field, level, bits, sameMan, twoMen }) => ({ field, level, bits, sameMan, twoMen })),
    says: `${rows.length} weights`,
    grounds: rows.map((row) => rowGround(row, weights.sample)),
  };
}

/** The chance to be found again after a gap, as `--weights` prints it. @param words the gap in editions. */
export function foundFigure({ weights }: Linkage, words: readonly string[]): Reckoned {
  const [wanted] = words;
  if (wanted === undefined) {
    const { says, value, grounds } = foundGround(weights);
    return { says, value, grounds };
  }
  const each = weights.found.find(({ editions }) => `${editions}` === wanted);
  if (each === undefined)
    throw new HeldbyError(
      'USAGE',
      `There is no chance of its own after ${wanted} editions.`,
      `One of: ${weights.found.map(({ editions }) => editions).join(', ')}; gaps between go with the next longer.`,
    );
  return { value: each.chance, says: foundInWords(each), grounds: [note(foundSeen(each))] };
}

export const newShareFigure = ({ weights }: Linkage): Reckoned => ({
  value: weights.newShare,
  says: newInWords(weights.newShare),
  grounds: [note(newSeen(weights.sample))],
});
