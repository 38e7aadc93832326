const VALUES: Readonly<Record<string, number>> = { i: 1, j: 1, v: 5, x: 10, l: 50, c: 100, d: 500, m: 1000 };

/**
 * The value of a Roman numeral in lower case, 1 to 4999; nothing for other words. A last `j` counts as `i`, and four
 * alike (`viiii`, `MDCCCC`) are as good as five less one, for both were written; so were `cɔ` turned and `iɔ` for M and D.
 */
export function romanValue(given: string): number | undefined {
  const word = given.replaceAll('ciɔ', 'm').replaceAll('iɔ', 'd');
  if (!/^m{0,4}(?:cm|cd|d?c{0,4})(?:xc|xl|l?x{0,4})(?:ix|iv|v?i{0,3}[ij]?)$/.test(word) || word === '')
    return undefined;
  let total = 0;
  for (let i = 0; i < word.length; i++) {
    const value = VALUES[word[i] ?? ''] ?? 0;
    total += value < (VALUES[word[i + 1] ?? ''] ?? 0) ? -value : value;
  }
  return total;
}
