// A synthetic service in CSV: seeded, so that everybody measures the same. Ranks with promotions, corps, printed dates
// of rank, variant spellings, 1 % omissions; surnames after Zipf. Invented throughout.
import { closeSync, openSync, writeSync } from 'node:fs';

export function random(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const STARTS = [
  'Bar',
  'Ber',
  'Cal',
  'Car',
  'Dal',
  'Dun',
  'El',
  'Fair',
  'Fer',
  'Gar',
  'Gil',
  'Hal',
  'Har',
  'Hol',
  'In',
  'Ken',
  'Kil',
  'Lan',
  'Mac',
  'Mal',
  'Mar',
  'Mer',
  'Nor',
  'Old',
  'Pen',
  'Pol',
  'Quar',
  'Ra',
  'Red',
  'Rom',
  'San',
  'Sel',
  'Stan',
  'Tal',
  'Tre',
  'Ul',
  'Van',
  'Wal',
  'Wen',
  'Yar',
];
const MIDDLES = [
  '',
  '',
  'a',
  'be',
  'co',
  'den',
  'di',
  'el',
  'er',
  'ga',
  'i',
  'ing',
  'la',
  'le',
  'lo',
  'min',
  'na',
  'o',
  'per',
  'ra',
  'ri',
  'ro',
  'sen',
  'ta',
  'ti',
  'ver',
  'wi',
];
const ENDS = [
  'bridge',
  'by',
  'combe',
  'cott',
  'croft',
  'den',
  'dale',
  'er',
  'field',
  'ford',
  'gate',
  'ham',
  'hurst',
  'ington',
  'kins',
  'land',
  'ley',
  'low',
  'man',
  'mere',
  'more',
  'ness',
  'rand',
  'ridge',
  'sett',
  'shaw',
  'son',
  'stead',
  'ston',
  'thorpe',
  'ton',
  'wall',
  'well',
  'wick',
  'worth',
];
const FORENAMES = [
  'Adam',
  'Charles',
  'Daniel',
  'Edward',
  'Francis',
  'George',
  'Henry',
  'Hugh',
  'James',
  'John',
  'Julian',
  'Luke',
  'Mark',
  'Peter',
  'Ralph',
  'Richard',
  'Robert',
  'Samuel',
  'Thomas',
  'Walter',
  'William',
];
const RANKS = ['Ensign', 'Lieut.', 'Captain', 'Major', 'Lieut.-Col.', 'Colonel', 'Major-Gen.', 'Lieut.-Gen.'];
const MONTHS = ['Jan.', 'Feb.', 'March', 'April', 'May', 'June', 'July', 'Aug.', 'Sept.', 'Oct.', 'Nov.', 'Dec.'];
const CORPS = Array.from(
  { length: 150 },
  (_, i) =>
    `${i + 1}${['th', 'st', 'nd', 'rd'][(i + 1) % 100 > 10 && (i + 1) % 100 < 14 ? 0 : (i + 1) % 10] ?? 'th'} ${['Fencibles', 'Coast Guides', 'Harbour Artillery'][i % 3]}`,
);

/** Writes `wanted` entries, about, to `file`; returns how many there are. */
export function generate(file, wanted, seed = 7) {
  const next = random(seed);
  const pick = (list) => list[Math.floor(next() * list.length)];
  const surnames = STARTS.flatMap((a) => MIDDLES.flatMap((b) => ENDS.map((c) => a + b + c))).sort(() => next() - 0.5);
  const weights = surnames.map((_, i) => (i + 1) ** -0.6);
  const sums = [];
  weights.reduce((sum, w, i) => (sums[i] = sum + w), 0);
  const surname = () => {
    const x = next() * sums[sums.length - 1];
    let low = 0;
    for (let high = sums.length - 1; low < high; ) {
      const middle = (low + high) >> 1;
      if (sums[middle] < x) low = middle + 1;
      else high = middle;
    }
    return surnames[low];
  };
  const years = new Map();
  let person = 0;
  let entries = 0;
  while (entries < wanted) {
    person += 1;
    const name = surname();
    const forenames = [pick(FORENAMES), ...(next() < 0.6 ? [pick(FORENAMES)] : [])];
    let year = 1760 + Math.floor(next() * 150);
    const until = Math.min(1910, year + 1 + Math.floor(-Math.log(1 - next()) * 18));
    let rank = next() < 0.8 ? 0 : 1;
    let corps = pick(CORPS);
    let dated = `${1 + Math.floor(next() * 28)} ${pick(MONTHS)} ${year - 1}`;
    for (; year < until && entries < wanted; year += 1) {
      if (next() < 0.13 && rank < RANKS.length - 1) {
        rank += 1;
        dated = `${1 + Math.floor(next() * 28)} ${pick(MONTHS)} ${year - 1}`;
      } else if (next() < 0.03) corps = pick(CORPS);
      if (next() < 0.01) continue;
      const printed = `${forenames.map((f) => (next() < 0.02 ? `${f[0]}.` : f)).join(' ')} ${next() < 0.004 ? name.replace('e', 'a') : name}`;
      if (!years.has(year)) years.set(year, []);
      years.get(year).push([name, `G${person}`, printed, RANKS[rank], corps, dated]);
      entries += 1;
    }
  }
  const out = openSync(file, 'w');
  writeSync(out, 'series,edition,as_at,person,name,rank,corps,dated,page\n');
  let text = '';
  for (const year of [...years.keys()].sort((a, b) => a - b)) {
    const rows = years.get(year).sort((a, b) => (a[0] < b[0] ? -1 : a[0] > b[0] ? 1 : 0));
    for (const [line, [, ...cells]] of rows.entries()) {
      text += `Coast Establishment List,${year},${year}-01-01,${cells.join(',')},${1 + Math.floor(line / 60)}\n`;
      if (text.length > 1 << 20) {
        writeSync(out, text);
        text = '';
      }
    }
  }
  writeSync(out, text);
  closeSync(out);
  return entries;
}

if (process.argv[1]?.endsWith('generate.mjs') && process.argv[2])
  console.log(generate(process.argv[2], Number(process.argv[3] ?? 1e6)), 'entries');
