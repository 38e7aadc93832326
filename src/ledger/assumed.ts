import { type AssumptionName, type Assumptions, DEFAULTS, DEFINITIONS, PER_RANK } from '../assumptions.ts';
import { HeldbyError } from '../errors.ts';
import { readDate } from '../time/read-date.ts';
import { refuseUnreckoned } from '../time/reckoned-years.ts';
import { isClosed } from '../time/span.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

export type AssumptionRow = {
  readonly name: string;
  readonly value: string;
  readonly act: number;
  readonly why: string | null;
};

/** What the ledger changed, the latest of each name. */
export const changedAssumptions = (db: Db): AssumptionRow[] => {
  if (prepared(db, 'SELECT 1 FROM assumption LIMIT 1').get() === undefined) return [];
  return prepared(
    db,
    `SELECT a.name, a.value, a.act_id AS act, a.why FROM current_assumption AS a
        WHERE NOT EXISTS (SELECT 1 FROM current_assumption AS b WHERE b.name = a.name AND b.row > a.row) ORDER BY a.name`,
  ).all() as AssumptionRow[];
};

/** The assumptions in force. */
export function assumptionsOf(db: Db): Assumptions {
  const changed = changedAssumptions(db);
  if (changed.length === 0) return DEFAULTS;
  const values: Record<AssumptionName, number> = { ...DEFAULTS.values };
  const perRank = new Map<string, number>();
  let horizon = DEFAULTS.horizon;
  for (const { name, value } of changed) {
    if (name === 'horizon') horizon = readDate(value).span;
    else if (isAssumption(name)) values[name] = Number(value);
    else perRank.set(name, Number(value));
  }
  return { values, perRank, horizon };
}

const isAssumption = (name: string): name is AssumptionName => Object.hasOwn(DEFINITIONS, name);

/** More would lie outside the days that are reckoned with. */
const MOST_YEARS = 10_000;
const MOST = 1e9;

/**
 * The value as it is recorded, once it is seen to make sense.
 * @throws HeldbyError VALUE
 */
export function checkedAssumption(name: string, value: string): string {
  if (name === 'horizon') {
    const { span } = readDate(value);
    refuseUnreckoned(value, span);
    if (!isClosed(span))
      throw new HeldbyError('VALUE', 'The horizon needs both ends.', 'Write it as 1700/1850.', 'value');
    return value;
  }
  const perRank = PER_RANK.some((each) => name.startsWith(`${each}.`));
  if (!isAssumption(name) && !perRank)
    throw new HeldbyError(
      'VALUE',
      `There is no assumption "${name}".`,
      `See them all: heldby assume${nearest(name)}`,
      'name',
    );
  const number = Number(value);
  if (value.trim() === '' || !Number.isFinite(number) || number < 0)
    throw new HeldbyError(
      'VALUE',
      `"${value}" is no number that ${name} could be.`,
      `Give a number, not negative${isAssumption(name) ? ` (the default is ${DEFINITIONS[name].value} ${DEFINITIONS[name].unit})` : ''}.`,
      'value',
    );
  const unit = isAssumption(name) ? DEFINITIONS[name].unit : '';
  if (unit === 'share' && number > 1)
    throw new HeldbyError(
      'VALUE',
      `${name} is a share, so it lies between 0 and 1.`,
      `Write ${number / 100} for ${number} per cent.`,
      'value',
    );
  const isYears = unit === 'years' || name.startsWith('tenure.mean');
  const most = isYears || name === 'minimum.age' ? MOST_YEARS : MOST;
  if (number > most)
    throw new HeldbyError('VALUE', `${name} is at most ${most}.`, 'Look at the number again.', 'value');
  if (number === 0 && isYears && name !== 'circa' && name !== 'minimum.age')
    throw new HeldbyError('VALUE', `${name} cannot be nothing.`, 'Give a number above 0.', 'value');
  return String(number);
}

function nearest(name: string): string {
  const start = name.split('.')[0] ?? '';
  const near = Object.keys(DEFINITIONS).filter((each) => start !== '' && each.startsWith(start));
  return near.length > 0 ? ` (near it: ${near.join(', ')})` : '';
}
