import type { Chains } from './chains.ts';
import type { Coded } from './coded.ts';
import type { Comparison } from './comparison.ts';
import type { ListEntry } from './entries.ts';
import {
  CORPS_FIELD,
  DATED_FIELDS,
  FIELDS,
  FORENAMES_FIELD,
  RANK,
  RANK_DOWN,
  RANK_FIELD,
  SENIORITY_FIELD,
  SUFFIX,
  SUFFIX_FIELD,
  SURNAME_FIELD,
} from './fields.ts';
import type { Ground } from './ground.ts';
import type { Learned } from './learned.ts';
import type { JoinGround } from './linkage.ts';
import { fieldBits, fieldRanges } from './weights.ts';
import { NEW_MEN_TO_A_NAMESAKE, type Worth } from './worth.ts';

/**
 * Everything that speaks for and against the career from `head` on being of the man of the career up to `tail`; the bits
 * add up to what the two are worth as one.
 */
export function joinGrounds(
  ground: Ground,
  learned: Learned,
  chains: Chains,
  worth: Worth,
  tail: number,
  head: number,
): readonly JoinGround[] {
  const { fields, namesakeBits } = worth.explained(chains.tails, tail, chains.heads, head);
  const grounds: JoinGround[] = [];
  for (const field of FIELDS.keys())
    if ((fields.levels[field] as number) >= 0)
      grounds.push(fieldGround(ground, learned, chains, fields, field, tail, head));
  if (namesakeBits > 0) {
    const field = fields.levels[RANK_FIELD] === RANK + RANK_DOWN ? 'rank' : 'suffix';
    const level = 'may be that of a namesake';
    const text = `${field}: ${level}, so that name and corps tell less`;
    const because = [
      field === 'rank'
        ? `of ${NEW_MEN_TO_A_NAMESAKE} men who come new one is taken to bear the whole name of a man of his corps, as sons and nephews do: a judgement`
        : `of all who come new one in ${Math.round(2 ** -learned.shares.namesake)} is taken to be a namesake told apart by such a suffix`,
    ];
    grounds.push({ field, level, bits: -namesakeBits, text, because });
  }
  grounds.push(gapGround(ground, worth, tail, head));
  return grounds;
}

/** What a field that both sides say something in weighs, and the shares behind the weight. */
export function fieldGround(
  { coded }: Ground,
  { weights }: Learned,
  chains: Chains,
  comparison: Comparison,
  field: number,
  tail: number,
  head: number,
): JoinGround {
  const { name, levels } = FIELDS[field] as (typeof FIELDS)[number];
  const number = comparison.levels[field] as number;
  const level = levels[number - (fieldRanges()[field]?.first ?? 0)]?.name ?? '';
  const said = number === SUFFIX ? '' : printed(coded, chains, field, tail, head);
  const log2Chance = comparison.log2Chance[field] as number;
  const excess = weights.excess[number] as number;
  const same = `so are ${percent(weights.m[number] as number)} of the lines of one person that follow each other`;
  const strangers =
    log2Chance === 0
      ? `of lines of two, one of whom came new, ${percent(weights.u[number] as number)} are`
      : `a stranger agrees in this very value with a chance of ${percent(2 ** log2Chance)}${excess === 1 ? '' : `, times ${excess.toPrecision(2)}, since two of one surname, one of whom came new, agree so much ${excess > 1 ? 'oftener' : 'more seldom'} than any two`}`;
  return {
    field: name,
    level,
    bits: fieldBits(weights, comparison, field),
    text: `${name}: ${level}${said === '' ? '' : ` (${said})`}`,
    because: [`${same}; ${strangers}`],
  };
}

const percent = (share: number): string =>
  `${share >= 0.9995 || share < 0.001 ? (share * 100).toPrecision(3) : (share * 100).toFixed(1)} %`;

function gapGround({ coded, looked }: Ground, worth: Worth, tail: number, head: number): JoinGround {
  const [from, to] = [coded.step[tail] as number, coded.step[head] as number];
  const missed = looked.gap(coded.surname[head] as number, from, to) - 1;
  const level =
    missed === 0
      ? 'found in the next one looked at'
      : `missing from ${missed} looked at between ${missed === 1 ? 'them' : 'the two'}`;
  const [earlier, later] = [coded.editions.sorted[from]?.label, coded.editions.sorted[to]?.label];
  const { found, gone, newcomers } = worth.gapChances(tail, head);
  return {
    field: 'lists',
    level,
    bits: worth.gapBits(tail, head),
    text: `lists: ${level} (${earlier}, ${later})`,
    because: [
      `somebody listed is next found there with a chance of ${percent(found)}, and is not found again with one of ${percent(gone)}; ${newcomers.toFixed(1)} who were not listed before are to be expected in the later edition`,
    ],
  };
}

/** What the two sides print in a field. */
function printed(coded: Coded, { tails, heads }: Chains, field: number, tail: number, head: number): string {
  const entry = (at: number): ListEntry | undefined => coded.source[coded.place[at] ?? -1];
  const both = (of: (entry: ListEntry) => string | undefined, one: number, other: number): string => {
    const [before, after] = [entry(one), entry(other)].map((each) => (each === undefined ? '' : (of(each) ?? 'none')));
    return before === after ? `${before}` : `${before}, then ${after}`;
  };
  const at = (column: 'rankAt' | 'datedAt' | 'corpsAt'): readonly [number, number] => [
    tails[column][tail] as number,
    heads[column][head] as number,
  ];
  switch (field) {
    case SURNAME_FIELD:
      return both(({ surname }) => surname, tail, head);
    case FORENAMES_FIELD: {
      const texts = [tails.forenames[tail], heads.forenames[head]].map((number) => coded.forenameTexts[number ?? -1]);
      return texts[0] === texts[1] ? `${texts[0]}` : texts.join(', then ');
    }
    case SUFFIX_FIELD:
      return both(({ suffix }) => suffix, tail, head);
    case RANK_FIELD:
      return both(({ rank }) => rank?.title, ...at('rankAt'));
    case CORPS_FIELD:
      return both(({ corps }) => corps?.name, ...at('corpsAt'));
    case SENIORITY_FIELD:
      return both(({ seniority }) => `${seniority}`, tail, head);
    default:
      return Object.values<number>(DATED_FIELDS).includes(field)
        ? both(({ dated }) => dated?.text, ...at('datedAt'))
        : '';
  }
}
