import { DEFINITIONS } from '../assumptions.ts';
import { changedAssumptions } from '../ledger/assumed.ts';
import type { Db } from '../ledger/open.ts';

export type AssumptionAnswer = {
  readonly name: string;
  readonly value: string;
  readonly default: string;
  readonly unit: string;
  readonly meaning: string;
  readonly source: string;
  readonly act: number | null;
  readonly why: string | null;
};

const HORIZON = {
  default: '1600-01-01/1959-12-31',
  unit: '',
  meaning: 'the years in which an object of this ledger can have been made',
  source: 'common practice, from memory',
};

/** Every assumption with the value in force, its default, unit, meaning and source, and the act that changed it. */
export function assumptionList(db: Db): AssumptionAnswer[] {
  const changed = new Map(changedAssumptions(db).map((row) => [row.name, row]));
  const answer = (
    name: string,
    base: Pick<AssumptionAnswer, 'default' | 'unit' | 'meaning' | 'source'>,
  ): AssumptionAnswer => {
    const row = changed.get(name);
    return { name, value: row?.value ?? base.default, ...base, act: row?.act ?? null, why: row?.why ?? null };
  };
  const defined = Object.entries(DEFINITIONS).map(([name, { value, unit, meaning, source }]) =>
    answer(name, { default: String(value), unit, meaning, source }),
  );
  const perRank = [...changed.keys()]
    .filter((name) => name !== 'horizon' && !Object.hasOwn(DEFINITIONS, name))
    .map((name) => {
      const general = DEFINITIONS[name.slice(0, name.lastIndexOf('.')) as 'in-post'];
      return answer(name, {
        default: String(general.value),
        unit: general.unit,
        meaning: `${general.meaning.split(';')[0]}, for this rank`,
        source: 'set in this ledger',
      });
    });
  return [...defined, answer('horizon', HORIZON), ...perRank];
}
