/** A hundred people with a fault planted in nine of ten, each of which `conflicts` must lay its finger on. */
import { expect, test } from 'vitest';
import { conflictsOf } from '../../src/inquiry/conflicts.ts';
import { seededChance } from '../careers/linkage/generated-service.ts';
import { type Line, ledgerOf, removeLedgersAfterEach } from './made-up-ledger.ts';

const KINDS = [
  'nothing',
  'a misprinted date',
  'a slid line',
  'a wrong rank',
  'a dead man listed on',
  'a child older than the parent',
  'an omission',
  'a namesake',
  'a notice of another date',
  'too young',
] as const;

const RANKS = ['Ensign', 'Lieut.', 'Captain', 'Major'];
const CORPS = ['1st Fencibles', '2nd Fencibles', '3rd Fencibles', 'Harbour Artillery', 'Beacon Corps'];
const BEGINNINGS = 'Bar Cal Dun Fair Gil Hol Ken Lan Mer Nor'.split(' ');
const ENDINGS = 'bury combe dale ford ham ley more shaw stead wick'.split(' ');

/** The key of what is wrong, as `conflicts` should tell it. */
type Planted = { readonly person: string; readonly kind: (typeof KINDS)[number]; readonly faults: readonly string[] };

function planted(): { readonly lines: Line[]; readonly plan: Planted[] } {
  const chance = seededChance(42);
  const below = (n: number): number => Math.floor(chance() * n);
  const lines: Line[] = [
    { type: 'series', key: 'cs', name: 'Annual List of the Coast Survey', service: 'army', lagDays: 60 },
    ...Array.from(
      { length: 31 },
      (_, at): Line => ({
        type: 'edition',
        key: `cs-${1820 + at}`,
        series: 'cs',
        label: `${1820 + at}`,
        asAt: `${1820 + at}-01-01`,
      }),
    ),
  ];
  const plan: Planted[] = [];
  for (let number = 0; number < 100; number++) {
    const kind = KINDS[number % 10] ?? 'nothing';
    const key = `x${number}`;
    const name = `John ${BEGINNINGS[number % 10]}${ENDINGS[Math.floor(number / 10)]}`;
    const first = 1820 + below(8);
    const years = [first, first + 3 + below(4), first + 8 + below(4), first + 14 + below(3)];
    const dates = years.map((year) => `${1 + below(28)} ${['Feb.', 'May', 'Aug.', 'Nov.'][below(4)]} ${year - 1}`);
    const place = below(5);
    const last = first + 20 + below(3);
    const rows = Array.from({ length: last - first + 1 }, (_, at) => {
      const rank = years.filter((year) => year <= first + at).length - 1;
      const edition = `cs-${first + at}`;
      const printed = { rank: RANKS[rank], corps: CORPS[place], dated: dates[rank], page: `${10 + (number % 60)}` };
      return { type: 'entry' as const, key: `${key}-${first + at}`, edition, person: key, name, ...printed };
    });
    let [born, died] = [first - 18, `${last + 1}-06-01`];
    const more: Line[] = [];
    const faults: string[] = [];
    const middle = rows[6];
    if (middle === undefined) continue;
    switch (kind) {
      case 'a misprinted date':
        middle.dated = `${middle.dated?.slice(0, -4)}${first - 7}`;
        faults.push(middle.key);
        break;
      case 'a slid line':
        Object.assign(middle, { rank: 'Lieut.-Col.', corps: CORPS[(place + 1) % 5], dated: '3 March 1815' });
        faults.push(middle.key);
        break;
      case 'a wrong rank':
        middle.rank = 'Major';
        faults.push(middle.key);
        break;
      case 'a dead man listed on':
        died = `${last - 3}-06-01`;
        faults.push(...rows.slice(-3).map((row) => row.key));
        break;
      case 'a child older than the parent':
        more.push({ type: 'person', key: `${key}p`, name: name.replace('John', 'Adam'), born: `${first - 20}` });
        more.push({ type: 'kin', key: `${key}k`, person: key, relation: 'parent', relative: `${key}p` });
        faults.push(`${key}k`);
        break;
      case 'an omission': {
        const [gone] = rows.splice(16, 1);
        more.push({ type: 'search', key: `${key}n`, edition: gone?.edition, person: key, outcome: 'not found' });
        faults.push(`${key}n`);
        break;
      }
      case 'a namesake':
        for (let year = first + 9; year < first + 12; year++) {
          const row = { type: 'entry' as const, key: `${key}-b${year}`, edition: `cs-${year}`, person: key, name };
          rows.push({
            ...row,
            rank: 'Ensign',
            corps: CORPS[(place + 2) % 5],
            dated: `1 Aug. ${first + 7}`,
            page: '99',
          });
          faults.push(row.key);
        }
        break;
      case 'a notice of another date': {
        const year = (years[2] ?? 0) + 3;
        const told = { event: 'promoted', rank: 'Captain', corps: CORPS[place], source: `Gazette, 1 March ${year}` };
        more.push({ type: 'notice', key: `${key}n`, person: key, date: `${year}-03-01`, ...told });
        faults.push(`${key}n`);
        break;
      }
      case 'too young':
        born = first - 6;
        faults.push(key);
        break;
      default:
    }
    lines.push({ type: 'person', key, name, born: `${born}`, died }, ...rows, ...more);
    plan.push({ person: key, kind, faults });
  }
  return { lines, plan };
}

removeLedgersAfterEach();

test('each planted fault is what gives way, and nobody else is accused', { timeout: 240_000 }, () => {
  const { lines, plan } = planted();
  const db = ledgerOf(...lines);
  expect(plan).toHaveLength(100);
  const wrong: string[] = [];
  for (const { person, kind, faults } of plan) {
    const { conflicts, twiceListed } = conflictsOf(db, person);
    expect([person, twiceListed.length]).toEqual([person, kind === 'a namesake' ? 3 : 0]);
    const aside = new Set(conflicts.flatMap(({ setAside }) => setAside.map(({ id, key }) => key ?? id)));
    const told = [...aside].sort().join(' ');
    if (told !== [...faults].sort().join(' ')) wrong.push(`${person}, ${kind}: ${told} for ${faults.join(' ')}`);
    for (const { members, frees } of conflicts) {
      expect(members.length).toBeGreaterThan(0);
      expect(frees).toBeGreaterThan(0);
      for (const { claim } of members) expect(claim).toMatch(/^[^_{}]+$/);
    }
  }
  expect(wrong).toEqual([]);
});
