/** Invented surnames and damaged readings of them, the same on every run. */

/** @see Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003): the 32 bit generator 13, 17, 5. */
export function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}

const STARTS = [
  'Fer',
  'Hol',
  'Mar',
  'Ash',
  'Bur',
  'Car',
  'Dun',
  'Ell',
  'Gar',
  'Ken',
  'Lang',
  'Mil',
  'Nor',
  'Pen',
  'Ros',
  'Sten',
  'Thor',
  'Wal',
  'Wick',
  'Bren',
  'Cl',
  'Phil',
  'Tre',
  'Vau',
  'Ack',
  'Cock',
  'Leigh',
  'Or',
];
const MIDDLES = [
  '',
  '',
  '',
  'ra',
  'li',
  'be',
  'ing',
  'er',
  'en',
  'a',
  'ck',
  'chi',
  'gh',
  'in',
  'o',
  'ri',
  'ne',
  'ma',
  'ste',
  'lo',
  'du',
  've',
];
const ENDS = [
  'nd',
  't',
  'ton',
  'ley',
  'ly',
  'ham',
  'well',
  'man',
  'son',
  'sen',
  'by',
  'wick',
  'den',
  'don',
  'ford',
  'field',
  'worth',
  'stone',
  'ett',
  'itt',
  'els',
  'y',
  'ie',
  'ey',
  'ks',
  'x',
  'rn',
  'm',
  'gh',
  'ph',
  'e',
  'es',
  'er',
  'ers',
];

const pick = <Item>(next: () => number, list: readonly Item[]): Item => {
  const item = list[Math.floor(next() * list.length)];
  if (item === undefined) throw new Error('nothing to pick from');
  return item;
};

function plainSurname(next: () => number): string {
  const length = next() < 0.7 ? 1 : 2;
  let name = pick(next, STARTS);
  for (let count = 0; count < length; count++) name += pick(next, MIDDLES);
  return name + pick(next, ENDS);
}

function surname(next: () => number): string {
  const kind = next();
  const name = plainSurname(next);
  if (kind < 0.04) return `${name}-${plainSurname(next)}`;
  if (kind < 0.05) return `${name} ${plainSurname(next)}`;
  if (kind < 0.08) return `${pick(next, ['Mc', 'Mac', 'M‘', 'Mac '])}${name}`;
  if (kind < 0.1) return `${pick(next, ['de ', 'de la ', 'von ', 'van der ', 'Le ', "d'"])}${name}`;
  if (kind < 0.11) return `${pick(next, ['St. ', 'Saint ', 'St '])}${name}`;
  if (kind < 0.12) return `${pick(next, ["O'", 'Fitz ', 'Fitz'])}${name}`;
  return name;
}

/** That many different surnames. */
export function generatedSurnames(count: number, seed = 7): readonly string[] {
  const next = chance(seed);
  const names = new Set<string>();
  while (names.size < count) names.add(surname(next));
  return [...names];
}

/** The kinds of damage, in turn. */
export const DAMAGES = [
  'misread',
  'unsure',
  'lost',
  'lost end',
  'lost start',
  'lost middle',
  'lost both ends',
  'element',
  'respelt',
  'plain',
] as const;
export type Damage = (typeof DAMAGES)[number];

const LOOK_ALIKES: readonly [string, string][] = [
  ['u', 'n'],
  ['c', 'e'],
  ['l', 't'],
  ['rn', 'm'],
  ['a', 'o'],
  ['n', 'r'],
  ['ck', 'k'],
  ['ey', 'y'],
  ['i', 'y'],
  ['ll', 'l'],
  ['t', 'tt'],
];

/** A reading of the name with that damage, in the signs of a transcription. */
export function damagedReading(name: string, damage: Damage, next: () => number): string {
  const at = Math.floor(next() * (name.length - 1));
  const until = at + 1 + Math.floor(next() * 3);
  switch (damage) {
    case 'misread': {
      const [from, to] = pick(next, LOOK_ALIKES);
      return name.includes(from) ? name.replace(from, to) : `${name.slice(0, at)}${name.slice(at + 1)}`;
    }
    case 'unsure':
      return `${name.slice(0, at)}_${pick(next, ['a', 'e', 'n', 't'])}${name.slice(at + 1)}`;
    case 'lost':
      return `${name.slice(0, at)}[${'.'.repeat(Math.min(until, name.length) - at)}]${name.slice(until)}`;
    case 'lost end':
      return `${name.slice(0, Math.max(2, at))}[---]`;
    case 'lost start':
      return `[---]${name.slice(Math.min(at + 1, name.length - 3))}`;
    case 'lost middle':
      return `${name.slice(0, Math.max(1, at))}[---]${name.slice(until)}`;
    case 'lost both ends':
      return `[---]${name.slice(1, -1)}[---]`;
    case 'element':
      return name.split(/[ -]/).at(-1) ?? name;
    case 'respelt':
      return name
        .replace(/^(?:Mac|Mc) ?/, 'M‘')
        .replace(/^Saint/, 'St')
        .replace(/^(?:de la|von|van der) /, '')
        .replace(/[ -]/g, '');
    case 'plain':
      return name;
  }
}
