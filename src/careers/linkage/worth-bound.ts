import { CORPS, DATED, FORENAMES, LEVELS, RANK, SENIORITY, SUFFIX, SURNAME } from './fields.ts';
import { AGREE_SO_FAR } from './forename-table.ts';
import type { Ground } from './ground.ts';
import type { Learned } from './learned.ts';
import type { Profiles } from './profile.ts';

/** Bounds from few look-ups on what the fields can give: most pairs of one surname are ruled out by them. */
export type WorthBound = {
  forenames(one: number, other: number): number;
  rest(tails: Profiles, tail: number, heads: Profiles, head: number): number;
};

export function boundOnWorth(
  { coded, forenames }: Pick<Ground, 'coded' | 'forenames'>,
  { weights: { bits, bitsOfOwn }, shares }: Pick<Learned, 'weights' | 'shares'>,
): WorthBound {
  const most = (from: number, until: number): number => Math.max(0, ...bits.slice(from, until));
  const mostOfOwn = (from: number, until: number): number => Math.max(...bitsOfOwn.slice(from, until));
  const rarest = (values: Float64Array): number => values.reduce((least, value) => Math.min(least, value), 0);

  const differing = FORENAMES + AGREE_SO_FAR + 1;
  const agree = Math.max(most(FORENAMES, SUFFIX), mostOfOwn(FORENAMES, differing));
  const differ = Math.max(...bits.slice(differing, SUFFIX));
  const { log2Rarest } = forenames;
  const { parts } = coded.dates;

  const fixed =
    most(SUFFIX, RANK) +
    Math.max(most(RANK, DATED.sameRank), mostOfOwn(RANK, RANK + 1) - rarest(shares.rank)) +
    most(SENIORITY, LEVELS);
  const suffix = Math.max(0, mostOfOwn(SUFFIX, RANK) - rarest(shares.suffix));
  const [dated, ownDated] = [most(DATED.sameRank, CORPS), mostOfOwn(DATED.sameRank, CORPS)];
  const [corps, ownCorps] = [most(CORPS, SENIORITY), mostOfOwn(CORPS, SENIORITY)];

  const surname = (one: number, other: number): number => {
    if (one === other) return (bitsOfOwn[SURNAME] as number) - (shares.surname[one] as number);
    const [spelling, letters] = [shares.near[one * 2] as number, shares.near[one * 2 + 1] as number];
    return Math.max(
      (bitsOfOwn[SURNAME + 1] as number) - Math.min(spelling, 0),
      (bitsOfOwn[SURNAME + 2] as number) - Math.min(letters, 0),
    );
  };

  return {
    forenames: (one, other) =>
      forenames.mayAgree(one, other)
        ? agree - Math.max(log2Rarest[one] as number, log2Rarest[other] as number)
        : differ,
    rest: (tails, tail, heads, head) => {
      let sum = fixed + surname(tails.surname[tail] as number, heads.surname[head] as number);
      if ((coded.suffix[tail] as number) > 0 && (coded.suffix[head] as number) > 0) sum += suffix;
      const [corpsAt, corpsNowAt] = [tails.corpsAt[tail] as number, heads.corpsAt[head] as number];
      if (corpsAt >= 0 && corpsNowAt >= 0) {
        const own = coded.corps[corpsAt] as number;
        sum += own === coded.corps[corpsNowAt] ? Math.max(corps, ownCorps - (shares.corps[own] as number)) : corps;
      }
      const [datedAt, datedNowAt] = [tails.datedAt[tail] as number, heads.datedAt[head] as number];
      if (datedAt >= 0 && datedNowAt >= 0) {
        const [own, other] = [coded.dated[datedAt] as number, coded.dated[datedNowAt] as number];
        const mayAgree = own === other || (parts[own] as number) < 0 || (parts[other] as number) < 0;
        sum += mayAgree ? Math.max(dated, ownDated - (shares.dated[own] as number)) : dated;
      }
      return sum;
    },
  };
}
