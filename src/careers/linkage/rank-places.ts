import type { RankColumns } from './coded.ts';

/** The levels of the field `rank`, counted from its first. */
const SAME = 0;
const NEXT_UP = 1;
const FURTHER_UP = 2;
const DOWN = 3;
const IN_NO_ORDER = 4;
const OTHER_SERVICE = 5;

/** How one rank stands to another, as a level of the field `rank`. Only rungs that the ledger has are counted. */
export function rankLevels({ order, service }: RankColumns): (before: number, after: number) => number {
  const rung = rungs(order, service);
  return (before, after) => {
    if (before === after) return SAME;
    if (service[before] !== service[after]) return OTHER_SERVICE;
    const up = (rung[after] as number) - (rung[before] as number);
    if (Number.isNaN(up) || up === 0) return IN_NO_ORDER;
    return up < 0 ? DOWN : up === 1 ? NEXT_UP : FURTHER_UP;
  };
}

export const isHigher = (level: number): boolean => level === NEXT_UP || level === FURTHER_UP;

function rungs(order: Float64Array, service: Int32Array): Float64Array {
  const rung = new Float64Array(order.length).fill(Number.NaN);
  for (const of of new Set(service)) {
    const ranks = [...order.keys()].filter((rank) => service[rank] === of && !Number.isNaN(order[rank]));
    const orders = [...new Set(ranks.map((rank) => order[rank] as number))].sort((a, b) => a - b);
    for (const rank of ranks) rung[rank] = orders.indexOf(order[rank] as number);
  }
  return rung;
}
