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
import type { Worth } from './worth.ts';

/** Everything that speaks for and against the career from `head` on being of the man of the career up to `tail`. */
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
  const ranges = fieldRanges();
  for (const [field, { name, levels }] of FIELDS.entries()) {
    const number = fields.levels[field] as number;
    const level = levels[number - (ranges[field]?.first ?? 0)];
    if (level === undefined || number === SUFFIX) continue;
    const said = printed(ground.coded, chains, field, tail, head);
    const text = `${name}: ${level.name}${said === '' ? '' : ` (${said})`}`;
    grounds.push({
      field: name,
      level: level.name,
      bits: fieldBits(learned.weights, fields as Comparison, field),
      text,
    });
  }
  if (namesakeBits > 0) {
    const field = fields.levels[RANK_FIELD] === RANK + RANK_DOWN ? 'rank' : 'suffix';
    const level = 'may be that of a namesake';
    const text = `${field}: ${level}, so that name and corps tell less`;
    grounds.push({ field, level, bits: -namesakeBits, text });
  }
  grounds.push(gapGround(ground, worth, tail, head));
  return grounds;
}

function gapGround({ coded, looked }: Ground, worth: Worth, tail: number, head: number): JoinGround {
  const [from, to] = [coded.step[tail] as number, coded.step[head] as number];
  const missed = looked.gap(coded.surname[head] as number, from, to) - 1;
  const level =
    missed === 0
      ? 'found in the next one looked at'
      : `missing from ${missed} looked at between ${missed === 1 ? 'them' : 'the two'}`;
  const [earlier, later] = [coded.editions.sorted[from]?.label, coded.editions.sorted[to]?.label];
  return { field: 'lists', level, bits: worth.gapBits(tail, head), text: `lists: ${level} (${earlier}, ${later})` };
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
